import { add, at } from './arrays.ts'
import { type Draft, madeByBatch, slot, stockSlot } from './draft.ts'
import type { Kitchen, Ways } from './kitchen.ts'
import { missingStocks, shareGrams } from './round.ts'

/** A draft that grows batch by batch, with the grams of produce and of materials that are still there. */
export type Larder = { draft: Draft; pools: number[]; stocks: number[] }

/** Grams taken from draws and uses for a bigger batch. */
export type Taking = { draws: [draw: number, grams: number][]; uses: [use: number, grams: number][] }

export function larderOf(kitchen: Kitchen, draft: Draft): Larder {
  const pools = kitchen.pools.map((pool) => pool.grams)
  for (const [d, draw] of kitchen.draws.entries()) add(pools, draw.pool, -at(draft.draws, d))
  return { draft, pools, stocks: missingStocks(kitchen, draft).map((grams) => -grams) }
}

/**
 * The grams that would make a batch so much bigger: every input to its least share, the rest by their order, from the
 * sources in the order in which `ways` lists them. Null if there is not enough.
 */
export function takingFor(
  kitchen: Kitchen,
  larder: Larder,
  making: number,
  day: number,
  toUnits: number,
  ways: Ways,
): Taking | null {
  const made = at(kitchen.makings, making)
  const grams = toUnits * made.gramsPerUnit
  const inputWays = at(ways, slot(kitchen, making, day))
  const taking: Taking = { draws: [], uses: [] }
  const pools = new Map<number, number>()
  const stocks = new Map<number, number>()
  const has = made.inputs.map(
    (_, i) =>
      at(inputWays, i).draws.reduce((total, d) => total + at(larder.draft.draws, d), 0) +
      at(inputWays, i).uses.reduce((total, u) => total + at(larder.draft.uses, u), 0),
  )

  const take = (input: number, wanted: number): number => {
    let missing = wanted
    for (const u of at(inputWays, input).uses) {
      if (missing <= 0) break
      const use = at(kitchen.uses, u)
      const stock = stockSlot(kitchen, use.material, use.madeOn)
      const free = at(larder.stocks, stock) - (stocks.get(stock) ?? 0)
      const amount = Math.min(free, missing)
      if (amount <= 0) continue
      taking.uses.push([u, amount])
      stocks.set(stock, (stocks.get(stock) ?? 0) + amount)
      missing -= amount
    }
    for (const d of at(inputWays, input).draws) {
      if (missing <= 0) break
      const { pool } = at(kitchen.draws, d)
      const free = at(larder.pools, pool) - (pools.get(pool) ?? 0)
      const amount = Math.min(free, missing)
      if (amount <= 0) continue
      taking.draws.push([d, amount])
      pools.set(pool, (pools.get(pool) ?? 0) + amount)
      missing -= amount
    }
    add(has, input, wanted - missing)
    return missing
  }
  for (const [i, input] of made.inputs.entries()) {
    if (take(i, shareGrams(input.share, grams).from - at(has, i)) > 0) return null
  }
  let rest = grams - has.reduce((total, amount) => total + amount, 0)
  if (rest < 0) return null
  for (const [i, input] of made.inputs.entries()) {
    const wanted = Math.min(rest, shareGrams(input.share, grams).to - at(has, i))
    if (wanted > 0) rest -= wanted - take(i, wanted)
  }
  return rest > 0 ? null : taking
}

/** Makes the batch as big as that with what was taken for it. */
export function putIn(
  kitchen: Kitchen,
  larder: Larder,
  making: number,
  day: number,
  toUnits: number,
  taking: Taking,
): void {
  const { draft } = larder
  const before = madeByBatch(kitchen, draft, making, day)
  draft.units[slot(kitchen, making, day)] = toUnits
  for (const [d, grams] of taking.draws) {
    add(draft.draws, d, grams)
    add(larder.pools, at(kitchen.draws, d).pool, -grams)
  }
  for (const [u, grams] of taking.uses) {
    const use = at(kitchen.uses, u)
    add(draft.uses, u, grams)
    add(larder.stocks, stockSlot(kitchen, use.material, use.madeOn), -grams)
  }
  for (const [material, grams] of madeByBatch(kitchen, draft, making, day).entries()) {
    if (grams !== at(before, material))
      add(larder.stocks, stockSlot(kitchen, material, day), grams - at(before, material))
  }
}
