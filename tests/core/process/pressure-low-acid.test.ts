import { describe, expect, it } from 'vitest'
import { dialLowAcid, inWords, type Line, linesInWords, rowsOf, weightedLowAcid } from './pressure-lines.ts'

// USDA Complete Guide to Home Canning 2015, Guide 4, the page beside each product.
const guide4: readonly (readonly [page: string, ...Line])[] = [
  ['4-6', 'beans or peas, shelled dried', 'shelled', 'hot', 'pints', 75],
  ['4-6', 'beans or peas, shelled dried', 'shelled', 'hot', 'quarts', 90],
  ['4-7', 'beans, dry, with tomato or molasses sauce', '', 'hot', 'pints', 65],
  ['4-7', 'beans, dry, with tomato or molasses sauce', '', 'hot', 'quarts', 75],
  ['4-10', 'beets', 'whole, cubed or sliced', 'hot', 'pints', 30],
  ['4-10', 'beets', 'whole, cubed or sliced', 'hot', 'quarts', 35],
  ['4-10/4-11', 'carrots', 'sliced or diced', 'hot', 'pints', 25],
  ['4-10/4-11', 'carrots', 'sliced or diced', 'raw', 'pints', 25],
  ['4-10/4-11', 'carrots', 'sliced or diced', 'hot', 'quarts', 30],
  ['4-10/4-11', 'carrots', 'sliced or diced', 'raw', 'quarts', 30],
  ['4-11', 'corn', 'cream style', 'hot', 'pints', 85],
  ['4-12', 'corn', 'whole kernel', 'hot', 'pints', 55],
  ['4-12', 'corn', 'whole kernel', 'raw', 'pints', 55],
  ['4-12', 'corn', 'whole kernel', 'hot', 'quarts', 85],
  ['4-12', 'corn', 'whole kernel', 'raw', 'quarts', 85],
  ['4-13', 'mixed vegetables', '', 'hot', 'pints', 75],
  ['4-13', 'mixed vegetables', '', 'hot', 'quarts', 90],
  ['4-13', 'mushrooms', 'whole or sliced', 'hot', 'pints', 45],
  ['4-15', 'peas, green or English', 'shelled', 'hot', 'pints', 40],
  ['4-15', 'peas, green or English', 'shelled', 'raw', 'pints', 40],
  ['4-15', 'peas, green or English', 'shelled', 'hot', 'quarts', 40],
  ['4-15', 'peas, green or English', 'shelled', 'raw', 'quarts', 40],
  ['4-16', 'peppers', 'hot or sweet', 'hot', 'pints', 35],
  ['4-17', 'potatoes, sweet', 'pieces or whole', 'hot', 'pints', 65],
  ['4-17', 'potatoes, sweet', 'pieces or whole', 'hot', 'quarts', 90],
  ['4-18', 'pumpkin and winter squash', 'cubed', 'hot', 'pints', 55],
  ['4-18', 'pumpkin and winter squash', 'cubed', 'hot', 'quarts', 90],
  ['4-19', 'soups (vegetable, bean, meat)', '', 'hot', 'pints', 60],
  ['4-19', 'soups (vegetable, bean, meat)', '', 'hot', 'quarts', 75],
  ['4-19', 'soups with seafood', '', 'hot', 'pints', 100],
  ['4-19', 'soups with seafood', '', 'hot', 'quarts', 100],
  ['4-20/4-21', 'succotash', '', 'hot', 'pints', 60],
  ['4-20/4-21', 'succotash', '', 'raw', 'pints', 60],
  ['4-20/4-21', 'succotash', '', 'hot', 'quarts', 85],
  ['4-20/4-21', 'succotash', '', 'raw', 'quarts', 85],
]

// Snap beans: dial Guide 4 p. 4-8/4-9 (2015), weighted Preserving Food Safely 01600883. Lima beans 01600712, greens
// 01600053. Asparagus, okra, white potatoes: copies of the guide of 1994 in a recipe archive. Baked beans: from memory.
const otherVegetables: readonly Line[] = [
  ['beans, snap and Italian', 'pieces', 'hot', 'pints', 20],
  ['beans, snap and Italian', 'pieces', 'raw', 'pints', 20],
  ['beans, snap and Italian', 'pieces', 'hot', 'quarts', 25],
  ['beans, snap and Italian', 'pieces', 'raw', 'quarts', 25],
  ['beans, fresh lima', 'shelled', 'hot', 'pints', 40],
  ['beans, fresh lima', 'shelled', 'raw', 'pints', 40],
  ['beans, fresh lima', 'shelled', 'hot', 'quarts', 50],
  ['beans, fresh lima', 'shelled', 'raw', 'quarts', 50],
  ['spinach and other greens', '', 'hot', 'pints', 70],
  ['spinach and other greens', '', 'hot', 'quarts', 90],
  ['asparagus', 'spears or pieces', 'hot', 'pints', 30],
  ['asparagus', 'spears or pieces', 'raw', 'pints', 30],
  ['asparagus', 'spears or pieces', 'hot', 'quarts', 40],
  ['asparagus', 'spears or pieces', 'raw', 'quarts', 40],
  ['okra', '', 'hot', 'pints', 25],
  ['okra', '', 'hot', 'quarts', 40],
  ['potatoes, white', 'cubed or whole', 'hot', 'pints', 35],
  ['potatoes, white', 'cubed or whole', 'hot', 'quarts', 40],
  ['beans, baked', '', 'hot', 'pints', 65],
  ['beans, baked', '', 'hot', 'quarts', 75],
]

// Preserving Food Safely: chicken 01600482, ground meat 01600473, strips 01600849, stock 01600478, chile 01600850, fish
// 01600574, oysters 01600853. Clams: Guide 5 p. 5-9, from memory.
const meat: readonly Line[] = [
  ['chicken or rabbit', 'without bones', 'hot', 'pints', 75],
  ['chicken or rabbit', 'without bones', 'raw', 'pints', 75],
  ['chicken or rabbit', 'without bones', 'hot', 'quarts', 90],
  ['chicken or rabbit', 'without bones', 'raw', 'quarts', 90],
  ['chicken or rabbit', 'with bones', 'hot', 'pints', 65],
  ['chicken or rabbit', 'with bones', 'raw', 'pints', 65],
  ['chicken or rabbit', 'with bones', 'hot', 'quarts', 75],
  ['chicken or rabbit', 'with bones', 'raw', 'quarts', 75],
  ['meat, ground or chopped', '', 'hot', 'pints', 75],
  ['meat, ground or chopped', '', 'hot', 'quarts', 90],
  ['meat, strips, cubes or chunks', '', 'hot', 'pints', 75],
  ['meat, strips, cubes or chunks', '', 'raw', 'pints', 75],
  ['meat, strips, cubes or chunks', '', 'hot', 'quarts', 90],
  ['meat, strips, cubes or chunks', '', 'raw', 'quarts', 90],
  ['meat stock', 'broth', 'hot', 'pints', 20],
  ['meat stock', 'broth', 'hot', 'quarts', 25],
  ['chile con carne', '', 'hot', 'pints', 75],
  ['fish', 'pieces', 'raw', 'half-pints, 12 ounces or pints', 100],
  // National center, Festive Mincemeat Pie Filling (guide of 2015): quarts, 90 minutes
  ['festive mincemeat pie filling', 'mincemeat of meat, suet and fruit', 'hot', 'quarts', 90],
  ['clams', 'whole or minced', 'hot', 'half-pints', 60],
  ['clams', 'whole or minced', 'hot', 'pints alone', 70],
  ['oysters', '', 'hot', 'pints', 75],
]

const inGuide4 = guide4.map(([, ...line]): Line => line)
const both = [dialLowAcid, weightedLowAcid]

describe('low-acid food under pressure', () => {
  it.each([
    ['Guide 4', inGuide4],
    ['vegetables read elsewhere', otherVegetables],
    ['meat and fish', meat],
  ] as const)('has the published lines of %s, no line more and none less', (_, lines) => {
    const rows = rowsOf(lines.map(([product]) => product))
    expect(rows.flatMap(inWords).sort()).toEqual(linesInWords(lines, both).sort())
    expect(rows.filter(({ acidity, acid }) => acidity !== 'low-acid' || acid.length > 0)).toEqual([])
  })

  it('names the page in Guide 4', () => {
    for (const [page, product, form] of guide4)
      for (const { id, source } of rowsOf([product]).filter((row) => row.form === form))
        expect([source.document, source.section, source.confidence], id).toEqual([
          'usda-2015',
          `Guide 4 p. ${page}`,
          'seen',
        ])
  })

  it('leaves an inch, raw lima beans in quarts an inch and a half, poultry an inch and a quarter', () => {
    // Preserving Food Safely 01600712 and 01600482
    for (const { id, product, pack, jars, headspaceIn } of rowsOf(
      [...inGuide4, ...otherVegetables, ...meat].map(([one]) => one),
    )) {
      const lima = product === 'beans, fresh lima' && pack === 'raw' && jars.includes('quart')
      expect(headspaceIn, id).toBe(lima ? 1.5 : product === 'chicken or rabbit' ? 1.25 : 1)
    }
  })

  it.each(['mushrooms', 'peppers', 'chile con carne', 'oysters', 'clams', 'fish'])('has no quarts of %s', (product) => {
    expect(rowsOf([product]).filter(({ jars }) => jars.includes('quart'))).toEqual([])
  })

  it('has cream style corn in pints only, and hot only', () => {
    const rows = rowsOf(['corn']).filter(({ form }) => form === 'cream style')
    expect(rows.map(({ pack, jars }) => [pack, jars.at(-1)])).toEqual([
      ['hot', 'pint'],
      ['hot', 'pint'],
    ])
  })
})
