import { describe, expect, test } from 'vitest'
import { type AllocationProblem, checkAllocation, solveAllocation } from '../../../src/core/allocation/index.ts'

// One kilogram that is soft today and gone before the only work day. Nothing can be made of it; only an outlet that
// takes soft produce today can have it.
function oneSoftKilogram(classes: ('ripe' | 'soft')[]): AllocationProblem {
  return {
    days: ['2026-09-20'],
    items: [
      {
        id: 'soft',
        lotId: 'lot',
        crop: 'damson',
        grams: 1_000,
        classByDay: [null],
        now: { date: '2026-09-18', class: 'soft' },
        usableUntil: '2026-09-19',
        keepWorthPerKg: null,
      },
    ],
    materials: [],
    products: [],
    machines: [],
    workers: [],
    rooms: [],
    supplies: [],
    outlets: [
      {
        id: 'pigs',
        name: 'pigs',
        capacityGrams: null,
        worthPerKg: 5,
        takesProduce: { crops: [], classes },
        takesMaterials: [],
      },
    ],
    budget: null,
    spoilagePerKg: 50,
  }
}

describe('what no work day will see', () => {
  test('goes to an outlet that takes it as it is today, by the last day on which it is of use', async () => {
    const problem = oneSoftKilogram(['soft'])
    const result = await solveAllocation(problem)
    expect(checkAllocation(problem, result)).toEqual([])
    expect(result.leftovers).toEqual([
      { from: { itemId: 'soft' }, grams: 1_000, to: { outletId: 'pigs' }, actBy: '2026-09-19' },
    ])
    expect(result.objective).toBe(5)
  })

  test('is lost where no outlet takes it as it is', async () => {
    const problem = oneSoftKilogram(['ripe'])
    const result = await solveAllocation(problem)
    expect(checkAllocation(problem, result)).toEqual([])
    expect(result.leftovers).toMatchObject([{ to: 'lost', grams: 1_000 }])
    expect(result.objective).toBe(-50)
  })

  test('may not be sent anywhere that does not take it', async () => {
    const answer = await solveAllocation(oneSoftKilogram(['soft']))
    const violations = checkAllocation(oneSoftKilogram(['ripe']), answer)
    expect(violations.map(({ rule }) => rule)).toContain('outlet')
  })
})
