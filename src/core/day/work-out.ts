import type { AllocationResult } from '../allocation/result.ts'
import { askDivision } from '../division/ask.ts'
import type { Question } from '../division/question.ts'
import { summarise } from '../division/summary.ts'
import type { KitchenPlace } from '../recipes/verdict-types.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../scheduling/index.ts'
import { activitiesOf } from './activities.ts'
import { batchesOf, processAt } from './batch.ts'
import { loadsInOrder } from './load-order.ts'
import { type NotedPlan, notedPlan } from './noted.ts'

export type WorkOutOptions = { seed?: number; maxSchedules?: number; timeLimitMs?: number; stop?: () => boolean }

/** What a thread gives back: the plan without its recipes, and a schedule of it that was checked. */
export type WorkedOut = { plan: NotedPlan; schedule: Schedule }

/**
 * A division on the clock: its batches as activities at this place, and a schedule for them. What does not fit into the
 * work days is in the schedule beyond them, and `timetableOf` names it. A division that makes nothing has no activities.
 *
 * @throws Error where the checker finds something in the schedule, which is a fault of ours
 */
export function workOutTimetable(
  question: Question,
  result: AllocationResult,
  place: KitchenPlace,
  options: WorkOutOptions = {},
): WorkedOut {
  const summary = summarise(question, askDivision(question), result)
  const plan = activitiesOf(question, batchesOf(question, summary, processAt(place)))
  const schedule = loadsInOrder(plan, solveSchedule(plan.problem, options))
  const faults = checkSchedule(plan.problem, schedule)
  const [first] = faults
  if (first) {
    throw new Error(
      `${faults.length} faults in the schedule, first ${first.rule} at ${first.activity}: ${first.detail}`,
    )
  }
  return { plan: notedPlan(plan), schedule }
}
