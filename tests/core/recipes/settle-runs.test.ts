import { describe, expect, test } from 'vitest'
import type { EquipmentOnHand } from '../../../src/core/division/index.ts'
import { forUnits, type Recipe, settleRuns } from '../../../src/core/recipes/index.ts'
import { definitionOf, packOf } from './making.ts'

const pot = {
  name: 'pot',
  unitsPerRun: 14,
  fillAtLeast: 0.5,
  machineMinutes: { burner: 20 },
  work: {},
  process: false,
}
const plums: Recipe = {
  id: 'plums',
  name: 'Plums',
  method: 'water-bath-canned',
  definition: definitionOf({
    packs: [packOf({ runs: [pot, ...packOf().runs] }), packOf({ key: 'pint', jar: 'pint', gramsPerUnit: 450 })],
  }),
}

function machine(id: string, more: Partial<EquipmentOnHand>): EquipmentOnHand {
  return { id, kind: 'canner', name: id, count: 1, roomMl: null, aroundTheClock: false, outOn: [], ...more }
}

const loadsOf = (recipe: Recipe) =>
  recipe.definition.packs.map(({ key, runs }) => [key, runs.map(({ unitsPerRun }) => unitsPerRun)])

describe('loads that the canners at hand can hold', () => {
  test('are as large as the smallest canner of the kind takes of that jar; pots stay', () => {
    const settled = settleRuns(plums, [
      machine('big', { holds: { quart: 6, pint: 9 } }),
      machine('small', { holds: { quart: 4 } }),
      machine('untold', {}),
    ])
    expect(loadsOf(settled)).toEqual([
      ['quart', [14, 4]],
      ['pint', [7]],
    ])
    const quarts = settled.definition.packs[0]
    if (!quarts) throw new Error('no pack')
    // 14 quarts by fours are four loads of 35 minutes, where two of seven were enough.
    expect(forUnits(settled.definition, quarts, 14).machineMinutes.canner).toBe(4 * 35)
    expect(loadsOf(plums)[0]).toEqual(['quart', [14, 7]])
  })

  test('keep their minutes, whatever is stated of coming up and cooling down', () => {
    const settled = settleRuns(plums, [machine('a', { holds: { quart: 5 }, comeUpMinutes: 60, coolDownMinutes: 60 })])
    expect(settled.definition.packs[0]?.runs[1]).toEqual({ ...plums.definition.packs[0]?.runs[1], unitsPerRun: 5 })
    expect(settled.definition.packs[1]).toBe(plums.definition.packs[1])
  })

  test.each<[string, EquipmentOnHand[]]>([
    ['no machines', []],
    ['nothing stated', [machine('a', {})]],
    ['more than the recipe says', [machine('a', { holds: { quart: 9, pint: 7 } })]],
    ['another kind', [machine('a', { kind: 'pressure-canner', holds: { quart: 2, pint: 2 } })]],
    ['none of them', [machine('a', { count: 0, holds: { quart: 2, pint: 2 } })]],
    ['another jar', [machine('a', { holds: { 'half-pint': 2 } })]],
  ])('are the same recipe with %s', (_, equipment) => {
    expect(settleRuns(plums, equipment)).toBe(plums)
  })

  test.each([0, -1, 2.5, Number.NaN])('%d jars are refused', (quart) => {
    expect(() => settleRuns(plums, [machine('a', { holds: { quart } })])).toThrow(RangeError)
  })
})
