import { lowerBound } from './bounds.ts'
import { Budget } from './budget.ts'
import { monotonicMs } from './clock.ts'
import { type Model, modelOf, never } from './model.ts'
import type { Schedule, SchedulingOptions, SchedulingProblem } from './problem.ts'
import { chanceFrom } from './random.ts'
import { startFrom } from './replay.ts'
import { type Found, search } from './search.ts'

export type SolveOptions = SchedulingOptions & {
  /** A schedule to begin with. If it still holds, the answer is no worse. */
  from?: Schedule
  /** Asked now and then; true ends the search with the best so far. */
  stop?: () => boolean
}

const defaultPasses = 5_000

/**
 * Starts (whole minutes) and people for every activity: as few weighted minutes late as found, then as early an end.
 * Deterministic for a seed and `maxSchedules` (5,000 where not given); `timeLimitMs` and `stop` only cut the search
 * off, after one pass at least. Throws RangeError that names the place if the problem cannot be meant, and if the
 * calendars leave no room for an activity or none was found.
 */
export function solveSchedule(problem: SchedulingProblem, options: SolveOptions = {}): Schedule {
  const model = modelOf(problem)
  const most = options.maxSchedules ?? defaultPasses
  if (!(most >= 1)) throw new RangeError(`maxSchedules ${most} is not a number from 1 up`)
  const budget = new Budget(Math.floor(most), stopOf(options))
  const bound = lowerBound(problem)
  if (bound === Number.POSITIVE_INFINITY) throw new RangeError('the calendars leave no room for all activities')
  const found = search(model, budget, chanceFrom(options.seed ?? 1), bound, startFrom(problem, model, options.from))
  return answerOf(problem, model, found, bound, Math.ceil(budget.spent))
}

function stopOf({ timeLimitMs, stop }: SolveOptions): () => boolean {
  if (timeLimitMs === undefined) return stop ?? (() => false)
  const end = monotonicMs() + timeLimitMs
  return () => monotonicMs() >= end || (stop?.() ?? false)
}

function answerOf(
  problem: SchedulingProblem,
  model: Model,
  found: Found | null,
  bound: number,
  schedulesTried: number,
): Schedule {
  const { activities, resources, people = [] } = problem
  const starts = found?.starts ?? new Int32Array(0)
  const outside = activities.find((_, index) => (starts[index] ?? never) >= never)
  if (outside) throw new RangeError(`activity "${outside.id}" found no room in the calendars`)
  const name = (lane: number) => people[lane - resources.length]?.id ?? ''
  return {
    start: Object.fromEntries(activities.map(({ id }, index) => [id, starts[index] ?? 0])),
    people: Object.fromEntries(
      activities.map(({ id, phases }, index) => [
        id,
        phases.map((_, phase) => Array.from(found?.crews[index]?.[phase] ?? [], name)),
      ]),
    ),
    makespan: model.count === 0 ? 0 : (found?.span ?? 0),
    lowerBound: bound,
    lateness: found?.lateness ?? 0,
    schedulesTried,
  }
}
