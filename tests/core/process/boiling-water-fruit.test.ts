import { describe, expect, it } from 'vitest'
import { boilingWaterFruit } from '../../../src/core/process/tables/boiling-water-fruit.ts'
import { boilingWaterJuices } from '../../../src/core/process/tables/boiling-water-juices.ts'
import { processTable } from '../../../src/core/process/tables/index.ts'
import {
  expectAsPrinted,
  expectSound,
  namesOf,
  namesOfPublished,
  type Published,
} from './boiling-water-fruit-published.ts'

const pieces = 'halved or sliced'

/** USDA Complete Guide to Home Canning, AIB 539, revised 2015, at the page named in each line. */
const usda2015: readonly Published[] = [
  ['apple juice', 'juice', 'hot', 'pints or quarts', [5, 10, 15], 0.25, '2-6'],
  ['apple juice', 'juice', 'hot', 'half-gallons', [10, 15, 20], 0.25, '2-6'],
  ['apples', 'sliced', 'hot', 'pints or quarts', [20, 25, 30, 35], 0.5, '2-7'],
  ['applesauce', 'sauce', 'hot', 'pints', [15, 20, 20, 25], 0.5, '2-7'],
  ['applesauce', 'sauce', 'hot', 'quarts', [20, 25, 30, 35], 0.5, '2-8'],
  ['berries', 'whole', 'hot', 'pints or quarts', [15, 20, 20, 25], 0.5, '2-10'],
  ['berries', 'whole', 'raw', 'pints', [15, 20, 20, 25], 0.5, '2-10'],
  ['berries', 'whole', 'raw', 'quarts', [20, 25, 30, 35], 0.5, '2-10'],
  ['cherries', 'whole, sweet or sour', 'hot', 'pints', [15, 20, 20, 25], 0.5, '2-12'],
  ['cherries', 'whole, sweet or sour', 'hot', 'quarts', [20, 25, 30, 35], 0.5, '2-12'],
  ['cherries', 'whole, sweet or sour', 'raw', 'pints or quarts', [25, 30, 35, 40], 0.5, '2-13'],
  ['figs', 'whole, acidified', 'hot', 'pints', [45, 50, 55, 60], 0.5, '2-14'],
  ['figs', 'whole, acidified', 'hot', 'quarts', [50, 55, 60, 65], 0.5, '2-14'],
  ['fruit purees', 'puree', 'hot', 'pints or quarts', [15, 20, 25], 0.25, '2-14'],
  ['grapes', 'whole', 'hot', 'pints or quarts', [10, 15, 15, 20], 1, '2-16'],
  ['grapes', 'whole', 'raw', 'pints', [15, 20, 20, 25], 1, '2-16'],
  ['grapes', 'whole', 'raw', 'quarts', [20, 25, 30, 35], 1, '2-16'],
  [
    'mango sauce',
    'sauce, slightly under-ripe to just-ripe mango with lemon juice',
    'hot',
    'half-pints',
    [15, 20, 25],
    0.25,
    '2-17',
  ],
  ['peaches', pieces, 'hot', 'pints', [20, 25, 30, 35], 0.5, '2-19'],
  ['peaches', pieces, 'hot', 'quarts', [25, 30, 35, 40], 0.5, '2-19'],
  ['peaches', pieces, 'raw', 'pints', [25, 30, 35, 40], 0.5, '2-19'],
  ['peaches', pieces, 'raw', 'quarts', [30, 35, 40, 45], 0.5, '2-19'],
  ['pears', 'halved', 'hot', 'pints', [20, 25, 30, 35], 0.5, '2-20'],
  ['pears', 'halved', 'hot', 'quarts', [25, 30, 35, 40], 0.5, '2-20'],
  ['Asian pears', 'halved or sliced, acidified', 'hot', 'pints', [20, 25, 30, 35], 0.5, '2-20'],
  ['Asian pears', 'halved or sliced, acidified', 'hot', 'quarts', [25, 30, 35, 40], 0.5, '2-20'],
  ['plums', 'halved or whole', 'hot', 'pints', [20, 25, 30, 35], 0.5, '2-22'],
  ['plums', 'halved or whole', 'hot', 'quarts', [25, 30, 35, 40], 0.5, '2-22'],
  ['plums', 'halved or whole', 'raw', 'pints', [20, 25, 30, 35], 0.5, '2-22'],
  ['plums', 'halved or whole', 'raw', 'quarts', [25, 30, 35, 40], 0.5, '2-22'],
  ['fruit-based baby food', 'puree or chunk', 'hot', 'pints', [20, 25, 30], null, '1-31'],
]

/** The guide of 1994 as reprinted by Michigan State University Extension (numbers of its sheets) and in recipe exchanges. */
const usda1994: readonly Published[] = [
  ['apricots', pieces, 'hot', 'pints', [20, 25, 30, 35], 0.5, '01600770'],
  ['apricots', pieces, 'hot', 'quarts', [25, 30, 35, 40], 0.5, '01600770'],
  ['apricots', pieces, 'raw', 'pints', [25, 30, 35, 40], 0.5, '01600770'],
  ['apricots', pieces, 'raw', 'quarts', [30, 35, 40, 45], 0.5, '01600770'],
  ['berry syrup', 'syrup', 'hot', 'pints', [10, 15, 20], 0.5, 'recipesource.com, berry-syrup1'],
  ['grapefruit and orange sections', 'sections', 'raw', 'pints or quarts', [10, 15, 20], 0.5, '01600449'],
  ['grape juice', 'juice', 'hot', 'pints or quarts', [5, 10, 15], 0.25, '01600323'],
  ['grape juice', 'juice', 'hot', 'half-gallons', [10, 15, 20], 0.25, '01600323'],
  ['mixed fruit cocktail', 'cubes', 'raw', 'pints', [20, 25, 30, 35], 0.5, '01600840'],
  ['nectarines', pieces, 'hot', 'pints', [20, 25, 30, 35], 0.5, 'seasonalandsimple.info, 866'],
  ['nectarines', pieces, 'hot', 'quarts', [25, 30, 35, 40], 0.5, 'seasonalandsimple.info, 866'],
  ['nectarines', pieces, 'raw', 'pints', [25, 30, 35, 40], 0.5, 'seasonalandsimple.info, 866'],
  ['nectarines', pieces, 'raw', 'quarts', [30, 35, 40, 45], 0.5, 'seasonalandsimple.info, 866'],
  ['pineapple', 'sliced or cubed', 'hot', 'pints', [15, 20, 20, 25], 0.5, 'recipesource.com, pineapple1'],
  ['pineapple', 'sliced or cubed', 'hot', 'quarts', [20, 25, 30, 35], 0.5, 'recipesource.com, pineapple1'],
  ['rhubarb', 'stewed', 'hot', 'pints or quarts', [15, 20, 25], 0.5, '01600253'],
  ['zucchini-pineapple', 'cubed or shredded', 'hot', 'pints', [15, 20, 25], 0.5, '01600848'],
]

/** So Easy to Preserve, canning fruit: from memory, not read again. */
const soEasy: readonly Published[] = [
  ['cranberries', 'whole in heavy syrup', 'hot', 'pints or quarts', [15, 20, 25], 0.5, 'memory'],
  ['strawberries', 'whole', 'hot', 'pints', [10, 15, 20], 0.5, 'memory'],
  ['strawberries', 'whole', 'hot', 'quarts', [15, 20, 25], 0.5, 'memory'],
]

const published = [...usda2015, ...usda1994, ...soEasy]
const ours = [...boilingWaterFruit, ...boilingWaterJuices]
const every = (product: string) =>
  processTable().filter((row) => row.method === 'boiling-water' && row.product === product)

describe('fruit and juices in a boiling-water canner', () => {
  it.each(published)('%s, %s, %s, %s as printed', (...line) => {
    expectAsPrinted(line)
  })

  it('has no row that is not restated here', () => {
    expect(namesOf(ours)).toEqual(namesOfPublished(published))
  })

  it('never asks less of a bigger jar or a higher place, and names a source, a headspace and sterile jars rightly', () => {
    expectSound(ours)
  })

  it('asks for bottled acid in figs and Asian pears, by the jar (2015 guide p. 2-14 and 2-20)', () => {
    const lemon = { acid: 'bottled-lemon-juice', perPint: 1, perQuart: 2 }
    const citric = { acid: 'citric-acid', perPint: 0.25, perQuart: 0.5 }
    expect(every('figs').map((row) => row.acid)).toEqual([
      [lemon, citric],
      [lemon, citric],
    ])
    expect(every('Asian pears').map((row) => row.acid)).toEqual([[lemon], [lemon]])
    for (const row of [...every('figs'), ...every('Asian pears')]) expect(row.acidity).toBe('acidified')
  })

  it.each(['apples', 'pears', 'Asian pears', 'figs', 'pineapple', 'rhubarb'])('has no raw pack of %s', (product) => {
    expect(every(product).map((row) => row.pack)).not.toContain('raw')
  })

  it('says which berries are for a hot pack only, and that elderberries are out (2015 guide p. 2-10; Maine 2020)', () => {
    const [raw] = every('berries').filter((row) => row.pack === 'raw')
    expect(raw?.notes.join(' ')).toMatch(/Blueberries, currants, gooseberries and huckleberries .*hot pack only/)
    for (const row of every('berries')) {
      expect(row.notes.join(' ')).toMatch(/Not for elderberries/)
      expect(row.notes.join(' ')).toMatch(/Not for strawberries/)
    }
  })

  it.each(['peaches', 'nectarines', 'mixed fruit cocktail'])('warns of white-fleshed fruit in %s', (product) => {
    for (const row of every(product)) expect(row.notes.join(' ')).toMatch(/White-fleshed .*freeze/)
  })

  it('holds for the crop as such, save what is a recipe', () => {
    const recipes = ours.filter((row) => row.asPublished).map((row) => row.product)
    expect(recipes).toEqual(['mixed fruit cocktail', 'zucchini-pineapple', 'berry syrup', 'mango sauce'])
  })

  it('does not claim to have read again what it has from memory', () => {
    const recalled = ours.filter((row) => row.source.confidence === 'memory').map((row) => row.product)
    expect([...new Set(recalled)]).toEqual(['cranberries', 'strawberries'])
  })
})
