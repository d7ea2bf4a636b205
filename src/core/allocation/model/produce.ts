import { at } from '../arrays.ts'
import { slot } from '../draft.ts'
import { waysInto } from '../kitchen.ts'
import type { Terms } from './builder.ts'
import type { Building } from './formulate.ts'

/** Kilograms from pools and stocks into batches: together what the units weigh, each input within its share. */
export function addProduce({ kitchen, builder, columns, most, worth }: Building): void {
  const possible = (making: number, day: number) => at(at(most, making), day) > 0
  for (const draw of kitchen.draws) {
    const { wish, gramsPerUnit } = at(kitchen.makings, draw.making)
    const lacking = ((1 - draw.suit) * wish.worth * 1000) / gramsPerUnit
    const kg = at(kitchen.pools, draw.pool).grams / 1000
    columns.draws.push(possible(draw.making, draw.day) ? builder.column(worth(-lacking), 0, kg) : -1)
  }
  for (const use of kitchen.uses) {
    columns.uses.push(possible(use.making, use.day) ? builder.column(0, 0, Number.POSITIVE_INFINITY) : -1)
  }
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const units = at(columns.units, slot(kitchen, m, day))
      if (units < 0) continue
      const kg = making.gramsPerUnit / 1000
      const byInput = waysInto(kitchen, m, day).map(
        ({ draws, uses }): Terms => [
          ...draws.map((d): [number, number] => [at(columns.draws, d), 1]),
          ...uses.map((u): [number, number] => [at(columns.uses, u), 1]),
        ],
      )
      builder.row(0, 0, [[units, -kg], ...byInput.flat()])
      if (making.inputs.length === 1) continue
      for (const [i, input] of making.inputs.entries()) {
        addShare(input.share, making.gramsPerUnit, units, at(byInput, i))
      }
    }
  }

  /** The share may be off by less than a gram where it does not come to whole grams: as much as rounding may need. */
  function addShare(share: { min: number; max: number }, gramsPerUnit: number, units: number, terms: Terms): void {
    const slack = (part: number) => (isWhole(part * gramsPerUnit) ? 0 : 0.001)
    if (share.min === share.max) {
      builder.row(-slack(share.min), slack(share.max), [...terms, [units, (-share.min * gramsPerUnit) / 1000]])
      return
    }
    if (share.min > 0) {
      builder.row(-slack(share.min), Number.POSITIVE_INFINITY, [...terms, [units, (-share.min * gramsPerUnit) / 1000]])
    }
    if (share.max < 1) {
      builder.row(Number.NEGATIVE_INFINITY, slack(share.max), [...terms, [units, (-share.max * gramsPerUnit) / 1000]])
    }
  }
}

function isWhole(grams: number): boolean {
  return Math.abs(grams - Math.round(grams)) < 1e-9
}
