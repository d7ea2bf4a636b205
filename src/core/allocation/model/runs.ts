import { at } from '../arrays.ts'
import { cyclesFor } from '../kitchen.ts'
import type { Building } from './formulate.ts'

/**
 * Whole units by product and day, and whole starts of their cycles: no more units than the starts hold, and the last
 * start full enough. The second row is void when nothing is started, so neither needs a yes-or-no variable.
 */
export function addRuns({ kitchen, builder, columns, most }: Building): void {
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const atMost = at(at(most, m), day)
      if (atMost === 0) {
        columns.units.push(-1)
        columns.starts.push(making.cycles.map(() => -1))
        continue
      }
      const units = builder.column(0, 0, atMost, true)
      columns.units.push(units)
      const startsAtMost = cyclesFor(making, atMost)
      columns.starts.push(
        making.cycles.map((cycle, c) => {
          if (cycle.units === 1) return units
          const starts = builder.column(0, 0, at(startsAtMost, c), true)
          const missing = Math.max(0, cycle.units - Math.max(1, Math.ceil(cycle.fillAtLeast * cycle.units - 1e-9)))
          builder.row(-missing, 0, [
            [units, 1],
            [starts, -cycle.units],
          ])
          return starts
        }),
      )
    }
  }
}
