import { at } from './arrays.ts'
import { assemble, unitsOf } from './assemble.ts'
import { type Draft, emptyDraft, slot } from './draft.ts'
import { fillHolds, type Kitchen, kitchenOf, ranked, type Ways } from './kitchen.ts'
import { type Larder, larderOf, putIn, type Taking, takingFor } from './larder.ts'
import { book, fits, type Ledger, ledgerOf, packCost } from './ledger.ts'
import type { AllocationProblem, Wish } from './problem.ts'
import type { AllocationResult } from './result.ts'

/**
 * The rule of a careful cook without a plan: day by day, what spoils first goes first, into the best product that
 * takes it, up to what was wished about.
 */
export function greedyFirstCome(problem: AllocationProblem): AllocationResult {
  const kitchen = kitchenOf(problem)
  return asResult(kitchen, firstComeDraft(kitchen))
}

/** The rule of the best next step: over all days, the run (or unit) that adds most, again and again. */
export function greedyBestGain(problem: AllocationProblem): AllocationResult {
  const kitchen = kitchenOf(problem)
  return asResult(
    kitchen,
    bestGainDraft(kitchen, (gain) => gain, 'exact'),
  )
}

export function firstComeDraft(kitchen: Kitchen): Draft {
  const state = begin(kitchen, emptyDraft(kitchen))
  const urgency = kitchen.pools.map((pool) => at(pool.items, 0).usableUntil)
  const byUrgency = [...kitchen.pools.keys()].sort((a, b) => compare(at(urgency, a), at(urgency, b)) || a - b)
  const place = new Map(byUrgency.map((pool, position) => [pool, position]))
  const ways = ranked(kitchen, (draw) => place.get(at(kitchen.draws, draw).pool) ?? 0)
  for (let day = 0; day < kitchen.dayCount; day++) {
    for (const pool of byUrgency) {
      const takers = kitchen.draws.filter((draw) => draw.pool === pool && draw.day === day)
      const worth = (making: number, suit: number) => {
        const { wish, gramsPerUnit } = at(kitchen.makings, making)
        return (wish.worth * suit) / gramsPerUnit
      }
      takers.sort((a, b) => worth(b.making, b.suit) - worth(a.making, a.suit) || a.making - b.making)
      for (const { making } of takers) {
        const about = Math.min(at(kitchen.makings, making).wish.about, at(kitchen.makings, making).wish.atMost)
        while (stepUp(state, making, day, about, ways));
      }
    }
  }
  return state.larder.draft
}

/** In: how the gain of a step is weighed against its size; by default the gain of the whole step counts. */
export function bestGainDraft(kitchen: Kitchen, weigh: Weigh = (gain) => gain, look: Look = 'quick'): Draft {
  const ways = ranked(kitchen, (draw) => -at(kitchen.draws, draw).suit)
  return fillUp(kitchen, begin(kitchen, emptyDraft(kitchen)), ways, weigh, look).larder.draft
}

/**
 * `exact` weighs every step afresh each time. `quick` takes an old weight as a bound, which it mostly is: gains fall as
 * things are used up (they rise where a pack has been opened).
 */
export type Look = 'exact' | 'quick'

/** Adds the step of most weight, again and again, as long as one gains something. */
export function fillUp(kitchen: Kitchen, state: State, ways: Ways, weigh: Weigh, look: Look = 'quick'): State {
  const stale = new Map<number, number>()
  const open = (makings: Iterable<number>) => {
    for (const m of makings) {
      for (let day = 0; day < kitchen.dayCount; day++) {
        if (at(kitchen.makings, m).onDay[day]) stale.set(slot(kitchen, m, day), Number.POSITIVE_INFINITY)
      }
    }
  }
  const users = new Set(kitchen.uses.map(({ making }) => making))
  open(kitchen.makings.keys())
  for (;;) {
    let best: Step | null = null
    for (const [at_, old] of [...stale].sort((a, b) => b[1] - a[1] || a[0] - b[0])) {
      if (best && old <= best.weight) break
      const making = Math.floor(at_ / kitchen.dayCount)
      const step = nextStep(state, making, at_ % kitchen.dayCount, at(kitchen.makings, making).wish.atMost, ways, weigh)
      if (!step) stale.delete(at_)
      else {
        stale.set(at_, step.weight)
        if (!best || step.weight > best.weight) best = step
      }
    }
    if (!best) return state
    take(state, best)
    // What this batch gives back may feed another product: whatever uses materials is looked at again.
    if (look === 'exact') open(kitchen.makings.keys())
    else if (givesMaterial(kitchen, best.making)) open(users)
  }
}

/** How a step is weighed: its gain, and what it is. */
export type Weigh = (gain: number, step: Pick<Step, 'making' | 'day' | 'from' | 'to' | 'taking' | 'worth'>) => number

export type State = { kitchen: Kitchen; larder: Larder; ledger: Ledger; otherWorth: number[]; totals: number[] }
export type Step = {
  making: number
  day: number
  from: number
  to: number
  taking: Taking
  worth: number
  weight: number
}

export function begin(kitchen: Kitchen, draft: Draft): State {
  return {
    kitchen,
    larder: larderOf(kitchen, draft),
    ledger: ledgerOf(kitchen, draft),
    otherWorth: kitchen.pools.map((pool) => {
      const places = kitchen.problem.outlets.flatMap((outlet, o) =>
        pool.outlets[o] && outlet.capacityGrams !== 0 ? [outlet.worthPerKg] : [],
      )
      return Math.max(-kitchen.problem.spoilagePerKg, pool.keepWorthPerKg ?? Number.NEGATIVE_INFINITY, ...places)
    }),
    totals: kitchen.makings.map((_, m) => unitsOf(kitchen, draft, m)),
  }
}

function stepUp(state: State, making: number, day: number, upTo: number, ways: Ways): boolean {
  const step = nextStep(state, making, day, upTo, ways, (gain) => gain)
  if (step) take(state, step)
  return step !== null
}

/** The next run of a product on a day, as full as it gets, if there is one that gains something. */
function nextStep(state: State, making: number, day: number, upTo: number, ways: Ways, weigh: Weigh): Step | null {
  const { kitchen, larder, ledger } = state
  const made = at(kitchen.makings, making)
  if (!made.onDay[day]) return null
  const from = at(larder.draft.units, slot(kitchen, making, day))
  const size = Math.max(1, ...made.cycles.map((cycle) => cycle.units))
  const full = made.cycles.length === 0 ? from + 1 : Math.floor(from / size + 1e-9) * size + size
  const most = Math.min(full, from + upTo - at(state.totals, making))
  for (let to = Math.floor(most); to > from; to--) {
    if (!fillHolds(made, to) || !fits(kitchen, ledger, making, day, from, to)) continue
    const taking = takingFor(kitchen, larder, making, day, to, ways)
    if (!taking) continue
    const gain = gainOf(state, making, to - from, taking)
    if (gain <= 1e-9) return null
    const step = { making, day, from, to, taking, worth: wishWorth(made.wish, at(state.totals, making), to - from) }
    return { ...step, weight: weigh(gain, step) }
  }
  return null
}

function gainOf(state: State, making: number, more: number, taking: Taking): number {
  const { kitchen, ledger } = state
  const made = at(kitchen.makings, making)
  let gain = wishWorth(made.wish, at(state.totals, making), more) - packCost(kitchen, ledger, made, more)
  for (const [d, grams] of taking.draws) {
    const draw = at(kitchen.draws, d)
    gain -= ((1 - draw.suit) * made.wish.worth * grams) / made.gramsPerUnit
    gain -= (at(state.otherWorth, draw.pool) * grams) / 1000
  }
  return gain
}

/** What so many more units add to what wishes are worth. */
function wishWorth(wish: Wish, units: number, more: number): number {
  const worthAt = (total: number) =>
    Math.min(total, wish.about) * wish.worth +
    Math.max(0, total - wish.about) * wish.worthBeyond -
    Math.max(0, wish.atLeast - total) * wish.shortfallWorth
  return worthAt(units + more) - worthAt(units)
}

/**
 * What a draft is worth if whatever is left over went to the best place that takes it, however full: a little more than
 * the truth, and quick.
 */
export function roughWorth(kitchen: Kitchen, state: State): number {
  let worth = -state.ledger.spent
  for (const [m, { wish }] of kitchen.makings.entries()) {
    worth += wishWorth(wish, 0, at(state.totals, m)) - wish.atLeast * wish.shortfallWorth
  }
  for (const [d, draw] of kitchen.draws.entries()) {
    const { wish, gramsPerUnit } = at(kitchen.makings, draw.making)
    worth -= ((1 - draw.suit) * wish.worth * at(state.larder.draft.draws, d)) / gramsPerUnit
  }
  for (const [p, grams] of state.larder.pools.entries()) worth += (grams * at(state.otherWorth, p)) / 1000
  return worth
}

function take(state: State, step: Step): void {
  book(state.kitchen, state.ledger, step.making, step.day, step.from, step.to)
  putIn(state.kitchen, state.larder, step.making, step.day, step.to, step.taking)
  state.totals[step.making] = at(state.totals, step.making) + step.to - step.from
}

function givesMaterial(kitchen: Kitchen, making: number): boolean {
  const { product } = at(kitchen.makings, making)
  const given = [...product.makes, ...product.inputs.flatMap((input) => input.trim)].map(({ materialId }) => materialId)
  return kitchen.uses.some((use) => given.includes(at(kitchen.problem.materials, use.material).id))
}

function asResult(kitchen: Kitchen, draft: Draft): AllocationResult {
  const division = assemble(kitchen, draft)
  return {
    ...division,
    status: 'fallback',
    bound: Number.POSITIVE_INFINITY,
    gap: Number.POSITIVE_INFINITY,
    reasons: [],
    elapsedMs: 0,
  }
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
