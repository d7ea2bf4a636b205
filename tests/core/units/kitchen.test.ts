import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cupWeights, type KitchenOptions, kitchenAmount, mlPer } from '../../../src/core/units/index.ts'

const us: KitchenOptions = { system: 'us' }
const metric: KitchenOptions = { system: 'metric' }

describe('amounts for spoons, cups and scales', () => {
  test.each([
    // US customary measure: 3 teaspoons a tablespoon, 16 tablespoons a cup, 4 cups a quart (NIST Handbook 44, Appendix C)
    [mlPer.tsp / 8, '1/8 tsp'],
    [mlPer.tsp / 2, '1/2 tsp'],
    [mlPer.tsp * 1.5, '1 1/2 tsp'],
    [mlPer.tbsp, '1 tbsp'],
    [mlPer.tbsp * 2, '2 tbsp'],
    [mlPer.cup / 4, '1/4 cup'],
    [mlPer.cup / 3, '1/3 cup'],
    [(mlPer.cup * 2) / 3, '2/3 cup'],
    [mlPer.cup * 1.5, '1 1/2 cups'],
    [mlPer.cup * 3, '3 cups'],
    [mlPer.quart * 2, '2 quarts'],
    [mlPer.quart * 7.5, '7 1/2 quarts'],
  ])('%d ml are %j in US measures, and stay what they are', (ml, words) => {
    const said = kitchenAmount(ml, 'ml', us)
    expect(said.words).toBe(words)
    expect(said.amount).toBe(ml)
    expect(kitchenAmount(ml, 'ml', { ...us, up: true })).toEqual(said)
  })

  test.each([
    // US labels count 5 ml a teaspoon, 15 ml a tablespoon, 240 ml a cup (21 CFR 101.9(b)(5)(viii), memory)
    [5, '1 tsp'],
    [15, '1 tbsp'],
    [30, '2 tbsp'],
    [60, '1/4 cup'],
    [210, '3/4 cup and 2 tbsp'],
    [240, '1 cup'],
  ])('%d ml, as a recipe writes for spoons, are %j and no more', (ml, words) => {
    for (const up of [true, false]) expect(kitchenAmount(ml, 'ml', { ...us, up })).toEqual({ amount: ml, words })
  })

  test.each([
    // cup weights: USDA FoodData Central, as the table names them
    [300, 'sugar', '1 1/2 cups'],
    [339, 'honey', '1 cup'],
    [145, 'salt', '1/2 cup'],
    [244, 'bottled-lemon-juice', '1 cup'],
    // half a teaspoon of crystals is about 2.3 g
    [2.3, 'citric-acid', '1/2 tsp'],
    // a gallon of sugar and more is weighed
    [4536, 'sugar', '10 lb'],
    // what has no cup weight is weighed
    [100, 'modified-starch', '3 1/2 oz'],
    [1000, undefined, '2 1/4 lb'],
    [14_000, undefined, '31 lb'],
    [709, undefined, '1 lb 9 oz'],
    [454, undefined, '1 lb'],
    [3, undefined, '3 g'],
  ])('%d g of %s are %j in US measures', (grams, substance, words) => {
    expect(kitchenAmount(grams, 'g', { ...us, substance }).words).toBe(words)
  })

  test.each([
    [2.34, 'g', '2.3 g'],
    [7.6, 'g', '7.5 g'],
    [29.57, 'ml', '30 ml'],
    [236.588, 'ml', '235 ml'],
    [1234, 'g', '1.23 kg'],
    [12_345, 'g', '12.3 kg'],
    [1893, 'ml', '1.89 l'],
  ] as const)('%d %s are %j in metric measures', (amount, unit, words) => {
    expect(kitchenAmount(amount, unit, metric).words).toBe(words)
  })

  test('pieces are halves, and from ten whole ones', () => {
    expect(kitchenAmount(2.4, 'piece', us)).toEqual({ amount: 2.5, words: '2 1/2' })
    expect(kitchenAmount(0.1, 'piece', us)).toEqual({ amount: 0.5, words: '1/2' })
    expect(kitchenAmount(12.1, 'piece', { ...metric, up: true })).toEqual({ amount: 13, words: '13' })
  })

  test('up is never less than asked, and not a step more for the last bit of a sum', () => {
    expect(kitchenAmount(30.1, 'ml', { ...metric, up: true }).amount).toBe(31)
    expect(kitchenAmount(0.1 + 0.2, 'g', { ...metric, up: true }).amount).toBe(0.3)
    // a hair more than two tablespoons is not two tablespoons
    expect(kitchenAmount(mlPer.tbsp * 2.01, 'ml', { ...us, up: true }).amount).toBeGreaterThan(mlPer.tbsp * 2)
  })

  test('nothing is nothing, and less than nothing is refused', () => {
    expect(kitchenAmount(0, 'g', us)).toEqual({ amount: 0, words: 'none' })
    for (const amount of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => kitchenAmount(amount, 'g', us)).toThrow(RangeError)
    }
  })
})

describe('rounding', () => {
  const substances = [undefined, ...Object.keys(cupWeights)]
  const options = fc.record({
    system: fc.constantFrom('us' as const, 'metric' as const),
    substance: fc.constantFrom(...substances),
  })
  const unit = fc.constantFrom('g' as const, 'ml' as const)

  test('is off by 8 % at most from a teaspoon, which of honey is 7.1 g, and by 16 % from a quarter of it', () => {
    fc.assert(
      fc.property(fc.double({ min: 1.8, max: 200_000, noNaN: true }), unit, options, (amount, of, how) => {
        const { amount: said } = kitchenAmount(amount, of, how)
        expect(Math.abs(said - amount) / amount).toBeLessThanOrEqual(amount >= 7.5 ? 0.08 : 0.16)
      }),
      { numRuns: 4000 },
    )
  })

  test('up is never below, and above by 16 % or a third at most', () => {
    fc.assert(
      fc.property(fc.double({ min: 1.8, max: 200_000, noNaN: true }), unit, options, (amount, of, how) => {
        const { amount: said } = kitchenAmount(amount, of, { ...how, up: true })
        expect(said).toBeGreaterThanOrEqual(amount * (1 - 1e-8))
        expect((said - amount) / amount).toBeLessThanOrEqual(amount >= 7.5 ? 0.16 : 0.34)
      }),
      { numRuns: 4000 },
    )
  })
})
