import { add, at } from './arrays.ts'
import { type Draft, stockSlot } from './draft.ts'
import { flowNetwork } from './flow.ts'
import type { Kitchen } from './kitchen.ts'

/** Grams that go to each outlet, are kept and are lost. */
export type Ending = { toOutlet: number[]; kept: number; lost: number }

/** What no product takes: by pool and by stock (`stockSlot`). */
export type Remains = { pools: number[]; stocks: number[] }

export function remainsOf(kitchen: Kitchen, draft: Draft, stocks: number[]): Remains {
  const pools = kitchen.pools.map((pool) => pool.grams)
  for (const [d, draw] of kitchen.draws.entries()) add(pools, draw.pool, -at(draft.draws, d))
  const left = [...stocks]
  for (const [u, use] of kitchen.uses.entries()) {
    add(left, stockSlot(kitchen, use.material, use.madeOn), -at(draft.uses, u))
  }
  return { pools, stocks: left }
}

/**
 * Sends what is left over where it is worth most, in whole grams; of outlets that are worth the same the earlier one
 * first. As worth falls along the outlets this fills an earlier one before a later one, and nothing is lost that an
 * outlet has room for.
 */
export function endingsOf(kitchen: Kitchen, remains: Remains): { pools: Ending[]; stocks: Ending[] } {
  const { outlets, materials, spoilagePerKg } = kitchen.problem
  const sources = remains.pools.length + remains.stocks.length
  const firstOutlet = 2 + sources
  const kept = firstOutlet + outlets.length
  const lost = kept + 1
  const network = flowNetwork(lost + 1)
  // Whole costs, in steps far below any real difference of worth; places of the same worth by their order.
  const dearest = Math.max(1, spoilagePerKg, ...outlets.map(({ worthPerKg }) => worthPerKg), ...keepWorths(kitchen))
  const costOf = (worthPerKg: number, place: number) =>
    -Math.round((worthPerKg / dearest) * 1e7) * (outlets.length + 2) + place

  const connect = (source: number, grams: number, takes: boolean[], keepWorth: number | null, lostCost: number) => {
    network.arc(0, 2 + source, grams)
    const toOutlet = outlets.map((outlet, o) =>
      takes[o] ? network.arc(2 + source, firstOutlet + o, grams, costOf(outlet.worthPerKg, o)) : -1,
    )
    const keep = keepWorth === null ? -1 : network.arc(2 + source, kept, grams, costOf(keepWorth, outlets.length))
    return { toOutlet, keep, lose: network.arc(2 + source, lost, grams, costOf(-lostCost, outlets.length + 1)) }
  }
  const pools = remains.pools.map((grams, p) => {
    const pool = at(kitchen.pools, p)
    return connect(p, grams, pool.outlets, pool.keepWorthPerKg, spoilagePerKg)
  })
  const stocks = remains.stocks.map((grams, s) => {
    const material = at(materials, Math.floor(s / kitchen.dayCount))
    const takes = outlets.map((outlet) => outlet.takesMaterials.includes(material.id))
    return connect(remains.pools.length + s, grams, takes, null, material.kind === 'intermediate' ? spoilagePerKg : 0)
  })
  for (const [o, outlet] of outlets.entries()) {
    network.arc(firstOutlet + o, 1, outlet.capacityGrams ?? Number.MAX_SAFE_INTEGER)
  }
  network.arc(kept, 1, Number.MAX_SAFE_INTEGER)
  network.arc(lost, 1, Number.MAX_SAFE_INTEGER)
  network.send(0, 1)
  const read = (arcs: { toOutlet: number[]; keep: number; lose: number }): Ending => ({
    toOutlet: arcs.toOutlet.map((arc) => (arc < 0 ? 0 : network.flow(arc))),
    kept: arcs.keep < 0 ? 0 : network.flow(arcs.keep),
    lost: network.flow(arcs.lose),
  })
  return { pools: pools.map(read), stocks: stocks.map(read) }
}

function keepWorths(kitchen: Kitchen): number[] {
  return kitchen.pools.map(({ keepWorthPerKg }) => keepWorthPerKg ?? 0)
}
