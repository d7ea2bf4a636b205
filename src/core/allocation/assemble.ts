import { at } from './arrays.ts'
import { type Draft, madeBy, slot, stocksOf } from './draft.ts'
import type { Kitchen } from './kitchen.ts'
import { endingsOf, remainsOf } from './leftovers.ts'
import type { Item } from './problem.ts'
import type { AllocationResult, ItemUse, Leftover, MaterialUse } from './result.ts'
import { lastMomentFor } from './ways.ts'
import { worthOf } from './worth.ts'

/** A division without what was proved about it. */
export type Division = Omit<AllocationResult, 'status' | 'bound' | 'gap' | 'reasons' | 'elapsedMs'>

/** Writes a draft out: pools dealt back to their items, leftovers to their places, packs, runs and worth. */
export function assemble(kitchen: Kitchen, draft: Draft): Division {
  const { problem } = kitchen
  const made = madeBy(kitchen, draft)
  const remains = remainsOf(kitchen, draft, stocksOf(kitchen, made))
  const endings = endingsOf(kitchen, remains)
  const allocations: ItemUse[] = []
  const leftovers: Leftover[] = []
  dealPools(kitchen, draft, endings.pools, allocations, leftovers)
  for (const [s, ending] of endings.stocks.entries()) {
    const material = at(problem.materials, Math.floor(s / kitchen.dayCount))
    const madeOn = s % kitchen.dayCount
    const actBy = isoDate(at(kitchen.calendar, madeOn) + material.keepsDays)
    for (const { to, grams } of placesOf(kitchen, ending)) {
      leftovers.push({ from: { materialId: material.id, madeOn }, grams, to, actBy })
    }
  }
  const division = {
    allocations,
    materialUses: materialUsesOf(kitchen, draft),
    batches: kitchen.makings.flatMap(({ product, gramsPerUnit }, m) =>
      problem.days.flatMap((_, day) => {
        const units = at(draft.units, slot(kitchen, m, day))
        if (units === 0) return []
        const runs = product.runs.map((run) => Math.ceil(units / run.unitsPerRun - 1e-9))
        return [{ productId: product.id, day, units, grams: units * gramsPerUnit, runs }]
      }),
    ),
    materialsMade: made.map(({ making, day, material, grams }) => ({
      productId: at(kitchen.makings, making).product.id,
      day,
      materialId: at(problem.materials, material).id,
      grams,
    })),
    leftovers,
    purchases: purchasesOf(kitchen, draft),
    shortfalls: kitchen.makings.flatMap(({ product }, m) => {
      const missing = product.wish.atLeast - unitsOf(kitchen, draft, m)
      return missing > 0 ? [{ productId: product.id, units: missing }] : []
    }),
  }
  return { ...division, objective: worthOf(problem, division) }
}

/** Units of a product over all days. */
export function unitsOf(kitchen: Kitchen, draft: Draft, making: number): number {
  let units = 0
  for (let day = 0; day < kitchen.dayCount; day++) units += at(draft.units, slot(kitchen, making, day))
  return units
}

/** Packs that must be bought for so much of a supply. */
export function packsFor(supply: { onHand: number; packSize: number }, needed: number): number {
  return Math.max(0, Math.ceil((needed - supply.onHand) / supply.packSize - 1e-9))
}

function dealPools(
  kitchen: Kitchen,
  draft: Draft,
  endings: ReturnType<typeof endingsOf>['pools'],
  allocations: ItemUse[],
  leftovers: Leftover[],
): void {
  const drawsOfPool: number[][] = kitchen.pools.map(() => [])
  for (const [d, draw] of kitchen.draws.entries()) at(drawsOfPool, draw.pool).push(d)
  for (const [p, pool] of kitchen.pools.entries()) {
    const deal = dealer(pool.items)
    const inDayOrder = at(drawsOfPool, p).sort((a, b) => at(kitchen.draws, a).day - at(kitchen.draws, b).day || a - b)
    for (const d of inDayOrder) {
      const { making, day } = at(kitchen.draws, d)
      const productId = at(kitchen.makings, making).product.id
      for (const { item, grams } of deal(at(draft.draws, d))) {
        allocations.push({ itemId: item.id, productId, day, grams })
      }
    }
    for (const place of placesOf(kitchen, at(endings, p))) {
      for (const { item, grams } of deal(place.grams)) {
        leftovers.push({ from: { itemId: item.id }, grams, to: place.to, actBy: actByOf(kitchen, item, place.to) })
      }
    }
  }
}

/** Hands out grams of a row of items, the first ones first. */
function dealer(items: Item[]): (grams: number) => { item: Item; grams: number }[] {
  let next = 0
  let left = items[0]?.grams ?? 0
  return (wanted) => {
    const dealt: { item: Item; grams: number }[] = []
    for (let missing = wanted; missing > 0; ) {
      if (left === 0) {
        next++
        left = at(items, next).grams
        continue
      }
      const grams = Math.min(left, missing)
      dealt.push({ item: at(items, next), grams })
      left -= grams
      missing -= grams
    }
    return dealt
  }
}

function placesOf(
  kitchen: Kitchen,
  ending: { toOutlet: number[]; kept: number; lost: number },
): { to: Leftover['to']; grams: number }[] {
  const places: { to: Leftover['to']; grams: number }[] = ending.toOutlet.map((grams, o) => ({
    to: { outletId: at(kitchen.problem.outlets, o).id },
    grams,
  }))
  places.push({ to: 'lost', grams: ending.lost }, { to: 'kept', grams: ending.kept })
  return places.filter(({ grams }) => grams > 0)
}

/** The last date on which a leftover is still of the use it is meant for. */
function actByOf(kitchen: Kitchen, item: Item, to: Leftover['to']): string {
  if (typeof to === 'string') return item.usableUntil
  const outlet = kitchen.problem.outlets.find(({ id }) => id === to.outletId)
  const last = outlet ? lastMomentFor(outlet, item) : null
  const lastUsable = item.classByDay.findLastIndex((ripeness) => ripeness !== null)
  // Of no use on any work day, or of the right class on its last one: good until it is lost.
  if (last === null || last === lastUsable || (last === 'now' && lastUsable < 0)) return item.usableUntil
  return last === 'now' ? (item.now?.date ?? item.usableUntil) : at(kitchen.problem.days, last)
}

function materialUsesOf(kitchen: Kitchen, draft: Draft): MaterialUse[] {
  return kitchen.uses.flatMap(({ material, madeOn, making, day }, u) => {
    const grams = at(draft.uses, u)
    if (grams === 0) return []
    const productId = at(kitchen.makings, making).product.id
    return [{ materialId: at(kitchen.problem.materials, material).id, madeOn, productId, day, grams }]
  })
}

function purchasesOf(kitchen: Kitchen, draft: Draft): AllocationResult['purchases'] {
  return kitchen.problem.supplies.flatMap((supply, s) => {
    const needed = kitchen.makings.reduce(
      (total, making, m) => total + at(making.supplies, s) * unitsOf(kitchen, draft, m),
      0,
    )
    const packs = packsFor(supply, needed)
    return packs > 0 ? [{ supplyId: supply.id, packs, cost: packs * supply.packPrice }] : []
  })
}

function isoDate(calendarDay: number): string {
  return new Date(calendarDay * 86_400_000).toISOString().slice(0, 10)
}
