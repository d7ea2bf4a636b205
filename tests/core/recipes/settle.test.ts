import { describe, expect, test } from 'vitest'
import { type Recipe, settleRecipe } from '../../../src/core/recipes/index.ts'
import { claimOf, cropInput, definitionOf, lowKitchen, packOf } from './making.ts'

const plums: Recipe = {
  id: 'plums',
  name: 'Plums in light syrup',
  method: 'water-bath-canned',
  definition: definitionOf({
    packs: [
      packOf(),
      packOf({ key: 'pint', jar: 'pint', gramsPerUnit: 450 }),
      packOf({ key: 'half-gallon', jar: 'half-gallon', gramsPerUnit: 1800 }),
    ],
  }),
}

describe('a recipe as the division sees it', () => {
  test.each([
    // Guide 2 p. 2-22, hot pack: quarts 25, 30, 35, 40; pints 20, 25, 30, 35 minutes
    [200, 25, 20],
    [1500, 35, 30],
  ])('at %d m keeps its machines busy %d minutes longer for quarts, %d for pints', (altitudeM, quarts, pints) => {
    const { recipe, leftOut } = settleRecipe(plums, { ...lowKitchen, altitudeM })
    expect(recipe.definition.packs.map(({ key, runs }) => [key, runs[0]?.machineMinutes, runs[0]?.process])).toEqual([
      ['quart', { canner: 35 + quarts, burner: 35 + quarts }, false],
      ['pint', { canner: 35 + pints, burner: 35 + pints }, false],
    ])
    expect(leftOut).toMatchObject([{ pack: 'half-gallon', departures: [{ kind: 'bigger-jar' }] }])
  })

  test('leaves every pack out where nobody has said how high the kitchen lies', () => {
    const { recipe, leftOut } = settleRecipe(plums, { ...lowKitchen, altitudeM: null })
    expect(recipe.definition.packs).toEqual([])
    expect(leftOut.map(({ pack }) => pack)).toEqual(['quart', 'pint', 'half-gallon'])
  })

  test('leaves runs alone that are not heated, and the recipe it was given', () => {
    const pot = {
      name: 'pot',
      unitsPerRun: 7,
      fillAtLeast: 0.5,
      machineMinutes: { burner: 20 },
      work: {},
      process: false,
    }
    const before = { ...plums, definition: definitionOf({ packs: [packOf({ runs: [pot, ...packOf().runs] })] }) }
    const { recipe } = settleRecipe(before, lowKitchen)
    expect(recipe.definition.packs[0]?.runs[0]).toEqual(pot)
    expect(recipe.definition.packs[0]?.runs[1]?.machineMinutes).toEqual({ canner: 60, burner: 60 })
    expect(before.definition.packs[0]?.runs[1]?.machineMinutes).toEqual({ canner: 35, burner: 35 })
  })

  test('settling twice adds the minutes once', () => {
    const once = settleRecipe(plums, lowKitchen).recipe
    expect(settleRecipe(once, lowKitchen).recipe).toEqual(once)
  })

  test('takes the longest of the gauges at hand', () => {
    // Guide 2 p. 2-31 and 2-32: plums in quarts 10 minutes with either gauge
    const pressed: Recipe = { ...plums, method: 'pressure-canned' }
    const { recipe } = settleRecipe(pressed, lowKitchen)
    expect(recipe.definition.packs[0]?.runs[0]?.machineMinutes.canner).toBe(45)
  })

  test('brings back what is not canned as it is', () => {
    const frozen: Recipe = {
      ...plums,
      method: 'frozen',
      definition: definitionOf({ inputs: [cropInput('fig')], process: null, packs: [packOf({ jar: null, runs: [] })] }),
    }
    expect(settleRecipe(frozen, lowKitchen)).toEqual({ recipe: frozen, leftOut: [] })
  })

  test('follows a process that the co-op noted', () => {
    const local = {
      id: 'one',
      product: 'damson cheese',
      method: 'boiling-water' as const,
      pack: 'hot' as const,
      jars: ['quart' as const],
      fromM: 0,
      toM: 500,
      minutes: 15,
      kPa: null,
      headspaceMm: 6,
      acid: '',
      source: 'invented for tests',
      notedBy: 'Mara',
      notedOn: '2026-09-01',
      withdrawn: false,
    }
    const cheese = { ...plums, definition: definitionOf({ process: claimOf({ local: 'one' }) }) }
    const { recipe } = settleRecipe(cheese, { ...lowKitchen, local: [local] })
    expect(recipe.definition.packs[0]?.runs[0]?.machineMinutes.canner).toBe(50)
  })
})
