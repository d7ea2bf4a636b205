import { at } from './arrays.ts'
import { type Draft, emptyDraft, slot, stockSlot } from './draft.ts'
import { begin, fillUp, roughWorth, type Weigh } from './greedy.ts'
import { fillHolds, type Kitchen, ranked, type Ways, waysInto } from './kitchen.ts'
import { larderOf, putIn, takingFor } from './larder.ts'
import { book, fits, ledgerOf, needsOf } from './ledger.ts'
import type { Formulation } from './model/formulate.ts'
import { missingStocks } from './round.ts'

/** The relaxation's point and what one more of each row would be worth, in the model's scale. */
export type Relaxation = { value: number; point: Float64Array; rowDuals: Float64Array }

/** Builds divisions along the relaxation. */
export type Guide = {
  /**
   * The whole runs of a point of the model (the relaxation's own, if none is given) as far as its units are whole, and
   * what is left filled up by steps whose gain is weighed against the relaxation's prices.
   */
  along(point?: Float64Array): Draft
  /** A division rebuilt for as many rounds as `goOn` says; never worse but for what outlets cannot hold. */
  rebuild(from: Draft, seed: number, goOn: (round: number) => boolean): Draft
}

/** A guide with what the relaxation says the minutes, the produce and the supplies are worth elsewhere. */
export function guideOf(kitchen: Kitchen, formulation: Formulation, relaxation: Relaxation): Guide {
  const prices = pricesOf(kitchen, formulation, relaxation)
  const ways = guidedWays(kitchen, formulation, relaxation)
  return {
    along: (point = relaxation.point) => {
      const there = { ...relaxation, point }
      const order = guidedWays(kitchen, formulation, there)
      const rounded = roundedDown(kitchen, formulation, there, order)
      return fillUp(kitchen, begin(kitchen, rounded), order, prices).larder.draft
    },
    rebuild: (from, seed, goOn) => rebuilt(kitchen, from, prices, ways, seededChance(seed), goOn),
  }
}

/** Draws in the order of how much the relaxation makes of them, then of how well they suit. */
function guidedWays(kitchen: Kitchen, { columns }: Formulation, relaxation: Relaxation): Ways {
  return ranked(
    kitchen,
    (draw) => -columnValue(relaxation, at(columns.draws, draw)) - at(kitchen.draws, draw).suit * 1e-6,
  )
}

/** The gain of a step less what the relaxation would give for all it takes. */
function pricesOf(kitchen: Kitchen, { model, scale }: Formulation, relaxation: Relaxation): Weigh {
  const dual = (name: string) => {
    const row = model.rowNames.get(name)
    return row === undefined ? 0 : at(relaxation.rowDuals, row) * scale
  }
  const { machines, rooms, supplies, materials } = kitchen.problem
  const days = [...kitchen.calendar.keys()]
  const machine = machines.map((_, i) => days.map((day) => dual(`machine ${i} ${day}`)))
  const hands = kitchen.handLimits.map((_, i) => days.map((day) => dual(`hands ${i} ${day}`)))
  const room = rooms.map((_, r) => dual(`room ${r}`) / 1000)
  const supply = supplies.map((_, s) => dual(`supply ${s}`))
  const pool = kitchen.pools.map((_, p) => dual(`pool ${p}`) / 1000)
  const stock = materials.flatMap((_, m) => days.map((day) => dual(`stock ${stockSlot(kitchen, m, day)}`) / 1000))
  return (gain, { making, day, from, to, taking, worth }) => {
    const made = at(kitchen.makings, making)
    const needs = needsOf(made, from, to)
    let net = worth
    for (const [m, minutes] of needs.machines.entries()) net -= minutes * at(at(machine, m), day)
    for (const [h, minutes] of needs.hands.entries()) net -= minutes * at(at(hands, h), day)
    for (const [r, ml] of made.roomMl.entries()) net -= ml * (to - from) * at(room, r)
    for (const [s, amount] of made.supplies.entries()) net -= amount * (to - from) * at(supply, s)
    for (const [d, grams] of taking.draws) {
      const draw = at(kitchen.draws, d)
      net -= grams * (at(pool, draw.pool) + ((1 - draw.suit) * made.wish.worth) / made.gramsPerUnit)
      for (const { material, share } of draw.trim) net += grams * share * at(stock, stockSlot(kitchen, material, day))
    }
    for (const [u, grams] of taking.uses) {
      const use = at(kitchen.uses, u)
      net -= grams * at(stock, stockSlot(kitchen, use.material, use.madeOn))
    }
    for (const { material, grams } of made.makes)
      net += grams * (to - from) * at(stock, stockSlot(kitchen, material, day))
    return net + gain * 1e-3
  }
}

/** Whole runs of the relaxation, day by day, as far as they fit. */
function roundedDown(kitchen: Kitchen, { columns }: Formulation, relaxation: Relaxation, ways: Ways): Draft {
  const draft = emptyDraft(kitchen)
  const larder = larderOf(kitchen, draft)
  const ledger = ledgerOf(kitchen, draft)
  for (let day = 0; day < kitchen.dayCount; day++) {
    for (const [m, making] of kitchen.makings.entries()) {
      const batch = slot(kitchen, m, day)
      let units = Math.floor(columnValue(relaxation, at(columns.units, batch)) + 1e-6)
      for (const [c, cycle] of making.cycles.entries()) {
        const starts = Math.floor(columnValue(relaxation, at(at(columns.starts, batch), c)) + 1e-6)
        units = Math.min(units, starts * cycle.units)
      }
      for (; units > 0; units--) {
        if (!fillHolds(making, units) || !fits(kitchen, ledger, m, day, 0, units)) continue
        const taking = takingFor(kitchen, larder, m, day, units, ways)
        if (!taking) continue
        book(kitchen, ledger, m, day, 0, units)
        putIn(kitchen, larder, m, day, units, taking)
        break
      }
    }
  }
  return draft
}

/** How much worse than the best, as a part of it, a rebuilt division may be to be gone on from. */
const mayBeWorse = 0.001

/**
 * Tears out a part of a division and fills it up anew, many times over, going on from what is hardly worse and keeping the best. Chance comes from
 * `random`, so the same seed gives the same division.
 */
function rebuilt(
  kitchen: Kitchen,
  start: Draft,
  weigh: Weigh,
  ways: Ways,
  random: () => number,
  goOn: (round: number) => boolean,
): Draft {
  let best = { state: begin(kitchen, copyOf(start)), worth: 0 }
  best.worth = roughWorth(kitchen, best.state)
  let now = best
  for (let round = 0; goOn(round); round++) {
    const draft = tornOut(kitchen, now.state.larder.draft, random)
    // Prices a little off each time: another order of steps.
    const noise = kitchen.makings.map(() => 0.7 + 0.6 * random())
    const state = fillUp(kitchen, begin(kitchen, draft), ways, (gain, step) => {
      const weight = weigh(gain, step)
      return weight > 0 ? weight * at(noise, step.making) : weight / at(noise, step.making)
    })
    const worth = roughWorth(kitchen, state)
    if (worth < best.worth - mayBeWorse * Math.abs(best.worth)) continue
    now = { state, worth }
    if (worth > best.worth + 1e-9) best = now
  }
  return best.state.larder.draft
}

function tornOut(kitchen: Kitchen, from: Draft, random: () => number): Draft {
  const draft = copyOf(from)
  const made = [...draft.units.keys()].filter((batch) => at(draft.units, batch) > 0)
  const day = Math.floor(random() * kitchen.dayCount)
  const part = 0.1 + 0.4 * random()
  const everywhere = random() < 0.4
  const out = made.filter((batch) =>
    everywhere ? random() < part * 0.4 : batch % kitchen.dayCount === day && random() < part,
  )
  for (const batch of out) clear(kitchen, draft, batch)
  for (;;) {
    const missing = missingStocks(kitchen, draft)
    const user = kitchen.uses.find(
      (use, u) => at(draft.uses, u) > 0 && at(missing, stockSlot(kitchen, use.material, use.madeOn)) > 0,
    )
    if (!user) return draft
    clear(kitchen, draft, slot(kitchen, user.making, user.day))
  }
}

function clear(kitchen: Kitchen, draft: Draft, batch: number): void {
  draft.units[batch] = 0
  const ways = waysInto(kitchen, Math.floor(batch / kitchen.dayCount), batch % kitchen.dayCount)
  for (const { draws, uses } of ways) {
    for (const d of draws) draft.draws[d] = 0
    for (const u of uses) draft.uses[u] = 0
  }
}

function copyOf(draft: Draft): Draft {
  return { units: [...draft.units], draws: [...draft.draws], uses: [...draft.uses] }
}

function columnValue({ point }: Relaxation, column: number): number {
  return column < 0 ? 0 : at(point, column)
}

/** A row of seeded numbers from 0 to below 1 (mulberry32). */
function seededChance(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}
