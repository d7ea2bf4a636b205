import { at } from '../arrays.ts'
import { slot } from '../draft.ts'
import type { Terms } from './builder.ts'
import type { Building } from './formulate.ts'

/** Columns of a product's worth: units at full worth, and units missing (-1: none can be missed). */
export type WishColumns = { full: number; total: number; missing: number }

/**
 * Rows that no whole division breaks but that a fractional one would (mixed-integer rounding of "units <= units a run *
 * starts" with "units <= some number"; Nemhauser and Wolsey, Integer and Combinatorial Optimization, II.1.7, from
 * memory). Seventeen quarts in loads of seven are three loads, not 2.43: with k whole runs and a rest r in the number,
 * units <= k * (units a run - r) + r * starts, which meets the true steps at k and at k + 1 starts. Likewise for what is
 * missing: missing + r * starts >= r * (k + 1). The solver does not find them itself, as they add up the days.
 */
export function addRunCuts({ kitchen, builder, columns, most }: Building, wishes: WishColumns[]): void {
  for (const [m, making] of kitchen.makings.entries()) {
    const { full, total, missing } = at(wishes, m)
    const { wish } = making
    for (const [c, cycle] of making.cycles.entries()) {
      if (cycle.units === 1) continue
      const starts: number[] = []
      for (let day = 0; day < kitchen.dayCount; day++) {
        const column = at(at(columns.starts, slot(kitchen, m, day)), c)
        if (column < 0) continue
        starts.push(column)
        atMost(at(columns.units, slot(kitchen, m, day)), [column], at(at(most, m), day), cycle.units)
      }
      atMost(full, starts, wish.about, cycle.units)
      if (wish.atMost > wish.about) atMost(total, starts, wish.atMost, cycle.units)
      const rest = wish.atLeast % cycle.units
      if (missing >= 0 && rest > 0) {
        builder.row(rest * (Math.floor(wish.atLeast / cycle.units) + 1), Number.POSITIVE_INFINITY, [
          [missing, 1],
          ...scaled(starts, rest),
        ])
      }
    }
  }

  function atMost(units: number, starts: number[], number: number, unitsPerRun: number): void {
    const rest = number % unitsPerRun
    if (rest === 0) return
    const whole = Math.floor(number / unitsPerRun)
    builder.row(Number.NEGATIVE_INFINITY, whole * (unitsPerRun - rest), [[units, 1], ...scaled(starts, -rest)])
  }
}

function scaled(columns: number[], coefficient: number): Terms {
  return columns.map((column) => [column, coefficient])
}
