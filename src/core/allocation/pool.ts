import { byText } from './arrays.ts'
import type { AllocationProblem, Item } from './problem.ts'
import { outletTakes, wayOfItem } from './ways.ts'

/** Items that may become the same things on the same days with the same worth: for the division they are one heap. */
export type Pool = {
  /** First to be used first: those that spoil first, then by id. */
  items: Item[]
  grams: number
  /** By outlet, in their order of use. */
  outlets: boolean[]
  keepWorthPerKg: number | null
}

/**
 * Pools the items by what they may become (exact: within a pool a gram is a gram). Of 40 lots in three classes about a
 * third of the variables remain. Items without weight are left out.
 */
export function poolItems(problem: AllocationProblem): Pool[] {
  const pools = new Map<string, Pool>()
  const firstLost = byText((item: Item) => `${item.usableUntil} ${item.id}`)
  for (const item of [...problem.items].sort(firstLost)) {
    if (item.grams <= 0) continue
    const signature = signatureOf(problem, item)
    const pool = pools.get(signature)
    if (pool) {
      pool.items.push(item)
      pool.grams += item.grams
    } else {
      pools.set(signature, {
        items: [item],
        grams: item.grams,
        outlets: problem.outlets.map((outlet) => outletTakes(outlet, item)),
        keepWorthPerKg: item.keepWorthPerKg,
      })
    }
  }
  // In the order of their first items, which no price can change.
  return [...pools.values()]
}

/** Everything about an item that the division can notice, as text. */
function signatureOf(problem: AllocationProblem, item: Item): string {
  const parts = [item.crop, String(item.keepWorthPerKg)]
  parts.push(problem.outlets.map((outlet) => (outletTakes(outlet, item) ? '1' : '0')).join(''))
  for (const product of problem.products) {
    for (const input of product.inputs) {
      if (!('crop' in input.from) || input.from.crop !== item.crop) continue
      for (let day = 0; day < problem.days.length; day++) {
        if (product.onDays !== null && !product.onDays.includes(day)) continue
        const way = wayOfItem(input, item, day)
        if (!way) continue
        const trim = [...way.trim].sort(byText(([id]) => id)).map(([id, share]) => `${id}=${share}`)
        parts.push(`${product.id}@${day}:${way.suit}:${trim.join(',')}`)
      }
    }
  }
  return parts.join('|')
}
