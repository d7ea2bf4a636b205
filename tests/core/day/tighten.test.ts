import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { lengthOfAll } from '../../../src/core/day/edits.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { lastHands, tightened } from '../../../src/core/day/tighten.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { batch, daily, helper, kitchen, recipe, step } from './days.ts'
import { faultsOf } from './faults.ts'
import { cannerLoad } from './on-paper.ts'
import { randomDays } from './random-kitchen.ts'

const hours = daily(2, [{ from: 480, to: 1080 }])
const two = [helper('a', { hours }), helper('b', { hours })]

/** An hour of cutting in each batch. */
function cutting(id: string, day: number) {
  return batch(recipe([step({ minutes: { perKg: 10 } })], {}, id), 6, { day })
}

/** The schedule with everything of a day later by some minutes. */
function loosened(plan: DayPlan, schedule: Schedule, day: number, minutes: number): Schedule {
  const start = Object.fromEntries(
    plan.activities.map(({ activity: { id }, day: on }) => [
      id,
      (schedule.start[id] ?? 0) + (on === day ? minutes : 0),
    ]),
  )
  const makespan = Math.max(...plan.problem.activities.map((one) => (start[one.id] ?? 0) + lengthOfAll(one)))
  const loose = { ...schedule, start, makespan }
  expect(checkSchedule(plan.problem, loose)).toEqual([])
  return loose
}

describe('two days', () => {
  const plan = planDays(kitchen({}, two, { days: 2 }), [cutting('x', 0), cutting('y', 0), cutting('z', 1)])
  const solved = solveSchedule(plan.problem, { maxSchedules: 100 })

  test('the earlier one ends as soon as can be, which nothing asked for before', () => {
    const loose = loosened(plan, solved, 0, 200)
    expect(lastHands(plan, loose, 0)).toBe(480 + 200 + 60 + 20)
    const { schedule, days } = tightened(plan, loose)
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
    // Two batches of an hour for two helpers, and 20 minutes to clean up; one batch on the second day.
    expect(days).toEqual([
      { ends: 480 + 60 + 20, bound: 480 + 60 + 20 },
      { ends: 1440 + 480 + 60 + 20, bound: 1440 + 480 + 60 + 20 },
    ])
    expect(schedule.makespan).toBe(solved.makespan)
  })

  test('stays as it is where it is tight, and when told to stop', () => {
    const { schedule } = tightened(plan, solved)
    expect(tightened(plan, schedule).schedule).toEqual(schedule)
    const loose = loosened(plan, solved, 0, 200)
    expect(tightened(plan, loose, { stop: () => true }).schedule).toEqual(loose)
  })

  test('a day without work has no end', () => {
    const second = planDays(kitchen({}, two, { days: 2 }), [cutting('z', 1)])
    const { days } = tightened(second, solveSchedule(second.problem, { maxSchedules: 50 }))
    expect(days.map(({ ends }) => ends)).toEqual([null, 1440 + 480 + 60 + 20])
  })
})

test('a machine that runs through the night does not count as hands, and holds its place', () => {
  // Trays are in on the first day after 15 minutes and dry until the second morning; that day's trays wait for them.
  const drying = (id: string, day: number) =>
    batch(
      recipe(
        [step({ station: 'oven', work: 'pack', equipment: ['dehydrator'], minutes: { perRun: 15 } })],
        { runs: [{ ...cannerLoad, unitsPerRun: 3, machineMinutes: { dehydrator: 1500 }, work: { pack: 15 } }] },
        id,
      ),
      3,
      { day },
    )
  const at = kitchen({ dehydrator: 1 }, two, { days: 2 })
  const plan = planDays(at, [drying('x', 0), drying('y', 1)])
  const solved = solveSchedule(plan.problem, { maxSchedules: 100 })
  const { schedule, days } = tightened(plan, loosened(plan, solved, 1, 30))
  expect(checkSchedule(plan.problem, schedule)).toEqual([])
  expect(days[0]).toEqual({ ends: 480 + 15 + 20, bound: 480 + 15 + 20 })
  expect(days[1]?.ends).toBe(1440 + 480 + 15 + 20)
})

describe('kitchens by chance', () => {
  test.each(Array.from({ length: 60 }, (_, seed) => seed + 1))('kitchen %i', (seed) => {
    const { at, batches } = randomDays(seed)
    const plan = planDays(at, batches)
    const before = solveSchedule(plan.problem, { seed, maxSchedules: 10 })
    const { schedule, days } = tightened(plan, before, { seed, maxSchedules: 20 })
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
    expect(faultsOf(plan, schedule, timetableOf(plan, schedule))).toEqual([])
    expect(schedule.lateness).toBeLessThanOrEqual(before.lateness)
    const hands = days.map((_, day) => [lastHands(plan, schedule, day), lastHands(plan, before, day)] as const)
    if (schedule.lateness === before.lateness)
      for (const [ends, ended] of hands) if (ended !== null) expect(ends).toBeLessThanOrEqual(ended)
    // A machine may run on by itself for longer, but only for hands that are done earlier or for less that is late.
    if (schedule.makespan > before.makespan)
      expect(
        schedule.lateness < before.lateness || hands.some(([ends, ended]) => ends !== null && ends < (ended ?? 0)),
      ).toBe(true)
    for (const { ends, bound } of days) if (ends !== null) expect(ends).toBeGreaterThanOrEqual(bound ?? 0)
    expect(tightened(plan, before, { seed, maxSchedules: 20 }).schedule).toEqual(schedule)
  })
})
