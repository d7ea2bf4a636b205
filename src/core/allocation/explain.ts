import { at } from './arrays.ts'
import { unitsOf } from './assemble.ts'
import { type Draft, slot } from './draft.ts'
import { fillHolds, type Kitchen, waysInto } from './kitchen.ts'
import { type Larder, larderOf, takingFor } from './larder.ts'
import { type Ledger, ledgerOf, standingInTheWay } from './ledger.ts'
import type { Limit, Reason } from './result.ts'

/**
 * Why there are not more of each product: on every day the smallest larger batch is tried (one unit more, or as many as
 * a run must hold) and what stands in its way is gathered over the days. If it would fit on some day, the division left
 * it out because of its worth.
 */
export function explain(kitchen: Kitchen, draft: Draft): Reason[] {
  const ledger = ledgerOf(kitchen, draft)
  const larder = larderOf(kitchen, { ...draft })
  return kitchen.makings.map((making, m) => {
    const units = unitsOf(kitchen, draft, m)
    const limits: Limit[] =
      units >= making.wish.atMost
        ? [{ kind: 'wish' }]
        : gathered(kitchen, draft, ledger, larder, m, making.wish.atMost - units)
    return { productId: making.product.id, units, limits }
  })
}

function gathered(kitchen: Kitchen, draft: Draft, ledger: Ledger, larder: Larder, m: number, room: number): Limit[] {
  const all: Limit[] = []
  const days = [...kitchen.calendar.keys()].filter((day) => hasWays(kitchen, m, day))
  if (days.length === 0) return missingKinds(kitchen, m)
  for (const day of days) {
    const from = at(draft.units, slot(kitchen, m, day))
    const to = nextSize(kitchen, m, from)
    // No more may be made on this day, whatever else there is: the limits told are those of the other days.
    if (to > at(at(kitchen.makings, m).atMost, day)) continue
    if (to - from > room) {
      all.push({ kind: 'run-fill', days: [day] })
      continue
    }
    const blocked = standingInTheWay(kitchen, ledger, m, day, from, to)
    blocked.push(...missingProduce(kitchen, larder, m, day, to))
    if (blocked.length === 0) return [{ kind: 'worth' }]
    // A run that must hold more than one unit stands in the way itself if a single unit would find all it needs.
    if (
      to > from + 1 &&
      missingProduce(kitchen, larder, m, day, from + 1).length < missingProduce(kitchen, larder, m, day, to).length
    ) {
      blocked.push({ kind: 'run-fill', days: [day] })
    }
    all.push(...blocked)
  }
  return merged(all)
}

/** Whether there is a day's way at all: for every input that it cannot do without, something that could go into it. */
function hasWays(kitchen: Kitchen, m: number, day: number): boolean {
  const making = at(kitchen.makings, m)
  if (!making.onDay[day]) return false
  const ways = waysInto(kitchen, m, day)
  const open = (i: number) => at(ways, i).draws.length + at(ways, i).uses.length > 0
  return making.inputs.every(({ share }, i) => share.min === 0 || open(i)) && making.inputs.some((_, i) => open(i))
}

/** The next larger batch whose last runs are full enough. */
function nextSize(kitchen: Kitchen, m: number, from: number): number {
  const making = at(kitchen.makings, m)
  const atMost = from + Math.max(1, ...making.cycles.map((cycle) => cycle.units)) * 2
  for (let to = from + 1; to < atMost; to++) if (fillHolds(making, to)) return to
  return from + 1
}

/** What produce or materials a batch of this size would lack: the inputs that cannot get their part of it. */
function missingProduce(kitchen: Kitchen, larder: Larder, m: number, day: number, to: number): Limit[] {
  return takingFor(kitchen, larder, m, day, to, kitchen.ways) ? [] : missingKinds(kitchen, m)
}

/** Everything a product is made of. */
function missingKinds(kitchen: Kitchen, m: number): Limit[] {
  const making = at(kitchen.makings, m)
  const crops: string[] = []
  const limits: Limit[] = []
  for (const input of making.inputs) {
    if (input.share.max === 0) continue
    if ('crop' in input.from) crops.push(input.from.crop)
    else limits.push({ kind: 'material', materialId: input.from.materialId })
  }
  if (crops.length > 0) limits.unshift({ kind: 'produce', crops: [...new Set(crops)].sort() })
  return limits
}

/** The same limit on several days becomes one with all of them. */
function merged(limits: Limit[]): Limit[] {
  const byKey = new Map<string, Limit>()
  for (const limit of limits) {
    const key = JSON.stringify({ ...limit, days: null })
    const same = byKey.get(key)
    if (!same) byKey.set(key, 'days' in limit ? { ...limit, days: [...limit.days] } : limit)
    else if ('days' in same && 'days' in limit)
      same.days = [...new Set([...same.days, ...limit.days])].sort((a, b) => a - b)
  }
  return [...byKey.values()]
}
