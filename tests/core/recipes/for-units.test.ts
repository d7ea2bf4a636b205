import { describe, expect, test } from 'vitest'
import { seedRecipes } from '../../../seed/recipes.ts'
import { forUnits, settleRecipe, unitsOfALoad } from '../../../src/core/recipes/index.ts'
import { claimOf, cropInput, definitionOf, ingredientOf, lowKitchen, packOf } from './making.ts'

function recipe(name: string, key: string) {
  const definition = seedRecipes.find((one) => one.name === name)?.definition
  const pack = definition?.packs.find((one) => one.key === key)
  if (!definition || !pack) throw new Error(`no ${name} ${key}`)
  return { definition, pack }
}

describe('what so many units take', () => {
  // 2 1/2 lb of peaches a quart (USDA guide, Guide 2 p. 2-19); 1 minute of washing and 5 of cutting a kilogram are invented
  const pack = packOf({ gramsPerUnit: 1134, workPerUnit: { fill: 2, pack: 0.5 } })
  const peaches = definitionOf({
    inputs: [cropInput('peach')],
    packs: [pack],
    workPerKg: { wash: 1, cut: 5 },
    ingredients: [ingredientOf('sugar', { perUnit: { quart: 110 } })],
  })

  test('a canner load of peaches, worked by hand', () => {
    expect(unitsOfALoad(pack)).toBe(7)
    const load = forUnits(peaches, pack, 7)
    expect(load.rawGrams).toBe(7 * 1134)
    expect(load.runs).toEqual([{ name: 'canner load', many: 1, unitsPerRun: 7 }])
    expect(load.machineMinutes).toEqual({ canner: 35, burner: 35 })
    expect(load.supplies).toEqual({ 'jar-quart': 7, lid: 7, sugar: 770 })
    // 7.938 kg at 1 minute of washing and 5 of cutting; 2 minutes of filling and half a minute of packing a jar; 8 at the stove
    expect(load.handMinutes.wash).toBeCloseTo(7.938)
    expect(load.handMinutes.cut).toBeCloseTo(39.69)
    expect(load.handMinutes.fill).toBeCloseTo(14)
    expect(load.handMinutes.pack).toBeCloseTo(3.5)
    expect(load.handMinutes.stove).toBeCloseTo(8)
  })

  test('one jar more than a load is a second load', () => {
    expect(forUnits(peaches, pack, 8).machineMinutes).toEqual({ canner: 70, burner: 70 })
  })

  test('a settled recipe has the tested minutes in each load', () => {
    // Guide 2 p. 2-19, 2-20: peaches, hot pack, quarts: 25 minutes up to 1,000 ft
    const claims = { ...peaches, process: claimOf({ product: 'peaches' }) }
    const recipe = { id: 'p', name: 'Peaches', method: 'water-bath-canned' as const, definition: claims }
    const { definition } = settleRecipe(recipe, lowKitchen).recipe
    const [settled] = definition.packs
    if (settled === undefined) throw new Error('left out')
    expect(forUnits(definition, settled, 8).machineMinutes).toEqual({ canner: 120, burner: 120 })
  })

  test('shares give the least and the most of each input', () => {
    const { definition, pack } = recipe('Apple and blackberry leather', 'tray')
    const { inputs } = forUnits(definition, pack, 2)
    expect(inputs.map(({ leastGrams, mostGrams }) => [leastGrams, mostGrams])).toEqual([
      [650, 1040],
      [260, 650],
    ])
  })

  test('without runs a unit stands for itself', () => {
    const { definition, pack } = recipe('Frozen blackberries', 'bag-500g')
    expect(unitsOfALoad(pack)).toBe(1)
    expect(forUnits(definition, pack, 4)).toMatchObject({ runs: [], freezerMl: 4400, machineMinutes: {} })
  })

  test.each([0, -1, 1.5, Number.NaN])('%d units are refused', (units) => {
    const { definition, pack } = recipe('Frozen blackberries', 'bag-500g')
    expect(() => forUnits(definition, pack, units)).toThrow(RangeError)
  })
})
