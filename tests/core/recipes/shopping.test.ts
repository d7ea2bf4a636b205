import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type SupplyToBuy, shoppingFor, uncountedPerUnit } from '../../../src/core/recipes/index.ts'
import { countedSupplies } from '../../../src/core/recipes/pack-supplies.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'

const sugar: SupplyToBuy = {
  key: 'sugar',
  name: 'sugar',
  unit: 'g',
  onHand: 3000,
  packSize: 1000,
  packPriceMinor: 120,
  packsAtMost: 10,
}
const lids: SupplyToBuy = {
  ...sugar,
  key: 'lid',
  name: 'lids',
  unit: 'lid',
  onHand: 5,
  packSize: 12,
  packPriceMinor: 300,
}

describe('a shopping list', () => {
  test('adds up what many recipes need before it counts packs', () => {
    expect(shoppingFor([{ sugar: 2500, lid: 7 }, { sugar: 1600 }, { lid: 9 }], [lids, sugar])).toEqual([
      { key: 'lid', name: 'lids', unit: 'lid', need: 16, onHand: 5, toBuy: 11, packs: 1, costMinor: 300, short: 0 },
      {
        key: 'sugar',
        name: 'sugar',
        unit: 'g',
        need: 4100,
        onHand: 3000,
        toBuy: 1100,
        packs: 2,
        costMinor: 240,
        short: 0,
      },
    ])
  })

  test('buys nothing where enough is on hand, and no pack for the last bit of a sum', () => {
    expect(shoppingFor([{ sugar: 3000 }], [sugar])).toMatchObject([{ toBuy: 0, packs: 0, costMinor: 0 }])
    const needs = Array.from({ length: 10 }, () => ({ sugar: 400.1 }))
    expect(shoppingFor(needs, [{ ...sugar, onHand: 3001 }])).toMatchObject([{ packs: 1 }])
  })

  test('says what cannot be had', () => {
    expect(shoppingFor([{ sugar: 20_500 }], [sugar])).toMatchObject([{ packs: 10, short: 7500, costMinor: 1200 }])
    expect(shoppingFor([{ 'cook-type-starch': 90 }], [sugar])).toEqual([
      {
        key: 'cook-type-starch',
        name: 'cook type starch',
        unit: '',
        need: 90,
        onHand: 0,
        toBuy: 90,
        packs: 0,
        costMinor: 0,
        short: 90,
      },
    ])
  })

  test('leaves out what nobody needs', () => expect(shoppingFor([{ sugar: 0 }, {}], [sugar, lids])).toEqual([]))

  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY])('an amount of %d is refused', (amount) => {
    expect(() => shoppingFor([{ sugar: amount }], [sugar])).toThrow(RangeError)
  })

  test('what is on hand, bought and short covers the need, with less than a pack too much', () => {
    const supply = fc.record({
      onHand: fc.integer({ min: 0, max: 500 }),
      packSize: fc.integer({ min: 1, max: 100 }),
      packsAtMost: fc.integer({ min: 0, max: 20 }),
    })
    fc.assert(
      fc.property(
        supply,
        fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 8 }),
        (has, amounts) => {
          const [line] = shoppingFor(
            amounts.map((amount) => ({ sugar: amount })),
            [{ ...sugar, ...has }],
          )
          if (line === undefined) throw new Error('no line')
          const had = line.onHand + line.packs * has.packSize + line.short
          expect(had).toBeGreaterThanOrEqual(line.need)
          if (line.packs > 0) expect(had - line.need).toBeLessThan(has.packSize)
          if (line.short > 0) expect(line.packs).toBe(has.packsAtMost)
        },
      ),
    )
  })
})

describe('what is counted', () => {
  const jam = starters.find(({ name }) => name === 'Plum jam')?.definition
  const pack = jam?.packs[0]
  if (jam === undefined || pack === undefined) throw new Error('the library has no plum jam')
  const asked = (...kept: string[]) => [
    Object.keys(countedSupplies(jam, pack, new Set(kept))).sort(),
    uncountedPerUnit(jam, pack, new Set(kept))
      .map(({ supply }) => supply)
      .sort(),
  ]

  test('is nothing in a kitchen that lists no supplies: what is needed is named and stops nothing', () => {
    expect(asked()).toEqual([[], ['jar-half-pint', 'lemon-juice', 'lid', 'sugar']])
  })

  test('is every size of jar where one size is listed: it has none of the others', () => {
    expect(asked('jar-quart')).toEqual([['jar-half-pint'], ['lemon-juice', 'lid', 'sugar']])
    expect(asked('jar-quart', 'lid', 'sugar', 'lemon-juice')).toEqual([
      ['jar-half-pint', 'lemon-juice', 'lid', 'sugar'],
      [],
    ])
  })

  test('is no ingredient that is not listed', () => {
    expect(asked('jar-half-pint', 'lid')).toEqual([
      ['jar-half-pint', 'lid'],
      ['lemon-juice', 'sugar'],
    ])
  })
})
