import { expect } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import type { Kitchen } from '../../../src/core/day/kitchen.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { checkSchedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { step } from './days.ts'

// For days whose best end is proved on paper. They begin at minute 480; cleaning up takes 20 minutes.

export function solved(at: Kitchen, batches: Batch[]) {
  const plan = planDays(at, batches)
  const schedule = solveSchedule(plan.problem, { maxSchedules: 400 })
  expect(checkSchedule(plan.problem, schedule)).toEqual([])
  return { plan, schedule, table: timetableOf(plan, schedule) }
}

/** Cooking, filling, the canner: for five jars 10, 10 and 100 minutes. */
export const canning = [
  step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perUnit: 2 }, thenAtOnce: true }),
  step({ station: 'fill', work: 'fill', minutes: { perUnit: 2 }, thenAtOnce: true }),
  step({ station: 'canner', work: 'stove', equipment: ['canner', 'burner'], minutes: { perRun: 8 } }),
]
export const cannerLoad = {
  name: 'canner load',
  unitsPerRun: 5,
  fillAtLeast: 0.5,
  machineMinutes: { canner: 100, burner: 100 },
  work: { stove: 8 },
  process: false,
}
