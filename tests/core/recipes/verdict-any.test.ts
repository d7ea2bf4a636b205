import fc from 'fast-check'
import { expect, test } from 'vitest'
import { jarSizes, processTable } from '../../../src/core/process/index.ts'
import { crops } from '../../../src/core/produce/index.ts'
import { methods } from '../../../src/core/produce/vocabulary.ts'
import { type IngredientKind, ingredientKinds, type RecipeToJudge, verdictOn } from '../../../src/core/recipes/index.ts'
import { cropsPublishedFor } from '../../../src/core/recipes/published-crops.ts'
import { claimOf, cropInput, definitionOf, ingredientOf, packOf } from './making.ts'

const rows = processTable()
const anyIngredients = (kinds: readonly IngredientKind[]) =>
  fc.array(
    fc.record({
      kind: fc.constantFrom(...kinds),
      unit: fc.constantFrom('g' as const, 'ml' as const, 'piece' as const),
      perKg: fc.double({ min: 0, max: 1000, noNaN: true }),
      each: fc.double({ min: 0, max: 200, noNaN: true }),
    }),
    { maxLength: 4 },
  )

/** Claims a row of the tables, often with the row's own way of heating, jar and crop, so that many follow it. */
const anyRecipe: fc.Arbitrary<RecipeToJudge> = fc
  .record({
    row: fc.constantFrom(...rows),
    fitting: fc.boolean(),
    method: fc.constantFrom(...methods),
    jar: fc.constantFrom(...jarSizes, null),
    keys: fc.uniqueArray(fc.constantFrom(...crops.map(({ key }) => key)), { minLength: 1, maxLength: 3 }),
    gramsPerUnit: fc.integer({ min: 1, max: 4000 }),
    ingredients: fc.oneof(
      anyIngredients(ingredientKinds),
      anyIngredients(['sugar', 'bottled-lemon-juice', 'vinegar-5']),
    ),
  })
  .map(({ row, fitting, method, jar, keys, gramsPerUnit, ingredients }) => {
    const own = row.method === 'boiling-water' ? 'water-bath-canned' : 'pressure-canned'
    const fits = fitting ? (cropsPublishedFor(row.product) ?? keys).slice(0, 1) : keys
    return {
      method: fitting ? own : method,
      definition: definitionOf({
        inputs: fits.map((key, _, all) => cropInput(key, 1 / all.length)),
        packs: [packOf({ jar: fitting ? (row.jars.at(-1) ?? null) : jar, gramsPerUnit })],
        process: claimOf({ product: row.product, form: fitting ? row.form : null, pack: row.pack }),
        ingredients: ingredients.map(({ kind, unit, perKg, each }) =>
          ingredientOf(kind, { unit, perKg, perUnit: { quart: each } }),
        ),
      }),
    }
  })
const anyPlace = fc.record({
  altitudeM: fc.option(fc.integer({ min: -100, max: 3500 })),
  gauges: fc.subarray(['dial' as const, 'weighted' as const]),
  local: fc.constant([]),
})

test('whatever is claimed, a shelf is only for what is dried or follows its table without a difference', () => {
  let tested = 0
  fc.assert(
    fc.property(anyRecipe, anyPlace, (recipe, place) => {
      const verdict = verdictOn(recipe, place)
      const [pack] = verdict.packs
      if (pack === undefined) throw new Error('no pack')
      expect(pack.shelfStable).toBe(pack.standing === 'tested' || recipe.method === 'dried')
      if (pack.standing === 'tested') {
        tested += 1
        expect(pack.departures).toEqual([])
        expect(pack.process?.minutes).toBeGreaterThan(0)
        expect(place.altitudeM).not.toBeNull()
      }
      if (pack.standing === 'departs') expect(pack.departures.length).toBeGreaterThan(0)
      expect(verdict.standing).toBe(pack.standing)
      for (const { says } of pack.departures) expect(says).not.toMatch(/NaN|undefined|Infinity|\bsafe\b/)
    }),
    { numRuns: 3000 },
  )
  expect(tested).toBeGreaterThan(50)
})

test('what is no more acid and holds more starch, oil or meat never comes to follow a table by it', () => {
  fc.assert(
    fc.property(anyRecipe, anyPlace, fc.constantFrom('starch', 'oil', 'meat', 'lime'), (recipe, place, kind) => {
      const { definition } = recipe
      const worse = [...definition.ingredients, ingredientOf(kind, { perKg: 50 })]
      const [before] = verdictOn(recipe, place).packs
      const [after] = verdictOn({ ...recipe, definition: { ...definition, ingredients: worse } }, place).packs
      if (before?.standing === 'departs') expect(after?.standing).toBe('departs')
      if (after?.standing === 'tested') expect(before?.standing).toBe('tested')
    }),
    { numRuns: 1500 },
  )
})
