import { checkAllocation } from '../allocation/check.ts'
import type { AllocationProblem, SolveOptions } from '../allocation/problem.ts'
import type { AllocationResult } from '../allocation/result.ts'
import { solveFrom } from '../allocation/solve.ts'
import { activitiesOf } from '../day/activities.ts'
import { type Batch, batchesOf, processAt } from '../day/batch.ts'
import type { KitchenOptions } from '../day/kitchen.ts'
import { loadsInOrder } from '../day/load-order.ts'
import type { DayPlan } from '../day/plan.ts'
import { type Late, type Timetable, timetableOf } from '../day/timetable.ts'
import { askDivision, productId } from '../division/ask.ts'
import type { ClockLimit, Question } from '../division/question.ts'
import { summarise } from '../division/summary.ts'
import type { KitchenPlace } from '../recipes/verdict-types.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../scheduling/index.ts'
import { finishedInTime, lateThatCounts } from './late.ts'

export type AgreeOptions = {
  place: KitchenPlace
  /** For the schedules. */
  seed?: number
  maxSchedules?: number
  /** For each division that is solved again. */
  allocation?: SolveOptions
  /** Divisions solved again at most; 6 where not given. */
  rounds?: number
  /** Polled between divisions and schedules; true ends it with what there is. */
  stop?: () => boolean
  /** Told after each timetable: how many divisions were solved again, and how many units the clock does not hold. */
  tell?: (told: { round: number; unitsOver: number }) => void
}

/** A division and a timetable that make the same units, as far as `holds` is true. */
export type Agreement = {
  /** With what the timetables taught in its `clock`. */
  question: Question
  result: AllocationResult
  batches: Batch[]
  plan: DayPlan
  schedule: Schedule
  timetable: Timetable
  /** Everything that was divided is done within its day, and nothing is impossible. */
  holds: boolean
  /** Divisions solved again. */
  rounds: number
  /** What the clock changed: units by product and day of the first division and of the last, those that changed. */
  gave: Gave[]
  /** Where it does not hold: what is late (`lateThatCounts`). */
  late: Late[]
}

export type Gave = {
  productId: string
  before: number
  after: number
  days: { day: number; before: number; after: number }[]
}

/**
 * Puts a division on the clock, and where the clock does not hold it, cuts it and divides again: of each batch that was
 * not finished in time, that day makes at most as many units as were finished. Recipes are settled at the place already.
 *
 * It ends, with any number of rounds: a cut lowers the limit of at least one product on one day to fewer units than the
 * last division made there, which were no more than the limit before it. Limits are whole, never negative, never
 * loosened, and before the first cut no division makes more than what was wished at most; so there are no more cuts than
 * the wishes' most units times the days. With all limits at 0 nothing is made, and an empty timetable holds.
 *
 * A schedule is the best that was found, so a cut may take off more than the clock would: it is never too little.
 *
 * @throws Error where a checker finds something in a division or a schedule, which is a fault of ours
 */
export async function agree(question: Question, result: AllocationResult, options: AgreeOptions): Promise<Agreement> {
  const { rounds = 6, stop = () => false, tell = () => {} } = options
  demandDivision(askDivision(question), result)
  let now = onTheClock(question, result, options)
  let round = 0
  for (;;) {
    const over = finishedInTime(now.plan, now.timetable)
    const unitsOver = over.reduce((sum, { batch, finished }) => sum + unitsOf(now.batches, batch) - finished, 0)
    tell({ round, unitsOver })
    if (over.length === 0 || round >= rounds || stop()) {
      return {
        ...now,
        holds: over.length === 0,
        rounds: round,
        gave: gaveBetween(result, now.result),
        late: lateThatCounts(now.plan, now.timetable),
      }
    }
    const cut = withCuts(now.question, now.batches, over)
    const problem = askDivision(cut)
    const divided = await solveFrom(problem, now.result, options.allocation)
    demandDivision(problem, divided)
    now = onTheClock(cut, divided, options)
    round++
  }
}

type OnTheClock = Pick<Agreement, 'question' | 'result' | 'batches' | 'plan' | 'schedule' | 'timetable'>

function onTheClock(
  question: Question,
  result: AllocationResult,
  { place, seed, maxSchedules }: AgreeOptions,
): OnTheClock {
  const batches = batchesOf(question, summarise(question, askDivision(question), result), processAt(place))
  const plan = activitiesOf(question, batches, breaksAndSpeeds(question))
  const solved = solveSchedule(plan.problem, {
    ...(seed === undefined ? {} : { seed }),
    ...(maxSchedules === undefined ? {} : { maxSchedules }),
  })
  const schedule = loadsInOrder(plan, solved)
  const [fault] = checkSchedule(plan.problem, schedule)
  if (fault) throw new Error(`a schedule breaks ${fault.rule} at ${fault.activity}: ${fault.detail}`)
  return { question, result, batches, plan, schedule, timetable: timetableOf(plan, schedule) }
}

/** The division counts helpers' breaks and speeds, so the timetable has to keep them. */
function breaksAndSpeeds({ helpers }: Question): KitchenOptions {
  return {
    breaks: helpers.flatMap(({ id, breaks = [] }) => breaks.map((span) => ({ ...span, helperId: id }))),
    speeds: Object.fromEntries(helpers.map(({ id, speed = 1 }) => [id, speed])),
  }
}

function demandDivision(problem: AllocationProblem, result: AllocationResult): void {
  const [violation] = checkAllocation(problem, result)
  if (violation) throw new Error(`a division breaks ${violation.rule}: ${violation.detail}`)
}

/** The question with one more limit for each batch that was not finished; the last one told replaces a looser one. */
function withCuts(
  question: Question,
  batches: readonly Batch[],
  over: { batch: string; finished: number }[],
): Question {
  let clock: ClockLimit[] = [...(question.clock ?? [])]
  for (const { batch: id, finished } of over) {
    const batch = batches.find((one) => one.id === id)
    const day = batch && question.days[batch.day]
    if (!day) throw new RangeError(`there is no batch "${id}" on a work day`)
    const product = productId(batch.recipe.id, batch.pack.key)
    clock = clock.filter((one) => !(one.kind === 'units' && one.productId === product && one.dayId === day.id))
    clock.push({ kind: 'units', productId: product, dayId: day.id, atMost: finished })
  }
  return { ...question, clock }
}

function unitsOf(batches: readonly Batch[], id: string): number {
  return batches.find((one) => one.id === id)?.units ?? 0
}

function gaveBetween(before: AllocationResult, after: AllocationResult): Gave[] {
  const units = ({ batches }: AllocationResult, product: string, day?: number) =>
    batches.reduce(
      (sum, one) => sum + (one.productId === product && (day === undefined || one.day === day) ? one.units : 0),
      0,
    )
  const both = [...before.batches, ...after.batches]
  return [...new Set(both.map((one) => one.productId))].flatMap((product) => {
    const days = [...new Set(both.filter((one) => one.productId === product).map(({ day }) => day))]
      .sort((a, b) => a - b)
      .map((day) => ({ day, before: units(before, product, day), after: units(after, product, day) }))
      .filter((one) => one.before !== one.after)
    return days.length === 0
      ? []
      : [{ productId: product, before: units(before, product), after: units(after, product), days }]
  })
}
