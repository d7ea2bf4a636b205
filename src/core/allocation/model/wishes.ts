import { at } from '../arrays.ts'
import { slot } from '../draft.ts'
import type { Terms } from './builder.ts'
import type { WishColumns } from './cuts.ts'
import type { Building } from './formulate.ts'

/**
 * Worth by segments: as it falls beyond `about`, the full-worth part fills first without a yes-or-no variable.
 * Out: the columns of each product's worth.
 */
export function addWishes({ kitchen, builder, columns, worth }: Building): WishColumns[] {
  const wishes: WishColumns[] = []
  for (const [m, { wish }] of kitchen.makings.entries()) {
    const units: Terms = []
    for (let day = 0; day < kitchen.dayCount; day++) {
      const column = at(columns.units, slot(kitchen, m, day))
      if (column >= 0) units.push([column, 1])
    }
    const full = builder.column(worth(wish.worth), 0, wish.about)
    const beyond = builder.column(worth(wish.worthBeyond), 0, wish.atMost - wish.about)
    // The days are much alike, so deciding a batch moves it to another day and proves nothing; deciding the total does.
    const total = builder.column(0, 0, wish.atMost, true)
    columns.totals.push(total)
    builder.row(0, 0, [...units, [total, -1]])
    builder.row(0, 0, [
      [total, 1],
      [full, -1],
      [beyond, -1],
    ])
    let missing = -1
    if (wish.atLeast > 0 && wish.shortfallWorth > 0) {
      missing = builder.column(worth(-wish.shortfallWorth), 0, wish.atLeast)
      builder.row(wish.atLeast, Number.POSITIVE_INFINITY, [
        [total, 1],
        [missing, 1],
      ])
    }
    wishes.push({ full, total, missing })
  }
  return wishes
}
