import { followLinks, openFrames } from './bounds/frames.ts'
import { boundModel } from './bounds/model.ts'
import { exclusivePairs } from './bounds/pairs.ts'
import { lacksEnergy, type Narrowing, narrowed, narrowingTo, type Trial } from './bounds/refute.ts'
import { shaved } from './bounds/shave.ts'
import { scratchFor } from './bounds/timetable.ts'
import { workBound } from './bounds/work.ts'
import type { SchedulingProblem } from './problem.ts'

const ordinarySteps = 1_000_000
const ordinaryShaving = 100_000

export type BoundOptions = {
  /**
   * Elementary steps to spend on suppositions (shaving) after the other rules: 100,000 where not given, 0 for none.
   * A million take some 5 ms and often raise the bound further.
   */
  shavingSteps?: number
}

/**
 * A makespan in minutes that no schedule goes below; Infinity if it is certain that there is no schedule. Starts from
 * the critical path (with lags, earliest starts and calendars) or the work of one resource and goes up for as long as
 * it can be refuted that all is done by then: a destructive bound (Klein and Scholl 1999, from memory). People are
 * limits of each set of skills. The same problem gives the same bound: effort is counted in elementary steps, not in
 * time. `problem` must be one that `solveSchedule` accepts; names that lead nowhere and circles throw RangeError.
 */
export function lowerBound(problem: SchedulingProblem, { shavingSteps = ordinaryShaving }: BoundOptions = {}): number {
  const model = boundModel(problem)
  const open = openFrames(model, model.horizon)
  const effort = { left: ordinarySteps }
  const trial: Trial = { model, pairs: exclusivePairs(model), scratch: scratchFor(model), effort }
  if (followLinks(model, open, effort) === 'refuted') return Number.POSITIVE_INFINITY
  let bound = workBound(model, open, effort)
  for (let i = 0; i < model.count; i++) bound = Math.max(bound, (open.first[i] ?? 0) + (model.minutes[i] ?? 0))
  bound = raise(trial, bound, 1, (known) => narrowed(trial, known))
  bound = raise(trial, bound, 1, (known) => narrowed(trial, known) || lacksEnergy(trial, known))
  if (shavingSteps <= 0) return bound
  effort.left = shavingSteps
  // What shaving cannot refute costs it most, so it takes care not to step too far.
  return raise(trial, bound, 8, (known) => narrowed(trial, known) || lacksEnergy(trial, known) || shaved(trial, known))
}

/**
 * The bound raised in steps that double each time so many in turn are refuted, then by halves. Each moment that is
 * refuted proves itself that no schedule ends by then, so none need be tried in between.
 */
function raise(trial: Trial, bound: number, inTurn: number, refutes: (known: Narrowing) => boolean): number {
  const { horizon } = trial.model
  if (bound > horizon) return Number.POSITIVE_INFINITY
  // Every moment before `below` is refuted; `open` is the first that was tried in vain.
  let below = bound
  let open = Number.POSITIVE_INFINITY
  let refuted = 0
  for (let step = 1; open > below; ) {
    const tried = open === Number.POSITIVE_INFINITY ? Math.min(below + step - 1, horizon) : (below + open - 1) >> 1
    if (!refutes(narrowingTo(trial, tried))) open = tried
    else if (tried >= horizon) return Number.POSITIVE_INFINITY
    else {
      below = tried + 1
      refuted++
      if (refuted % inTurn === 0) step *= 2
    }
  }
  return below
}
