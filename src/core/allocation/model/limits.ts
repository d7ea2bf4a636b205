import { at } from '../arrays.ts'
import { slot } from '../draft.ts'
import type { Kitchen, Making } from '../kitchen.ts'
import type { Terms } from './builder.ts'
import type { Building, Columns } from './formulate.ts'

/** Minutes of machines and of hands on each day, and room for the whole plan. */
export function addLimits({ kitchen, builder, columns }: Building): void {
  const { machines, rooms } = kitchen.problem
  for (let day = 0; day < kitchen.dayCount; day++) {
    for (const [i, machine] of machines.entries()) {
      const terms = minutes(kitchen, columns, day, (making) => at(making.machineMinutes, i), 'machineMinutes', i)
      if (terms.length > 0) {
        builder.row(Number.NEGATIVE_INFINITY, at(machine.minutesByDay, day), terms, `machine ${i} ${day}`)
      }
    }
    for (const [i, limit] of kitchen.handLimits.entries()) {
      const terms = minutes(kitchen, columns, day, (making) => at(making.handMinutes, i), 'handMinutes', i)
      if (terms.length > 0) {
        builder.row(Number.NEGATIVE_INFINITY, at(limit.minutesByDay, day), terms, `hands ${i} ${day}`)
      }
    }
  }
  for (const [r, room] of rooms.entries()) {
    const terms = unitTerms(kitchen, columns, (making) => at(making.roomMl, r) / 1000)
    if (terms.length > 0) builder.row(Number.NEGATIVE_INFINITY, room.ml / 1000, terms, `room ${r}`)
  }
}

/** So much for every unit, over all days. */
export function unitTerms(kitchen: Kitchen, columns: Columns, perUnit: (making: Making) => number): Terms {
  const terms: Terms = []
  for (const [m, making] of kitchen.makings.entries()) {
    const amount = perUnit(making)
    if (amount === 0) continue
    terms.push([at(columns.totals, m), amount])
  }
  return terms
}

function minutes(
  kitchen: Kitchen,
  columns: Columns,
  day: number,
  perUnit: (making: Making) => number,
  perStart: 'machineMinutes' | 'handMinutes',
  index: number,
): Terms {
  const total = new Map<number, number>()
  const note = (column: number, amount: number) => {
    if (amount !== 0) total.set(column, (total.get(column) ?? 0) + amount)
  }
  for (const [m, making] of kitchen.makings.entries()) {
    const batch = slot(kitchen, m, day)
    const units = at(columns.units, batch)
    if (units < 0) continue
    note(units, perUnit(making))
    for (const [c, cycle] of making.cycles.entries()) note(at(at(columns.starts, batch), c), at(cycle[perStart], index))
  }
  return [...total]
}
