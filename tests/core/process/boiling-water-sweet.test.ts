import { describe, expect, it } from 'vitest'
import { boilingWaterFillings } from '../../../src/core/process/tables/boiling-water-fillings.ts'
import { boilingWaterFruitPickles } from '../../../src/core/process/tables/boiling-water-fruit-pickles.ts'
import { boilingWaterSweetSpreads } from '../../../src/core/process/tables/boiling-water-sweet.ts'
import {
  expectAsPrinted,
  expectSound,
  namesOf,
  namesOfPublished,
  type Published,
  rowOf,
} from './boiling-water-fruit-published.ts'

const hard = 'salsa from hard unripe'

/** USDA Complete Guide to Home Canning, AIB 539, revised 2015, at the page named or in the copy named. */
const usda2015: readonly Published[] = [
  ['apple butter', 'puree with sugar, cider and vinegar', 'hot', 'pints', [5, 10, 15], 0.25, '2-6'],
  ['apple butter', 'puree with sugar, cider and vinegar', 'hot', 'quarts', [10, 15, 20], 0.25, '2-6'],
  ['cranberry orange chutney', 'chutney', 'hot', 'half-pints', [10, 15, 20], 0.5, '2-13'],
  ['mango chutney', 'chutney from hard unripe mango', 'hot', 'pints', [10, 15, 20], 0.5, 'meatsandsausages.com'],
  ['spicy cranberry salsa', 'salsa', 'hot', 'pints', [10, 15, 20], 0.25, '2-23'],
  ['mango salsa', `${hard} mango`, 'hot', 'half-pints', [10, 15, 20], 0.5, '2-24'],
  ['apple pie filling', 'slices in modified-starch sauce', 'hot', 'pints or quarts', [25, 30, 35, 40], 1, '2-26'],
  ['blueberry pie filling', 'berries in modified-starch sauce', 'hot', 'pints or quarts', [30, 35, 40, 45], 1, '2-27'],
  ['peach pie filling', 'slices in modified-starch sauce', 'hot', 'pints or quarts', [30, 35, 40, 45], 1, '2-30'],
  ['jelly, no added pectin', 'jelly', 'hot', 'pints', [5, 10, 15], 0.25, '7-6'],
  ['jam, no added pectin', 'jam', 'hot', 'pints', [5, 10, 15], 0.25, '7-7'],
  ['jam or jelly, added pectin', 'jam, jelly, orange marmalade', 'hot', 'pints', [5, 10, 15], 0.25, '7-8'],
  ['pear-apple jam', 'jam', 'hot', 'pints', [5, 10, 15], 0.25, '7-8'],
  ['grape-plum jelly', 'jelly', 'hot', 'pints', [5, 10, 15], 0.25, '7-10'],
  ['golden pepper jelly', 'jelly', 'hot', 'half-pints', [5, 10, 15], 0.25, 'meatsandsausages.com'],
  [
    'peach-pineapple spread',
    'reduced-sugar spread',
    'hot',
    'half-pints',
    [15, 20, 20, 25],
    0.25,
    'meatsandsausages.com',
  ],
  [
    'peach-pineapple spread',
    'reduced-sugar spread',
    'hot',
    'pints, half-pints apart',
    [20, 25, 30, 35],
    0.25,
    'meatsandsausages.com',
  ],
]

/** The same guide, from memory: not read again. */
const usdaRecalled: readonly Published[] = [
  ['cantaloupe pickles', 'cubes', 'hot', 'pints', [15, 20, 25], 0.5, '2-11'],
  ['cantaloupe pickles, no sugar added', 'cubes', 'hot', 'pints', [15, 20, 25], 0.5, '2-12'],
  ['peach salsa', `${hard} peaches`, 'hot', 'half-pints', [15, 20, 25], 0.5, '2-24'],
  ['peach apple salsa', `${hard} peaches, apples and tomatoes`, 'hot', 'pints', [15, 20, 25], 0.5, '2-25'],
]

/** The guide of 1994 as reprinted by Michigan State University Extension (numbers of its sheets) and Oklahoma State. */
const usda1994: readonly Published[] = [
  ['spiced apple rings', 'rings', 'hot', 'pints', [10, 15, 20], 0.5, '01600836'],
  ['spiced crab apples', 'whole', 'hot', 'pints', [20, 25, 30, 35], 0.5, '01600902'],
  [
    'cherry pie filling',
    'cherries in modified-starch sauce',
    'hot',
    'pints or quarts',
    [30, 35, 40, 45],
    1,
    '01600844',
  ],
  [
    'green tomato pie filling',
    'green tomatoes, apples and raisins, chopped',
    'hot',
    'quarts',
    [15, 20, 25],
    0.5,
    '01600846',
  ],
  ['strawberry-rhubarb jelly', 'jelly', 'hot', 'pints', [5, 10, 15], 0.25, '01600893'],
  ['blueberry-spice jam', 'jam', 'hot', 'pints', [5, 10, 15], 0.25, '01600894'],
  ['remade soft jellies', 'jelly', 'hot', 'pints', [5, 10, 15], 0.25, 'Oklahoma State, remaking soft jelly'],
]

/** National Center for Home Food Preservation and So Easy to Preserve, in the copies named; "memory" where none was read. */
const georgia: readonly Published[] = [
  ['pear pickles', 'whole, halved or quartered', 'hot', 'pints', [20, 25, 30, 35], 0.5, 'food.com, 486012'],
  ['watermelon rind pickles', 'cubes of rind', 'hot', 'pints', [10, 15, 20], 0.5, 'seasonalandsimple.info, 305'],
  ['citrus marmalade', 'marmalade without added pectin', 'hot', 'half-pints', [5, 10, 15], 0.25, 'staceycancan.com'],
  ['apple conserve', 'conserve with raisins and nuts, added pectin', 'hot', 'pints', [5, 10, 15], 0.25, 'Nebraska'],
  [
    'plum conserve',
    'conserve with orange, raisins and nuts',
    'hot',
    'pints',
    [5, 10, 15],
    0.25,
    'seasonalandsimple.info, 178',
  ],
  ['cranberry marmalade', 'marmalade with added pectin', 'hot', 'pints', [5, 10, 15], 0.25, 'UNT web archive'],
  [
    'peach-orange marmalade',
    'marmalade without added pectin',
    'hot',
    'pints',
    [5, 10, 15],
    0.25,
    'seasonalandsimple.info, 188',
  ],
  ['apricot-orange conserve', 'conserve with nuts', 'hot', 'pints', [5, 10, 15], 0.25, 'UNT web archive'],
  [
    'damson plum-orange conserve',
    'conserve with raisins and nuts, added pectin',
    'hot',
    'pints',
    [5, 10, 15],
    0.25,
    'seasonalandsimple.info, 176',
  ],
  ['strawberry preserves', 'whole berries in syrup', 'hot', 'pints', [5, 10, 15], 0.25, 'UNT web archive'],
  ['peach pickles', 'whole or halved', 'hot', 'pints', [20, 25, 30, 35], 0.5, 'memory'],
  ['peach pickles', 'whole or halved', 'hot', 'quarts', [25, 30, 35, 40], 0.5, 'memory'],
  ['fig pickles', 'whole', 'hot', 'pints', [15, 20, 20, 25], 0.5, 'memory'],
  ['fig preserves', 'whole figs in syrup with lemon', 'hot', 'pints', [5, 10, 15], 0.25, 'memory'],
  ['peach preserves', 'pieces in syrup', 'hot', 'pints', [5, 10, 15], 0.25, 'memory'],
  ['pear preserves', 'pieces in syrup', 'hot', 'pints', [5, 10, 15], 0.25, 'memory'],
  ['lemon curd', 'curd with bottled lemon juice', 'hot', 'half-pints', [15, 20, 25], 0.5, 'memory'],
]

const published = [...usda2015, ...usdaRecalled, ...usda1994, ...georgia]
const ours = [...boilingWaterFillings, ...boilingWaterFruitPickles, ...boilingWaterSweetSpreads]

describe('spreads, pie fillings, chutneys, salsas and fruit pickles in a boiling-water canner', () => {
  it.each(published)('%s, %s, %s, %s as printed', (...line) => {
    expectAsPrinted(line)
  })

  it('has no row that is not restated here', () => {
    expect(namesOf(ours)).toEqual(namesOfPublished(published))
  })

  it('never asks less of a bigger jar or a higher place, and names a source, a headspace and sterile jars rightly', () => {
    expectSound(ours)
  })

  it('holds only for the published recipe, each of them', () => {
    expect(ours.filter((row) => !row.asPublished).map((row) => row.id)).toEqual([])
  })

  it('says that the acid stays as published wherever a salsa, a chutney or a pickle depends on it', () => {
    for (const row of boilingWaterFruitPickles) {
      if (row.acidity === 'acidified')
        expect([row.id, row.notes.join(' ')]).toEqual([row.id, expect.stringMatching(/Vinegar/)])
    }
  })

  it('takes no starch but the modified one in a pie filling (2015 guide p. 2-25)', () => {
    for (const row of boilingWaterFillings.filter(({ form }) => form.includes('modified-starch'))) {
      expect(row.notes.join(' ')).toMatch(/modified starch only/)
      expect(row.notes.join(' ')).toMatch(/lemon juice stays as published/)
    }
  })

  it('tells the time for jelly in jars that were not boiled first (2015 guide p. 1-30: 10 minutes)', () => {
    const jellies = published.filter(([, , , , [first], headspaceIn]) => first === 5 && headspaceIn === 0.25)
    expect(jellies.length).toBeGreaterThan(10)
    for (const row of jellies.map(rowOf).filter(({ product }) => product !== 'apple butter')) {
      expect(row.notes.join(' ')).toMatch(/not boiled first: 10 minutes/)
    }
  })

  it('does not claim to have read again what it has from memory', () => {
    const recalled = [...usdaRecalled, ...georgia.filter(([, , , , , , printed]) => printed === 'memory')]
    expect(namesOf(ours.filter((row) => row.source.confidence === 'memory'))).toEqual(namesOfPublished(recalled))
  })
})
