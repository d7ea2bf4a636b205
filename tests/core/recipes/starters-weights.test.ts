import { describe, expect, test } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'

// Pounds avoirdupois of raw produce for a canner load as printed in the USDA Complete Guide to Home Canning, 2015.
// Seen in that edition unless a row says memory.
const lb = 453.59237

type Load = [name: string, pack: string, jars: number, pounds: number, page: string]

const loads: Load[] = [
  ['Apple sauce', 'quart', 7, 21, '2-7'],
  ['Apple sauce', 'pint', 9, 13.5, '2-7'],
  ['Pear halves in light syrup', 'quart', 7, 17.5, '2-19'],
  ['Pear halves in light syrup', 'pint', 9, 11, '2-19'],
  ['Peach slices in light syrup', 'quart', 7, 17.5, '2-19'],
  ['Peach slices in light syrup', 'pint', 9, 11, '2-19'],
  ['Nectarine slices in light syrup', 'quart', 7, 17.5, '2-18, memory'],
  ['Nectarine slices in light syrup', 'pint', 9, 11, '2-18, memory'],
  ['Plums in light syrup', 'quart', 7, 14, '2-21'],
  ['Plums in light syrup', 'pint', 9, 9, '2-21'],
  ['Apricot halves in light syrup', 'pint', 9, 10, '2-9, memory'],
  ['Sour cherries in syrup', 'quart', 7, 17.5, '2-12'],
  ['Sour cherries in syrup', 'pint', 9, 11, '2-12'],
  ['Sweet cherries in light syrup', 'pint', 9, 11, '2-12'],
  ['Blackberries in light syrup', 'quart', 7, 12, '2-10'],
  ['Blackberries in light syrup', 'pint', 9, 8, '2-10'],
  ['Blueberries in light syrup', 'quart', 7, 12, '2-10'],
  ['Gooseberries in medium syrup', 'pint', 9, 8, '2-10'],
  ['Grapes in light syrup', 'quart', 7, 14, '2-16'],
  ['Grapes in light syrup', 'pint', 9, 9, '2-16'],
  ['Grape juice', 'quart', 7, 24.5, '2-15, memory'],
  ['Figs in light syrup', 'quart', 7, 16, '2-14'],
  ['Figs in light syrup', 'pint', 9, 11, '2-14'],
  ['Stewed rhubarb', 'quart', 7, 10.5, '2-22, memory'],
  ['Stewed rhubarb', 'pint', 9, 7, '2-22, memory'],
  ['Crushed tomatoes under pressure', 'pint', 9, 14, '3-7'],
  ['Whole tomatoes in water', 'quart', 7, 21, '3-9'],
  ['Whole tomatoes in water', 'pint', 9, 13, '3-9'],
  ['Tomato juice', 'quart', 7, 23, '3-5'],
  ['Tomato juice', 'pint', 9, 14, '3-5'],
  ['Tomato sauce, thin', 'pint', 9, 21, '3-8'],
  ['Tomato sauce, thick', 'quart', 7, 46, '3-8'],
  ['Tomato sauce, thick', 'pint', 9, 28, '3-8'],
  ['Snap beans', 'quart', 7, 14, '4-8'],
  ['Snap beans', 'pint', 9, 9, '4-8'],
  ['Sliced beets', 'quart', 7, 21, '4-9'],
  ['Sliced beets', 'pint', 9, 13.5, '4-9'],
  ['Sliced carrots', 'quart', 7, 17.5, '4-10'],
  ['Sliced carrots', 'pint', 9, 11, '4-10'],
  ['Whole kernel corn', 'quart', 7, 31.5, '4-11'],
  ['Whole kernel corn', 'pint', 9, 20, '4-11'],
  ['Green peas', 'quart', 7, 31.5, '4-14'],
  ['Green peas', 'pint', 9, 20, '4-14'],
  ['Sweet peppers under pressure', 'pint', 9, 9, '4-15'],
  ['Winter squash cubes', 'quart', 7, 16, '4-18'],
  ['Winter squash cubes', 'pint', 9, 10, '4-18'],
  ['Pumpkin cubes', 'quart', 7, 16, '4-18'],
  ['Pumpkin cubes', 'pint', 9, 10, '4-18'],
  ['Potato cubes', 'quart', 7, 20, '4-17, memory'],
  ['Potato cubes', 'pint', 9, 13, '4-17, memory'],
  ['Asparagus pieces', 'pint', 9, 16, '4-5, memory'],
  ['Quick dill pickles', 'quart', 7, 14, '6-5'],
  ['Fermented dill pickles in jars', 'quart', 7, 14, '6-5'],
  ['Fermented dill pickles in jars', 'pint', 9, 9, '6-5'],
  ['Sauerkraut in jars', 'quart', 9, 25, '6-8'],
]

function packOf(name: string, key: string) {
  const found = starters.find((one) => one.name === name)?.definition.packs.find((pack) => pack.key === key)
  if (found === undefined) throw new Error(`no ${key} of ${name}`)
  return found
}

describe('raw weight in a jar', () => {
  test.each(loads)('%s, %s: %d from %f lb (Guide p. %s)', (name, pack, jars, pounds) => {
    expect(packOf(name, pack).gramsPerUnit).toBe(Math.round((pounds * lb) / jars))
  })

  // averages for a quart, which the guide prints beside the loads (p. 2-7, 3-7: seen)
  test.each([
    ['Apple slices in light syrup', 2.75],
    ['Crushed tomatoes', 2.75],
    ['Crushed tomatoes under pressure', 2.75],
  ])('%s: %f lb a quart', (name, pounds) => {
    expect(packOf(name, 'quart').gramsPerUnit).toBe(Math.round(pounds * lb))
  })
})

describe('what goes in beside produce', () => {
  // USDA Complete Guide 2015, Guide 2 p. 2-5 (seen): cups of sugar for 7 quarts and 9 pints; 200 g a cup (memory)
  test.each([
    ['Pear halves in light syrup', 'quart', (2.25 * 200) / 7],
    ['Pear halves in light syrup', 'pint', (1.5 * 200) / 9],
    ['Sour cherries in syrup', 'quart', (3.75 * 200) / 7],
    ['Sour cherries in syrup', 'pint', (2.25 * 200) / 9],
  ])('%s, %s: sugar of the syrup', (name, pack, grams) => {
    const sugar = starters
      .find((one) => one.name === name)
      ?.definition.ingredients.find(({ supply }) => supply === 'sugar')
    expect(Math.abs((sugar?.perUnit[pack] ?? 0) - grams)).toBeLessThanOrEqual(1)
  })

  // Guide 6 p. 6-8 (seen): 3 tablespoons of salt to 5 lb of cabbage; 290 g a cup (memory), 16 tablespoons
  test.each(['Sauerkraut', 'Sauerkraut in jars'])('%s has no less salt than printed', (name) => {
    const salt = starters.find((one) => one.name === name)?.definition.ingredients.find(({ kind }) => kind === 'salt')
    expect(salt?.perKg).toBeGreaterThanOrEqual(((3 / 16) * 290) / ((5 * lb) / 1000) - 0.05)
  })

  // Guide 6 p. 6-7 (seen): 1/2 cup of salt to 4 lb of cucumbers
  test.each(['Fermented dill pickles', 'Fermented dill pickles in jars'])(
    '%s has no less salt than printed',
    (name) => {
      const salt = starters.find((one) => one.name === name)?.definition.ingredients.find(({ kind }) => kind === 'salt')
      expect(salt?.perKg).toBeGreaterThanOrEqual((0.5 * 290) / ((4 * lb) / 1000) - 0.1)
    },
  )
})

describe('dried starters', () => {
  // Published or balanced weights of fresh for dried, pounds for a pound; see each recipe's source.
  test.each([
    // Bailey 1911: 6 to 7 1/2 lb from a bushel of 48 (seen); home handbooks 9.6 (memory)
    ['Dried apple slices', 48 / 7.5, 9.6],
    // Bailey 1911: 4 to 7 lb (seen)
    ['Dried peach slices', 4, 7],
    // university drying handbooks: 15 lb give 1 1/4 lb (memory)
    ['Dried carrots', 12, 12],
  ])('%s: %f to %f for one', (name, least, most) => {
    const pack = starters.find((one) => one.name === name)?.definition.packs[0]
    const dried = Number(/\d+/.exec(pack?.key ?? '')?.[0])
    const ratio = (pack?.gramsPerUnit ?? 0) / dried
    expect(ratio).toBeGreaterThanOrEqual(least)
    expect(ratio).toBeLessThanOrEqual(most)
  })
})
