import { describe, expect, it } from 'vitest'
import { dialAcid, inWords, type Line, linesInWords, rowsOf, weightedAcid } from './pressure-lines.ts'

// USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-31 (dial gauge) and p. 2-32 (weighted gauge): the two tables
// have the same times.
const guide2: readonly Line[] = [
  ['applesauce', 'sauce', 'hot', 'pints', 8],
  ['applesauce', 'sauce', 'hot', 'quarts', 10],
  ['apples', 'sliced', 'hot', 'pints or quarts', 8],
  ['berries', 'whole', 'hot', 'pints or quarts', 8],
  ['berries', 'whole', 'raw', 'pints', 8],
  ['berries', 'whole', 'raw', 'quarts', 10],
  ['cherries', 'whole, sweet or sour', 'hot', 'pints', 8],
  ['cherries', 'whole, sweet or sour', 'hot', 'quarts', 10],
  ['cherries', 'whole, sweet or sour', 'raw', 'pints or quarts', 10],
  ['fruit purees', 'puree', 'hot', 'pints or quarts', 8],
  ['peaches', 'halved or sliced', 'hot', 'pints or quarts', 10],
  ['peaches', 'halved or sliced', 'raw', 'pints or quarts', 10],
  ['pears', 'halved', 'hot', 'pints or quarts', 10],
  ['plums', 'halved or whole', 'hot', 'pints or quarts', 10],
  ['plums', 'halved or whole', 'raw', 'pints or quarts', 10],
]

// The same two tables in a reprint of the edition of 1994; Minnesota Extension, Pressure canner process times, 2010.
const guide2Reprint: readonly Line[] = [
  ['apricots', 'halved or sliced', 'hot', 'pints or quarts', 10],
  ['apricots', 'halved or sliced', 'raw', 'pints or quarts', 10],
  ['grapefruit and orange sections', 'sections', 'hot', 'pints or quarts', 8],
  ['grapefruit and orange sections', 'sections', 'raw', 'pints', 8],
  ['grapefruit and orange sections', 'sections', 'raw', 'quarts', 10],
  ['nectarines', 'halved or sliced', 'hot', 'pints or quarts', 10],
  ['nectarines', 'halved or sliced', 'raw', 'pints or quarts', 10],
  ['rhubarb', 'stewed', 'hot', 'pints or quarts', 8],
]

const lines = [...guide2, ...guide2Reprint]
const rows = rowsOf(lines.map(([product]) => product))

describe('fruit under pressure', () => {
  it('is the two published tables, no line more and none less', () => {
    expect(rows.flatMap(inWords).sort()).toEqual(linesInWords(lines, [dialAcid, weightedAcid]).sort())
  })

  it('leaves half an inch of headspace and adds no acid (Guide 2, each product)', () => {
    expect(new Set(rows.map(({ headspaceIn }) => headspaceIn))).toEqual(new Set([0.5]))
    expect(rows.filter(({ acidity, acid }) => acidity !== 'acid' || acid.length > 0)).toEqual([])
  })

  it('has no raw pack where the guide prints none: apples, pears, purees, rhubarb', () => {
    const raw = rows.filter(({ pack }) => pack === 'raw').map(({ product }) => product)
    for (const product of ['apples', 'applesauce', 'pears', 'fruit purees', 'rhubarb'])
      expect(raw).not.toContain(product)
  })

  it('names the page of each table', () => {
    const products = guide2.map(([product]) => product)
    const pages = rows
      .filter(({ product }) => products.includes(product))
      .filter(({ source }) => source.document === 'usda-2015')
      .map(({ method, source }) => `${method} ${source.section}`)
    expect(new Set(pages)).toEqual(new Set(['dial-gauge Guide 2 p. 2-31', 'weighted-gauge Guide 2 p. 2-32']))
  })
})
