import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { packSupplies, scaleRecipe } from '../../../src/core/recipes/index.ts'
import { claimOf, cropInput, definitionOf, ingredientOf, packOf } from './making.ts'

/** Crushed tomatoes: 22 lb for 7 quarts (Guide 3 p. 3-7), 1,426 g a quart; 2 tbsp of bottled lemon juice in each (p. 3-5). */
const quart = packOf({ gramsPerUnit: 1426 })
const tomatoes = definitionOf({
  inputs: [cropInput('tomato')],
  packs: [quart],
  process: claimOf({ product: 'tomatoes, crushed' }),
  ingredients: [
    ingredientOf('bottled-lemon-juice', { supply: 'lemon-juice', unit: 'ml', perUnit: { quart: 29.57 } }),
    ingredientOf('salt', { perUnit: { quart: 6 } }),
    ingredientOf('water', { unit: 'ml', perKg: 50 }),
  ],
})

describe('scaling a recipe', () => {
  test('to 63 kg: 44 quarts in seven loads, 256 g left over', () => {
    const scaled = scaleRecipe(tomatoes, quart, { grams: 63_000 }, 'metric')
    expect(scaled).toMatchObject({ units: 44, usedGrams: 62_744, leftGrams: 256 })
    expect(scaled.loads).toEqual([{ name: 'canner load', many: 7, unitsPerRun: 7, lastHolds: 2 }])
    expect(scaled.inputs).toEqual([{ from: { crop: 'tomato' }, leastGrams: 62_744, mostGrams: 62_744 }])
    expect(scaled.putUpIn).toEqual({ 'jar-quart': 44, lid: 44 })
    const [lemon, salt, water] = scaled.ingredients
    expect(lemon?.exact).toBeCloseTo(44 * 29.57)
    expect(lemon?.eachUnit).toMatchObject({ amount: 30, words: '30 ml' })
    expect(lemon).toMatchObject({ amount: 1320, words: '1.32 l', together: null })
    expect(salt).toMatchObject({ exact: 264, amount: 264, words: '265 g' })
    expect(water?.together?.exact).toBeCloseTo(3137.2)
    // the tap is no supply
    expect(scaled.supplies).toEqual({ 'jar-quart': 44, lid: 44, 'lemon-juice': 1320, salt: 264 })
  })

  test('in US measures', () => {
    const { ingredients } = scaleRecipe(tomatoes, quart, { loads: 1 }, 'us')
    expect(ingredients.map(({ eachUnit }) => eachUnit?.words)).toEqual(['2 tbsp', '1 tsp', undefined])
    // 14 tbsp
    expect(ingredients[0]?.words).toBe('3/4 cup and 2 tbsp')
  })

  test('by loads and by units', () => {
    expect(scaleRecipe(tomatoes, quart, { loads: 2 }, 'metric')).toMatchObject({ units: 14, leftGrams: 0 })
    const eight = scaleRecipe(tomatoes, quart, { units: 8 }, 'metric')
    expect(eight.loads).toMatchObject([{ many: 2, lastHolds: 1 }])
  })

  test('too little for one jar gives none, and all is left over', () => {
    expect(scaleRecipe(tomatoes, quart, { grams: 1425 }, 'metric')).toMatchObject({
      units: 0,
      usedGrams: 0,
      leftGrams: 1425,
      ingredients: [],
      loads: [{ many: 0, lastHolds: 0 }],
    })
  })

  test.each([
    { grams: 0 },
    { grams: -1 },
    { grams: Number.NaN },
    { grams: 1e12 },
    { units: 0 },
    { units: 1.5 },
    { loads: -2 },
    { loads: Number.POSITIVE_INFINITY },
  ])('%j is refused', (by) => {
    expect(() => scaleRecipe(tomatoes, quart, by, 'metric')).toThrow(RangeError)
  })

  test('an amount for another pack does not go into this one', () => {
    const pint = packOf({ key: 'pint', jar: 'pint', gramsPerUnit: 700 })
    const { ingredients } = scaleRecipe({ ...tomatoes, packs: [quart, pint] }, pint, { units: 3 }, 'metric')
    expect(ingredients.map(({ kind }) => kind)).toEqual(['water'])
  })

  test('acid never comes to less than the recipe says, in no jar and not together', () => {
    const kinds = ['bottled-lemon-juice', 'citric-acid', 'vinegar-5'] as const
    fc.assert(
      fc.property(
        fc.constantFrom(...kinds),
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        fc.constantFrom('us' as const, 'metric' as const),
        (kind, perJar, perKg, units, system) => {
          const unit = kind === 'citric-acid' ? 'g' : 'ml'
          const acid = ingredientOf(kind, { unit, perKg, perUnit: { quart: perJar } })
          const { ingredients } = scaleRecipe({ ...tomatoes, ingredients: [acid] }, quart, { units }, system)
          const one = ingredients[0]
          expect(one?.amount).toBeGreaterThanOrEqual((one?.exact ?? Number.NaN) * (1 - 1e-8))
          expect(one?.eachUnit?.amount).toBeGreaterThanOrEqual(perJar * (1 - 1e-8))
        },
      ),
    )
  })

  test('whole jars never take more than there is, and never leave enough for one more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5_000_000 }), fc.integer({ min: 50, max: 5000 }), (grams, gramsPerUnit) => {
        const pack = { ...quart, gramsPerUnit }
        const { usedGrams, leftGrams, units, loads } = scaleRecipe(tomatoes, pack, { grams }, 'metric')
        expect(usedGrams + leftGrams).toBe(grams)
        expect(leftGrams).toBeGreaterThanOrEqual(0)
        expect(leftGrams).toBeLessThan(gramsPerUnit)
        const [load] = loads
        expect(((load?.many ?? 0) - (units > 0 ? 1 : 0)) * 7 + (load?.lastHolds ?? 0)).toBe(units)
      }),
    )
  })
})

describe('supplies for one unit', () => {
  test('are what it is put up in, and what goes in by weight and by the jar', () => {
    const sugared = definitionOf({
      ingredients: [
        ingredientOf('sugar', { perKg: 100, perUnit: { quart: 10 } }),
        ingredientOf('sugar', { perUnit: { quart: 5 } }),
        ingredientOf('water', { unit: 'ml', perKg: 200 }),
      ],
    })
    // 0.9 kg a quart: 90 + 10 + 5
    expect(packSupplies(sugared, packOf())).toEqual({ 'jar-quart': 1, lid: 1, sugar: 105 })
    expect(packSupplies(sugared, packOf({ key: 'pint', gramsPerUnit: 450 }))).toEqual({
      'jar-quart': 1,
      lid: 1,
      sugar: 45,
    })
  })
})
