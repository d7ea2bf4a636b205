import { checkAllocation } from '../allocation/check.ts'
import type { AllocationProblem, SolveOptions } from '../allocation/problem.ts'
import type { AllocationResult } from '../allocation/result.ts'
import { solveFrom } from '../allocation/solve.ts'
import { activitiesOf } from '../day/activities.ts'
import { type Batch, batchesOf, processAt } from '../day/batch.ts'
import { withBestCrews } from '../day/crews.ts'
import { loadsInOrder } from '../day/load-order.ts'
import type { DayPlan } from '../day/plan.ts'
import { type DayEnd, tightened } from '../day/tighten.ts'
import { type Late, type Timetable, timetableOf } from '../day/timetable.ts'
import { askDivision } from '../division/ask.ts'
import type { ClockLimit, Question } from '../division/question.ts'
import { summarise } from '../division/summary.ts'
import type { KitchenPlace } from '../recipes/verdict-types.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../scheduling/index.ts'
import { clearingCuts, cutsFor, onlyFinished, type PutOnTheClock, withLimits } from './cuts.ts'
import { finishedInTime, lateThatCounts, notClearedAway } from './late.ts'

const ordinaryPasses = 5_000
/** Divisions that may choose for themselves what gives way before units are cut as well. Our choice. */
const roundsWithoutUnits = 2
/** What clearing a day away in time may cost, as a part of the division's worth. Our choice. */
const clearingWorth = 0.1

export type AgreeOptions = {
  place: KitchenPlace
  /** For each timetable: 1 and 5,000 where not given. */
  seed?: number
  maxSchedules?: number
  /** For each division that is solved again. */
  allocation?: SolveOptions
  /** Divisions solved again that may still make other things instead; 6 where not given. */
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
  /** Of each work day when its last hands are done, and what no order of its work goes below. */
  days?: DayEnd[]
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
 * Puts a division on the clock, and where the clock does not hold it, cuts what the day has and divides again, `rounds`
 * times at most: machines where these explain what was not finished in time, else units; from the third round on both.
 * What is not held then is left out for good: no product may be made on any day in more units than were finished there,
 * and of what was not all finished first one portion less, then two, four and so on. Recipes are settled at the place
 * already.
 *
 * It ends, with any number of rounds: after them each division is a part of the one before and makes fewer units of at
 * least one product; with none an empty timetable holds. So it holds unless it is stopped.
 *
 * Where all is done and a day is not cleared away in time, a division with less machine time is looked for once more and
 * taken if it is worth at most a tenth less.
 *
 * A schedule is the best that was found, so a cut may take off more than the clock would: it is never too little.
 *
 * @throws Error where a checker finds something in a division or a schedule, which is a fault of ours
 */
export async function agree(question: Question, result: AllocationResult, options: AgreeOptions): Promise<Agreement> {
  const { rounds = 6, stop = () => false, tell = () => {} } = options
  demandDivision(askDivision(question), result)
  let now = onTheClock(question, result, options)
  /** What holds but for clearing away, while something is looked for that is cleared away as well. */
  let held: OnTheClock | null = null
  for (let round = 0; ; round++) {
    const over = finishedInTime(now.plan, now.timetable)
    const unitsOver = over.reduce((sum, { batch, finished }) => sum + unitsOf(now.batches, batch) - finished, 0)
    tell({ round, unitsOver })
    const ended = { rounds: round, first: result }
    if (stop()) return agreementOf(held ?? now, held !== null || over.length === 0, ended)
    let limits: ClockLimit[]
    if (over.length === 0) {
      limits = held === null ? clearingCuts(asPut(now), notClearedAway(now.plan, now.timetable)) : []
      if (limits.length === 0) return agreementOf(now, true, ended)
      held = now
    } else {
      limits =
        round < rounds
          ? cutsFor(asPut(now), over, round >= roundsWithoutUnits)
          : onlyFinished(asPut(now), over, round === rounds ? 0 : 2 ** (round - rounds - 1))
    }
    const cut = withLimits(now.question, limits)
    const problem = askDivision(cut)
    const divided = await solveFrom(problem, now.result, options.allocation)
    demandDivision(problem, divided)
    if (held && divided.objective < held.result.objective - clearingWorth * Math.abs(held.result.objective))
      return agreementOf(held, true, ended)
    now = onTheClock(cut, divided, options)
  }
}

function asPut(now: OnTheClock): PutOnTheClock {
  return { ...now, problem: askDivision(now.question) }
}

function agreementOf(
  now: OnTheClock,
  holds: boolean,
  { rounds, first }: { rounds: number; first: AllocationResult },
): Agreement {
  return {
    ...now,
    holds,
    rounds: now.result === first ? 0 : rounds,
    gave: gaveBetween(first, now.result),
    late: lateThatCounts(now.plan, now.timetable),
  }
}

type OnTheClock = Pick<Agreement, 'question' | 'result' | 'batches' | 'plan' | 'schedule' | 'timetable' | 'days'>

function onTheClock(
  question: Question,
  result: AllocationResult,
  { place, seed = 1, maxSchedules = ordinaryPasses, stop = () => false }: AgreeOptions,
): OnTheClock {
  const batches = batchesOf(question, summarise(question, askDivision(question), result), processAt(place))
  const plan = activitiesOf(question, batches)
  // A rough order of the whole, then most of the work for each day, which is smaller and judged by its own end.
  const solved = solveSchedule(plan.problem, { seed, maxSchedules: Math.ceil(maxSchedules / 8) })
  const { schedule: tight, days } = tightened(plan, solved, { seed, maxSchedules: Math.ceil(maxSchedules / 2), stop })
  const schedule = withBestCrews(plan, loadsInOrder(plan, tight))
  const [fault] = checkSchedule(plan.problem, schedule)
  if (fault) throw new Error(`a schedule breaks ${fault.rule} at ${fault.activity}: ${fault.detail}`)
  return { question, result, batches, plan, schedule, timetable: timetableOf(plan, schedule), days }
}

function demandDivision(problem: AllocationProblem, result: AllocationResult): void {
  const [violation] = checkAllocation(problem, result)
  if (violation) throw new Error(`a division breaks ${violation.rule}: ${violation.detail}`)
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
