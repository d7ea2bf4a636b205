import type { AllocationResult } from '../allocation/result.ts'
import { solveFrom } from '../allocation/solve.ts'
import type { Kitchen } from '../day/kitchen.ts'
import type { Timetable } from '../day/timetable.ts'
import { askDivision } from '../division/ask.ts'
import type { Question } from '../division/question.ts'
import { type AgreeOptions, agree } from './agree.ts'
import { type Help, withHelp } from './help.ts'

/** What of a division and its timetable is compared. Plain data, to be kept. */
export type Standing = {
  /** What the division is worth, minor units, and what no division within its cuts is worth more than; null: not known. */
  worth: number
  bound: number | null
  batches: AllocationResult['batches']
  /** When the last hands on a batch end on each work day, minutes after its opening, added up; clearing away not counted. */
  handsMinutes: number
  /** Everything that is divided is done within its day. */
  holds: boolean
}

/** What was reached with a help; `help` null: with nothing more, only looked for again. */
export type Tried = { help: Help | null; reached: Standing }

export type HelpWorth = {
  help: Help
  /** How much more the agreed division with the help is worth, minor units. */
  gain: number
  /** Those that change. */
  unitsChanged: { productId: string; units: number }[]
  /** Minutes by which the last hands on a batch end earlier, summed over the work days; negative: they end later. */
  minutesSaved: number
}

/** nothing: no more than without it; unsure: no more than may be missing without it; late: the clock holds none of it. */
export type WithoutGain = HelpWorth & { why: 'nothing' | 'unsure' | 'late' }

export type WorthOfHelp = {
  /** What gains are counted from: the division there is, or the one found again with nothing more where that is better. */
  from: Standing
  /** How much better that is, minor units; 0: it is the division there is. */
  foundAgain: number
  /** What `from` may fall short of the best within its cuts, minor units: a gain must be larger. Null: not known. */
  mayBeMissing: number | null
  /** In falling order of gain. */
  helps: HelpWorth[]
  /** What was tried and is not among them, as it was tried. */
  without: WithoutGain[]
}

export type WorthOptions = AgreeOptions & {
  /** What has been tried already, in this order; what comes after it is tried. */
  known?: readonly Tried[]
  /** Told after each try. */
  tried?: (one: Tried) => void
}

/** What is weighed of a timetable and the division that it carries out. */
export type Agreed = {
  result: Pick<AllocationResult, 'objective' | 'bound' | 'batches'>
  kitchen: Pick<Kitchen, 'days'>
  timetable: Pick<Timetable, 'entries'>
  holds: boolean
}

export function standingOf({ result, kitchen, timetable, holds }: Agreed): Standing {
  return {
    worth: result.objective,
    bound: Number.isFinite(result.bound) ? result.bound : null,
    batches: result.batches,
    handsMinutes: kitchen.days.reduce((sum, day) => sum + lastHands(day, timetable), 0),
    holds,
  }
}

/** What is tried for some helps, in order: nothing more, each of them, and nothing more once again. */
export function triesFor(candidates: readonly Help[]): (Help | null)[] {
  return [null, ...candidates, null]
}

/**
 * Tries each help on the clock: the question with it, without what timetables taught, divided and agreed anew, starting
 * from the best that was found so far with whatever help, as far as this one has room for it. Before the helps and after
 * them the question is tried with nothing more in the same way, so that what a longer search finds by itself is counted
 * as nobody's worth. What is not finished when it is stopped is not among what was tried.
 *
 * @throws RangeError as `withHelp`
 */
export async function tryHelps(
  question: Question,
  before: Standing,
  candidates: readonly Help[],
  options: WorthOptions,
): Promise<Tried[]> {
  const { known = [], tried = () => {}, stop = () => false } = options
  const { clock: _taught, ...asked } = question
  const tries = [...known]
  const left = triesFor(candidates)
    .slice(known.length)
    .map((help) => ({ help, helped: help === null ? asked : withHelp(asked, help) }))
  for (const { help, helped } of left) {
    const start = tries.map(({ reached }) => reached).reduce((a, b) => (better(b, a) ? b : a), before)
    const first = await solveFrom(askDivision(helped), start, options.allocation)
    const { plan, ...found } = await agree(helped, first, options)
    if (stop()) break
    const one = { help, reached: standingOf({ ...found, kitchen: plan.kitchen }) }
    tries.push(one)
    tried(one)
  }
  return tries
}

/**
 * What each help that was tried would be worth: what was reached with it, less the better of what there is and what was
 * found again with nothing more. Told as a help only where the clock holds it and where the gain is larger than what may
 * be missing without it, so that it is no accident of the search for divisions. What the search for schedules may have
 * missed is not in that: a cut may take off more than the clock would.
 */
export function weighHelps(before: Standing, tries: readonly Tried[]): WorthOfHelp {
  const from = tries
    .flatMap(({ help, reached }) => (help === null ? [reached] : []))
    .reduce((a, b) => (better(b, a) ? b : a), before)
  const mayBeMissing = from.bound === null ? null : Math.max(0, from.bound - from.worth)
  const least = 1e-6 * Math.max(1, Math.abs(from.worth))
  const helps: HelpWorth[] = []
  const without: WithoutGain[] = []
  for (const { help, reached } of tries) {
    if (help === null) continue
    const gain = reached.worth - from.worth
    const minutesSaved = from.handsMinutes - reached.handsMinutes
    const one = { help, gain, unitsChanged: unitsChanged(from, reached), minutesSaved }
    if (!reached.holds) without.push({ ...one, why: 'late' })
    else if (!(gain > least)) without.push({ ...one, why: 'nothing' })
    else if (mayBeMissing === null || !(gain > mayBeMissing + least)) without.push({ ...one, why: 'unsure' })
    else helps.push(one)
  }
  helps.sort((a, b) => b.gain - a.gain)
  return { from, foundAgain: from === before ? 0 : from.worth - before.worth, mayBeMissing, helps, without }
}

/**
 * A division that the clock holds is better than one that it does not hold, whatever that would be worth; of two that are
 * worth the same the one of which more is proved.
 */
function better(a: Standing, b: Standing): boolean {
  if (a.holds !== b.holds) return a.holds
  const { POSITIVE_INFINITY } = Number
  return a.worth > b.worth || (a.worth === b.worth && (a.bound ?? POSITIVE_INFINITY) < (b.bound ?? POSITIVE_INFINITY))
}

function unitsChanged(before: Standing, after: Standing): HelpWorth['unitsChanged'] {
  const units = ({ batches }: Standing, id: string) =>
    batches.reduce((sum, one) => sum + (one.productId === id ? one.units : 0), 0)
  return [...new Set([...before.batches, ...after.batches].map(({ productId }) => productId))]
    .map((productId) => ({ productId, units: units(after, productId) - units(before, productId) }))
    .filter((one) => one.units !== 0)
}

function lastHands({ opens, closes }: Kitchen['days'][number], { entries }: Agreed['timetable']): number {
  const ends = entries
    // a clean-up that does not fit before closing is no longer in the day: the day would look shorter for it
    .filter(({ batch, helpers, from }) => batch !== null && helpers.length > 0 && from >= opens && from < closes)
    .map(({ to }) => to - opens)
  return Math.max(0, ...ends)
}
