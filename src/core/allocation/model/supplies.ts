import { at } from '../arrays.ts'
import { packsFor } from '../assemble.ts'
import type { Terms } from './builder.ts'
import type { Building } from './formulate.ts'
import { unitTerms } from './limits.ts'

/** Supplies on hand and in whole packs, and what may be spent on them. */
export function addSupplies({ kitchen, builder, columns, worth }: Building): void {
  const { supplies, budget } = kitchen.problem
  const costs: Terms = []
  for (const [s, supply] of supplies.entries()) {
    const needed = unitTerms(kitchen, columns, (making) => at(making.supplies, s))
    const mostNeeded = kitchen.makings.reduce((total, making) => total + at(making.supplies, s) * making.wish.atMost, 0)
    const packsAtMost = Math.min(supply.packsAtMost, packsFor(supply, mostNeeded))
    const packs =
      needed.length > 0 && packsAtMost > 0 ? builder.column(worth(-supply.packPrice), 0, packsAtMost, true) : -1
    columns.packs.push(packs)
    if (needed.length === 0) continue
    const bought: Terms = packs >= 0 ? [[packs, -supply.packSize]] : []
    builder.row(Number.NEGATIVE_INFINITY, supply.onHand, [...needed, ...bought], `supply ${s}`)
    if (packs >= 0) costs.push([packs, supply.packPrice])
  }
  if (budget !== null && costs.length > 0) builder.row(Number.NEGATIVE_INFINITY, worth(budget), scaled(costs, worth))
}

function scaled(terms: Terms, worth: (minorUnits: number) => number): Terms {
  return terms.map(([column, price]) => [column, worth(price)])
}
