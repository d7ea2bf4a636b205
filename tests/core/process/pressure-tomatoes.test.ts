import { describe, expect, it } from 'vitest'
import {
  dialAcid,
  dialLowAcid,
  inWords,
  type Line,
  linesInWords,
  rowsOf,
  weightedAcid,
  weightedFifteen,
  weightedLowAcid,
} from './pressure-lines.ts'

const raw = ['tomatoes, whole or halved', 'raw, no added liquid', 'raw', 'pints or quarts'] as const
const inWater = ['tomatoes, whole or halved', 'packed in water'] as const
const inJuice = ['tomatoes, whole or halved', 'packed in tomato juice'] as const

// USDA Complete Guide to Home Canning 2015, Guide 3: juice p. 3-6, crushed p. 3-8, sauce p. 3-9, in water p. 3-10, raw
// p. 3-12. Juice blend and tomatoes in juice: Michigan State, Preserving Food Safely 01600833 and 01600828.
const lowest: readonly Line[] = [
  ['tomato juice', 'juice', 'hot', 'pints or quarts', 20],
  ['tomato and vegetable juice blend', 'juice', 'hot', 'pints or quarts', 20],
  ['tomatoes, crushed', 'no added liquid', 'hot', 'pints or quarts', 20],
  ['tomato sauce, standard', 'thin or thick', 'hot', 'pints or quarts', 20],
  [...inWater, 'hot', 'pints or quarts', 15],
  [...inWater, 'raw', 'pints or quarts', 15],
  [...inJuice, 'hot', 'pints or quarts', 40],
  [...inJuice, 'raw', 'pints or quarts', 40],
  [...raw, 40],
]
const middle: readonly Line[] = [
  ['tomato juice', 'juice', 'hot', 'pints or quarts', 15],
  ['tomato and vegetable juice blend', 'juice', 'hot', 'pints or quarts', 15],
  ['tomatoes, crushed', 'no added liquid', 'hot', 'pints or quarts', 15],
  ['tomato sauce, standard', 'thin or thick', 'hot', 'pints or quarts', 15],
  [...inWater, 'hot', 'pints or quarts', 10],
  [...inWater, 'raw', 'pints or quarts', 10],
  [...inJuice, 'hot', 'pints or quarts', 25],
  [...inJuice, 'raw', 'pints or quarts', 25],
  [...raw, 25],
]
const fifteen: readonly Line[] = [
  ['tomato juice', 'juice', 'hot', 'pints or quarts', 10],
  ['tomato and vegetable juice blend', 'juice', 'hot', 'pints or quarts', 10],
  ['tomatoes, crushed', 'no added liquid', 'hot', 'pints or quarts', 10],
  ['tomato sauce, standard', 'thin or thick', 'hot', 'pints or quarts', 10],
  [...inWater, 'hot', 'pints or quarts', 1],
  [...inWater, 'raw', 'pints or quarts', 1],
  [...inJuice, 'hot', 'pints or quarts', 15],
  [...inJuice, 'raw', 'pints or quarts', 15],
  [...raw, 15],
]

// Guide 3 p. 3-14 (without meat); Preserving Food Safely 01600878 (with meat), 01600879 (Mexican); the guide's own text
// in a reprint (with okra or zucchini).
const mixed: readonly Line[] = [
  ['spaghetti sauce without meat', '', 'hot', 'pints', 20],
  ['spaghetti sauce without meat', '', 'hot', 'quarts', 25],
  ['spaghetti sauce with meat', '', 'hot', 'pints', 60],
  ['spaghetti sauce with meat', '', 'hot', 'quarts', 70],
  ['Mexican tomato sauce', '', 'hot', 'pints', 20],
  ['Mexican tomato sauce', '', 'hot', 'quarts', 25],
  ['tomatoes with okra or zucchini', '', 'hot', 'pints', 30],
  ['tomatoes with okra or zucchini', '', 'hot', 'quarts', 35],
]

const plainRows = rowsOf(lowest.map(([product]) => product))
const mixedRows = rowsOf(mixed.map(([product]) => product))

describe('tomatoes under pressure', () => {
  it('have the published lines at each pressure, no line more and none less', () => {
    const published = [
      ...linesInWords(lowest, [dialAcid, weightedAcid]),
      ...linesInWords(middle, [dialLowAcid, weightedLowAcid]),
      ...linesInWords(fifteen, [weightedFifteen]),
    ]
    expect(plainRows.flatMap(inWords).sort()).toEqual(published.sort())
  })

  it('have the published lines where other vegetables or meat are in them', () => {
    expect(mixedRows.flatMap(inWords).sort()).toEqual(linesInWords(mixed, [dialLowAcid, weightedLowAcid]).sort())
  })

  it('stop at 1,000 ft with a 15-pound weight from the start', () => {
    const strong = plainRows.filter(({ bands }) => bands[0]?.psi === 15)
    expect(strong).toHaveLength(9)
    for (const { bands } of strong) expect(bands.map(({ toFt }) => toFt)).toEqual([1000])
  })

  it('ask for acid in every jar: Guide 3 p. 3-5', () => {
    for (const row of plainRows) {
      expect(row.acidity, row.id).toBe('acidified')
      expect(
        row.acid.map(({ acid, perPint, perQuart }) => [acid, perPint, perQuart]),
        row.id,
      ).toEqual([
        ['bottled-lemon-juice', 1, 2],
        ['citric-acid', 0.25, 0.5],
        ['vinegar-5', 2, 4],
      ])
    }
  })

  it('with much else in them are low-acid and hold for the published recipe only', () => {
    for (const { id, acidity, asPublished, headspaceIn } of mixedRows)
      expect({ acidity, asPublished, headspaceIn }, id).toEqual({
        acidity: 'low-acid',
        asPublished: true,
        headspaceIn: 1,
      })
  })

  it('leave half an inch, sauce a quarter (Guide 3 p. 3-9)', () => {
    for (const { id, product, headspaceIn } of plainRows)
      expect(headspaceIn, id).toBe(product === 'tomato sauce, standard' ? 0.25 : 0.5)
  })

  it('say which time an older printing has for tomatoes in water', () => {
    const [row] = plainRows.filter(({ form }) => form === 'packed in water')
    expect(row?.notes.join(' ')).toMatch(/20 minutes for hot pints/)
  })
})
