import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { solveSchedule } from '../../../src/core/scheduling/index.ts'
import { batch, daily, helper, kitchen, recipe, step } from './days.ts'
import { cannerLoad } from './on-paper.ts'

const at = (days: number) => kitchen({}, [helper('a', { hours: daily(days, [{ from: 480, to: 1080 }]) })], { days })
const waits = (days: number, steps: Parameters<typeof recipe>[0], units = 6) => {
  const plan = planDays(at(days), [batch(recipe(steps), units, { day: 0 })])
  return timetableOf(plan, solveSchedule(plan.problem, { maxSchedules: 50 })).waits
}
const work = (minutes: number, more = {}) => step({ minutes: { perKg: minutes }, ...more })

describe('what waits', () => {
  test('stands from the end of its step for as long as the step says, into the next work day', () => {
    // 60 minutes of cutting from 8:00, then twelve hours in brine.
    expect(waits(2, [work(10, { waitMinutes: 720 }), work(5)])).toEqual([
      { batch: expect.any(String), step: 0, units: 6, from: 540, ready: 540 + 720 },
    ])
  })

  test('is told by the step at which nobody works: jars stand after the work before', () => {
    expect(waits(2, [work(10), step({ work: null, waitMinutes: 720 }), work(5)])).toEqual([
      { batch: expect.any(String), step: 1, units: 6, from: 540, ready: 1260 },
    ])
  })

  test('is told of the last day too, when no work day sees what comes next', () => {
    expect(waits(1, [work(10), step({ work: null, waitMinutes: 720 }), work(5)])).toEqual([
      { batch: expect.any(String), step: 1, units: 6, from: 540, ready: 1260 },
    ])
  })

  test('is not what a machine does by itself, on the last day either', () => {
    const oven = kitchen({ dehydrator: 1 }, [helper('a', { hours: daily(1, [{ from: 480, to: 1080 }]) })], { days: 1 })
    const trays = step({ station: 'oven', work: 'pack', equipment: ['dehydrator'], minutes: { perRun: 15 } })
    const pack = {
      runs: [{ ...cannerLoad, unitsPerRun: 3, machineMinutes: { dehydrator: 900 }, work: { pack: 15 } }],
    }
    const plan = planDays(oven, [batch(recipe([trays, work(5)], pack), 3, { day: 0 })])
    const table = timetableOf(plan, solveSchedule(plan.problem, { maxSchedules: 50 }))
    expect(table.entries.some(({ part }) => part === 'machine')).toBe(true)
    expect(table.afterwards.map((one) => one.step)).toEqual([1])
    expect(table.waits).toEqual([])
  })

  test('is nothing where one step follows the other', () => {
    expect(waits(2, [work(10), work(5)])).toEqual([])
  })
})
