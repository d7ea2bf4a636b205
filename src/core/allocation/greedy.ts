import { at } from './arrays.ts'
import { assemble, unitsOf } from './assemble.ts'
import { type Draft, emptyDraft, slot } from './draft.ts'
import { fillHolds, type Kitchen, kitchenOf } from './kitchen.ts'
import { type Larder, larderOf, putIn, type Taking, takingFor } from './larder.ts'
import { book, fits, type Ledger, ledgerOf, packCost } from './ledger.ts'
import type { AllocationProblem } from './problem.ts'
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
  return asResult(kitchen, bestGainDraft(kitchen))
}

export function firstComeDraft(kitchen: Kitchen): Draft {
  const state = begin(kitchen)
  const urgency = kitchen.pools.map((pool) => at(pool.items, 0).usableUntil)
  const byUrgency = [...kitchen.pools.keys()].sort((a, b) => compare(at(urgency, a), at(urgency, b)) || a - b)
  const place = new Map(byUrgency.map((pool, position) => [pool, position]))
  const rank = (draw: number) => place.get(at(kitchen.draws, draw).pool) ?? 0
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
        while (stepUp(state, making, day, about, rank));
      }
    }
  }
  return state.larder.draft
}

/** In: how the gain of a step is weighed against its size; by default the gain of the whole step counts. */
export function bestGainDraft(kitchen: Kitchen, weigh: (gain: number, kg: number) => number = (gain) => gain): Draft {
  const state = begin(kitchen)
  const rank = (draw: number) => -at(kitchen.draws, draw).suit
  const stale = new Map<number, number>()
  const all = () => {
    for (const m of kitchen.makings.keys()) {
      for (let day = 0; day < kitchen.dayCount; day++) stale.set(slot(kitchen, m, day), Number.POSITIVE_INFINITY)
    }
  }
  all()
  // Gains only fall as things are used up, so an old figure is a bound: the best old figure is looked at afresh.
  for (;;) {
    let best: Step | null = null
    for (const [at_, old] of [...stale].sort((a, b) => b[1] - a[1] || a[0] - b[0])) {
      if (best && old <= best.weight) break
      const making = Math.floor(at_ / kitchen.dayCount)
      const step = nextStep(state, making, at_ % kitchen.dayCount, at(kitchen.makings, making).wish.atMost, rank, weigh)
      if (!step) stale.delete(at_)
      else {
        stale.set(at_, step.weight)
        if (!best || step.weight > best.weight) best = step
      }
    }
    if (!best) return state.larder.draft
    take(state, best)
    // What this batch gives back may feed another product: every step is open again.
    if (givesMaterial(kitchen, best.making)) all()
  }
}

type State = { kitchen: Kitchen; larder: Larder; ledger: Ledger; otherWorth: number[]; totals: number[] }
type Step = { making: number; day: number; from: number; to: number; taking: Taking; weight: number }

function begin(kitchen: Kitchen): State {
  const draft = emptyDraft(kitchen)
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

function stepUp(state: State, making: number, day: number, upTo: number, rank: (draw: number) => number): boolean {
  const step = nextStep(state, making, day, upTo, rank, (gain) => gain)
  if (step) take(state, step)
  return step !== null
}

/** The next run of a product on a day, as full as it gets, if there is one that gains something. */
function nextStep(
  state: State,
  making: number,
  day: number,
  upTo: number,
  rank: (draw: number) => number,
  weigh: (gain: number, kg: number) => number,
): Step | null {
  const { kitchen, larder, ledger } = state
  const made = at(kitchen.makings, making)
  if (!made.onDay[day]) return null
  const from = at(larder.draft.units, slot(kitchen, making, day))
  const size = Math.max(1, ...made.cycles.map((cycle) => cycle.units))
  const full = made.cycles.length === 0 ? from + 1 : Math.floor(from / size + 1e-9) * size + size
  const most = Math.min(full, from + upTo - at(state.totals, making))
  for (let to = Math.floor(most); to > from; to--) {
    if (!fillHolds(made, to) || !fits(kitchen, ledger, making, day, from, to)) continue
    const taking = takingFor(kitchen, larder, making, day, to, rank)
    if (!taking) continue
    const gain = gainOf(state, making, to - from, taking)
    if (gain <= 1e-9) return null
    return { making, day, from, to, taking, weight: weigh(gain, ((to - from) * made.gramsPerUnit) / 1000) }
  }
  return null
}

function gainOf(state: State, making: number, more: number, taking: Taking): number {
  const { kitchen, ledger } = state
  const made = at(kitchen.makings, making)
  const { wish } = made
  const worthAt = (units: number) =>
    Math.min(units, wish.about) * wish.worth +
    Math.max(0, units - wish.about) * wish.worthBeyond -
    Math.max(0, wish.atLeast - units) * wish.shortfallWorth
  const before = at(state.totals, making)
  let gain = worthAt(before + more) - worthAt(before) - packCost(kitchen, ledger, made, more)
  for (const [d, grams] of taking.draws) {
    const draw = at(kitchen.draws, d)
    gain -= ((1 - draw.suit) * wish.worth * grams) / made.gramsPerUnit
    gain -= (at(state.otherWorth, draw.pool) * grams) / 1000
  }
  return gain
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
