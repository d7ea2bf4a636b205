import { capacityViolations } from './check/capacity.ts'
import { gramViolations } from './check/grams.ts'
import { leftoverViolations } from './check/leftovers.ts'
import { shapeViolations } from './check/shape.ts'
import { worthViolations } from './check/worth.ts'
import type { AllocationProblem } from './problem.ts'
import type { AllocationResult } from './result.ts'

/** A rule that a division breaks, and where. */
export type Violation = { rule: CheckRule; detail: string }

/** Every rule that is checked. */
export const checkRules = [
  'id', // names only what is there
  'whole', // grams, units, packs and runs are whole and not negative; nothing is listed twice
  'item-balance', // every gram of an item is used once
  'material-balance', // every gram of a material of a day is used once
  'made', // batches give as much material as they must, in whole grams rounded down
  'batch-grams', // a batch weighs its units, and its inputs weigh the batch
  'share', // each input is within a gram of its share
  'class', // an item is of an accepted class on the day
  'day', // a product is made only on its days
  'at-most-by-day', // not more of a product on a day than it may be there
  'timing', // a material is used when it is ready and as long as it keeps
  'runs', // as many starts as the units need
  'fill', // the last start of a day is full enough
  'machine',
  'hands',
  'room',
  'supply', // enough packs, not more than needed, not more than may be bought
  'budget',
  'wish', // not more than at most; shortfalls as they are
  'outlet', // an outlet takes only what it accepts
  'outlet-capacity',
  'cascade', // nothing lies in a later outlet, or is lost, while an earlier place that takes it has room
  'kept', // only what keeps is kept
  'act-by',
  'objective', // worth recomputed from the division
  'bound', // no division is worth more than its bound
  'gap',
  'status',
] as const
export type CheckRule = (typeof checkRules)[number]

/**
 * Checks a division against its problem, rule by rule, from nothing but the two (it shares no code with the solving).
 * An empty list: it stands. `problem` must be one that `checkProblem` accepts.
 */
export function checkAllocation(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const shape = shapeViolations(problem, result)
  // With names that lead nowhere or grams that are no numbers the sums below would say nothing.
  if (shape.some(({ rule }) => rule === 'id' || rule === 'whole')) return shape
  return [
    ...shape,
    ...gramViolations(problem, result),
    ...capacityViolations(problem, result),
    ...leftoverViolations(problem, result),
    ...worthViolations(problem, result),
  ]
}
