import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PublishedFormula } from '../../../src/core/process/formulas/index.ts'
import { processTable } from '../../../src/core/process/index.ts'
import { memory, practice } from '../../../src/core/process/sources.ts'
import { formulaDepartures } from '../../../src/core/recipes/formula-departures.ts'
import type { Ingredient, IngredientKind, RecipeDefinition } from '../../../src/core/recipes/index.ts'
import { ingredientDepartures } from '../../../src/core/recipes/ingredient-departures.ts'
import { cropInput, definitionOf, ingredientOf, packOf } from './making.ts'

function rowOf(product: string) {
  const row = processTable().find((one) => one.product === product)
  if (row === undefined) throw new Error(`no ${product}`)
  return row
}

const nothing = {
  form: null,
  crops: null,
  acidProduceGrams: 0,
  lowAcidGrams: 0,
  vinegarMl: 0,
  bottledLemonMl: 0,
  citricAcidGrams: 0,
  sugarGrams: 0,
  sugarCounts: false,
  modifiedStarchGrams: 0,
  otherStarchGrams: 0,
  also: [],
  yields: { jar: 'pint', least: 6, most: 8 },
} as const satisfies Partial<PublishedFormula>

/** Guide 3, chile salsa: 5 lb of tomatoes, 2 lb of chiles, 1 lb of onions, 1 cup of vinegar of 5 % (memory). */
const salsa: PublishedFormula = {
  ...nothing,
  product: 'chile salsa',
  acidProduceGrams: 2268,
  lowAcidGrams: 1361,
  vinegarMl: 237,
  source: memory('usda-2015', 'Guide 3'),
}

/** One kilogram a pint, so that amounts for each kilogram are amounts for a pint. */
const pint = packOf({ key: 'pint', unit: 'pint', jar: 'pint', gramsPerUnit: 1000 })
const vinegar = (ml: number) => ingredientOf('vinegar-5', { unit: 'ml', perKg: ml })
const lemon = (ml: number) => ingredientOf('bottled-lemon-juice', { unit: 'ml', perKg: ml })

function found(formula: PublishedFormula, changes: Partial<RecipeDefinition>) {
  const definition = definitionOf({ packs: [pint], ...changes })
  return formulaDepartures(definition, pint, rowOf(formula.product), formula)
}
const kinds = (formula: PublishedFormula, changes: Partial<RecipeDefinition>) =>
  found(formula, changes).map(({ kind }) => kind)

const salsaOf = (ingredients: Ingredient[], lowAcid = 0.375) => ({
  inputs: [cropInput('tomato', 1 - lowAcid), cropInput('hot-pepper', lowAcid)],
  ingredients,
})

describe('a salsa against the published one', () => {
  // 237 ml in 3,629 g of produce: 65.3 ml for each kilogram; 1,361 of 3,629 g: 37.5 % low-acid
  test('as published', () => expect(kinds(salsa, salsaOf([vinegar(65.3)]))).toEqual([]))
  test('more vinegar and fewer chiles', () => expect(kinds(salsa, salsaOf([vinegar(80)], 0.2))).toEqual([]))

  test('less vinegar', () => {
    const departures = found(salsa, salsaOf([vinegar(50)]))
    expect(departures).toMatchObject([{ kind: 'less-acid', at: 'ingredients.0' }])
    expect(departures[0]?.says).toMatch(/50 ml.*65 ml/)
    expect(kinds(salsa, salsaOf([]))).toEqual(['no-acid'])
  })

  test('bottled lemon juice for vinegar one for one, and not the reverse', () => {
    // Guide 3 p. 3-19
    expect(kinds(salsa, salsaOf([lemon(65.3)]))).toEqual([])
    expect(kinds(salsa, salsaOf([lemon(30), vinegar(35.3)]))).toEqual([])
    const withLemon = { ...salsa, vinegarMl: 0, bottledLemonMl: 237 }
    expect(kinds(withLemon, salsaOf([lemon(65.3)]))).toEqual([])
    expect(kinds(withLemon, salsaOf([vinegar(65.3)]))).toEqual(['no-acid'])
    expect(kinds(withLemon, salsaOf([lemon(30), vinegar(100)]))).toEqual(['less-acid'])
  })

  test('fresh lemons do not count', () => {
    const fresh = ingredientOf('fresh-citrus-juice', { unit: 'ml', perKg: 100 })
    const withLemon = { ...salsa, vinegarMl: 0, bottledLemonMl: 237 }
    expect(found(withLemon, salsaOf([fresh]))).toMatchObject([{ kind: 'fresh-citrus', at: 'ingredients.0' }])
    expect(found(salsa, salsaOf([fresh, vinegar(30)]))).toMatchObject([{ kind: 'fresh-citrus', at: 'ingredients.0' }])
    // with enough of the bottled they only make it more acid
    expect(kinds(salsa, salsaOf([fresh, vinegar(65.3)]))).toEqual([])
  })

  test('more chiles and onions', () => {
    const departures = found(salsa, salsaOf([vinegar(65.3)], 0.4))
    expect(departures).toMatchObject([{ kind: 'added-low-acid', at: 'inputs.1' }])
    expect(departures[0]?.says).toMatch(/400 g.*375 g/)
    // 100 g of onions beside a kilogram that is 35 % chiles: 450 of 1,100 g are 40.9 %
    const onions = ingredientOf('low-acid-vegetable', { perKg: 100 })
    expect(kinds(salsa, salsaOf([vinegar(75), onions], 0.35))).toEqual(['added-low-acid'])
    expect(kinds(salsa, salsaOf([vinegar(75), onions], 0.3))).toEqual([])
  })

  test('a free share is taken at its worst', () => {
    const inputs = [cropInput('tomato', 0.5, 0.8), cropInput('hot-pepper', 0.2, 0.6)]
    const departures = found(salsa, { inputs, ingredients: [vinegar(70)] })
    expect(departures).toMatchObject([{ kind: 'added-low-acid' }])
    expect(departures[0]?.says).toContain('500 g')
  })

  test('vegetables by the piece cannot be compared, and are not let pass', () => {
    const onions = ingredientOf('low-acid-vegetable', { unit: 'piece', perKg: 1 })
    expect(kinds(salsa, salsaOf([vinegar(75), onions], 0.1))).toEqual(['added-low-acid'])
  })

  test('acid and sugar by the piece count for nothing', () => {
    const citric = { ...salsa, vinegarMl: 0, citricAcidGrams: 10 }
    expect(kinds(citric, salsaOf([ingredientOf('citric-acid', { perKg: 3 })]))).toEqual([])
    expect(kinds(citric, salsaOf([ingredientOf('citric-acid', { unit: 'piece', perKg: 3 })]))).toEqual(['no-acid'])
    expect(kinds(salsa, salsaOf([{ ...vinegar(100), unit: 'piece' }]))).toEqual(['no-acid'])
  })

  test('acid measured into the jar counts with acid in the pot', () => {
    const both = ingredientOf('vinegar-5', { unit: 'ml', perKg: 30, perUnit: { pint: 36 } })
    expect(kinds(salsa, salsaOf([both]))).toEqual([])
  })

  test('whatever the size of the pack, the same recipe has the same verdict', () => {
    fc.assert(
      fc.property(fc.integer({ min: 200, max: 3000 }), fc.integer({ min: 0, max: 130 }), (gramsPerUnit, ml) => {
        const pack = { ...pint, gramsPerUnit }
        const definition = definitionOf({ packs: [pack], ...salsaOf([vinegar(ml)]) })
        const departs = formulaDepartures(definition, pack, rowOf('chile salsa'), salsa).length > 0
        // two in a hundred are let pass
        expect(departs).toBe(ml < (237 / 3.629) * 0.98)
      }),
    )
  })
})

describe('starch and sugar', () => {
  /** Guide 2 p. 2-26 for a quart: about a kilogram of apples as bought, 1/4 cup of modified starch, 2 tbsp of lemon juice (own weights). */
  const filling: PublishedFormula = {
    ...nothing,
    product: 'apple pie filling',
    acidProduceGrams: 1000,
    bottledLemonMl: 29.6,
    modifiedStarchGrams: 36,
    sugarGrams: 175,
    also: ['juice'],
    source: practice('weights for tests'),
  }
  const starch = (grams: number) => ingredientOf('modified-starch', { perKg: grams })
  const apples = (ingredients: Ingredient[]) => ({ inputs: [cropInput('apple')], ingredients })

  test('not more of the modified starch, and none of any other', () => {
    expect(kinds(filling, apples([lemon(30), starch(36)]))).toEqual([])
    expect(kinds(filling, apples([lemon(30)]))).toEqual([])
    expect(kinds(filling, apples([lemon(30), starch(45)]))).toEqual(['too-much-modified-starch'])
    const flour = ingredientOf('starch', { name: 'flour', perKg: 30 })
    expect(ingredientDepartures([flour], pint, rowOf('apple pie filling'), filling)).toMatchObject([{ kind: 'starch' }])
    const named = { ...filling, otherStarchGrams: 30 }
    expect(ingredientDepartures([flour], pint, rowOf('apple pie filling'), named)).toEqual([])
    expect(kinds(named, apples([lemon(30), ingredientOf('starch', { perKg: 40 })]))).toEqual(['starch'])
  })

  test('less lemon juice', () => {
    expect(kinds(filling, apples([lemon(20), starch(36)]))).toEqual(['less-acid'])
  })

  test('sugar may be left out of a filling, not out of a jam that keeps by it', () => {
    expect(kinds(filling, apples([lemon(30)]))).toEqual([])
    // Guide 7 p. 7-6: 4 cups of crushed berries, 4 cups of sugar; about 900 g and 800 g (own weight of the berries)
    const jam = {
      ...nothing,
      product: 'jam, no added pectin',
      acidProduceGrams: 900,
      sugarGrams: 800,
      sugarCounts: true,
    }
    const berries = (ingredients: Ingredient[]) => ({ inputs: [cropInput('blackberry')], ingredients })
    const published = { ...jam, source: memory('usda-2015', 'Guide 7 p. 7-6') }
    expect(kinds(published, berries([ingredientOf('sugar', { perKg: 889 })]))).toEqual([])
    expect(found(published, berries([ingredientOf('sugar', { perKg: 600 })]))).toMatchObject([
      { kind: 'less-sugar', at: 'ingredients.0' },
    ])
    // honey is about 82 % sugar
    expect(kinds(published, berries([ingredientOf('honey', { perKg: 1085 })]))).toEqual([])
    expect(kinds(published, berries([ingredientOf('honey', { perKg: 889 })]))).toEqual(['less-sugar'])
  })

  test('what the published recipe has besides is no departure, what it lacks is', () => {
    const also = { ...filling, also: ['nuts', 'dried-fruit'] as const }
    const of = (kind: IngredientKind) => [ingredientOf(kind, { perKg: 10 })]
    for (const kind of ['nuts', 'dried-fruit'] as const) {
      expect(ingredientDepartures(of(kind), pint, rowOf('apple pie filling'), also)).toEqual([])
    }
    for (const [kind, departs] of [
      ['oil', 'oil'],
      ['juice', 'other-recipe'],
      ['acid-fruit', 'other-produce'],
    ] as const) {
      expect(ingredientDepartures(of(kind), pint, rowOf('apple pie filling'), also)).toMatchObject([{ kind: departs }])
    }
    expect(ingredientDepartures(of('pectin'), pint, rowOf('apple pie filling'), also)).toMatchObject([
      { kind: 'other-recipe' },
    ])
  })
})
