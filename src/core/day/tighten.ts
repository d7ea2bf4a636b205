import { checkSchedule, lowerBound, type SolveOptions, solveSchedule } from '../scheduling/index.ts'
import type { Schedule } from '../scheduling/problem.ts'
import { isLabelling } from './labelling.ts'
import { boundProblem, dayProblem, endOf } from './one-day.ts'
import type { TimetablePlan } from './plan.ts'

/** Minutes of the kitchen's axis; both null for a day without hands. */
export type DayEnd = {
  /** When the last hands of the day's work are done; null: not all of it fits into the work days. */
  ends: number | null
  /** No order of the day's work ends its hands earlier while that of other days stays and nothing more is late. */
  bound: number | null
}

const ordinaryPasses = 1_000

/** Of a day that is not proved best; one that is near enough to its bound, and has nothing late, has fewer. */
const mostSearches = 6
const searchesWhenNear = 2
/** A part of the time from opening to the bound. Our choice. */
const near = 0.025

/**
 * The same timetable with each day's hands done as early as can be found while all other days stay: a schedule as a
 * whole is judged by its last end, and leaves earlier days loose. `maxSchedules` is for each search, of which a day has
 * up to six. Day by day, hands never done later, never with more that is late (a machine may run by itself for longer
 * into the night), and the same for the same schedule. `ends` and `bound` are told of each work day.
 */
export function tightened(
  plan: TimetablePlan,
  schedule: Schedule,
  {
    seed = 1,
    maxSchedules = ordinaryPasses,
    stop = () => false,
  }: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'> = {},
): { schedule: Schedule; days: DayEnd[] } {
  let best = schedule
  const days = plan.kitchen.days.map((_, day): DayEnd => {
    if (!plan.activities.some((one) => one.day === day && one.activity.phases.some(isAttended)))
      return { ends: null, bound: null }
    const bound = lowerBound(boundProblem(plan, best, day))
    for (let tried = 0; tried < mostSearches && !stop(); tried++) {
      const isTight = (lastHands(plan, best, day) ?? Number.POSITIVE_INFINITY) <= bound
      if (isTight || (tried >= searchesWhenNear && isNear(plan, best, day, bound) && !isLate(plan, best, day))) break
      const { problem, from } = dayProblem(plan, best, day, bound)
      // What was not found from here may be found from anywhere.
      const begin = tried === 0 ? { from } : {}
      best = better(plan, best, solveSchedule(problem, { seed: seed + tried, maxSchedules, stop, ...begin }), day)
    }
    return { ends: lastHands(plan, best, day), bound }
  })
  return { schedule: best, days }
}

/** When the last hands of a day's work are done, labels aside; null where there are none or not all are within the work days. */
export function lastHands(plan: TimetablePlan, { start }: Schedule, day: number): number | null {
  const own = plan.activities.filter(
    (one) => one.day === day && one.activity.phases.some(isAttended) && !isLabelling(plan.batches, one),
  )
  const ends = own.map(({ activity: { id, phases } }) => {
    const last = phases.findLastIndex(isAttended)
    return (start[id] ?? plan.beyond) + phases.slice(0, last + 1).reduce((sum, { minutes }) => sum + minutes, 0)
  })
  const end = Math.max(0, ...ends)
  return own.length === 0 || end >= plan.beyond ? null : end
}

function isAttended({ people = [] }: { people?: { count: number }[] }): boolean {
  return people.some(({ count }) => count > 0)
}

function isNear(plan: TimetablePlan, schedule: Schedule, day: number, bound: number): boolean {
  const opens = plan.kitchen.days[day]?.opens ?? 0
  return (lastHands(plan, schedule, day) ?? Number.POSITIVE_INFINITY) - bound <= near * (bound - opens)
}

function isLate(plan: TimetablePlan, { start }: Schedule, day: number): boolean {
  return plan.activities.some(
    ({ activity, day: on }) => on === day && endOf(activity, start) > (activity.due ?? Number.POSITIVE_INFINITY),
  )
}

/** A day's new starts and people in the whole, where that holds, is no later and ends earlier or is late by less. */
function better(plan: TimetablePlan, old: Schedule, found: Schedule, day: number): Schedule {
  const own = new Set(plan.activities.flatMap((one) => (one.day === day ? [one.activity.id] : [])))
  const start = { ...old.start }
  const people = { ...old.people }
  for (const id of own) {
    start[id] = found.start[id] ?? start[id] ?? 0
    people[id] = found.people[id] ?? people[id] ?? []
  }
  const { activities } = plan.problem
  const lateness = activities.reduce(
    (sum, one) => sum + (one.weight ?? 1) * Math.max(0, endOf(one, start) - (one.due ?? Number.POSITIVE_INFINITY)),
    0,
  )
  const makespan = Math.max(0, ...activities.map((one) => endOf(one, start)))
  const made = { ...old, start, people, lateness, makespan }
  if (lateness > old.lateness) return old
  const ends = lastHands(plan, made, day) ?? Number.POSITIVE_INFINITY
  const gains = ends < (lastHands(plan, old, day) ?? Number.POSITIVE_INFINITY) || lateness < old.lateness
  return gains && checkSchedule(plan.problem, made).length === 0 ? made : old
}
