import { add, at } from './arrays.ts'
import type { Kitchen } from './kitchen.ts'

/** A division in numbers: units by product and day, grams by draw and by use, all whole. */
export type Draft = { units: number[]; draws: number[]; uses: number[] }

export function emptyDraft(kitchen: Kitchen): Draft {
  return {
    units: Array.from({ length: kitchen.makings.length * kitchen.dayCount }, () => 0),
    draws: kitchen.draws.map(() => 0),
    uses: kitchen.uses.map(() => 0),
  }
}

/** Where the units of a product on a day stand in `units`. */
export function slot(kitchen: Kitchen, making: number, day: number): number {
  return making * kitchen.dayCount + day
}

/** Where a material of a day stands in a row of stocks. */
export function stockSlot(kitchen: Kitchen, material: number, madeOn: number): number {
  return material * kitchen.dayCount + madeOn
}

/** Material that comes out of the batches of one product on one day. */
export type Made = { making: number; day: number; material: number; grams: number }

/**
 * What comes out of batches as material: trim by the share of the grams that went in and what each unit makes. Whole
 * grams, rounded down: what is left of a gram stays with the product.
 */
export function madeBy(kitchen: Kitchen, draft: Draft): Made[] {
  const materialCount = kitchen.problem.materials.length
  const exact = new Float64Array(draft.units.length * materialCount)
  for (const [d, draw] of kitchen.draws.entries()) {
    const grams = at(draft.draws, d)
    if (grams === 0) continue
    const base = slot(kitchen, draw.making, draw.day) * materialCount
    for (const { material, share } of draw.trim) add(exact, base + material, grams * share)
  }
  addTrimOfMaterials(kitchen, draft, exact)
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const units = at(draft.units, slot(kitchen, m, day))
      for (const { material, grams } of making.makes) {
        add(exact, slot(kitchen, m, day) * materialCount + material, units * grams)
      }
    }
  }
  const made: Made[] = []
  exact.forEach((value, i) => {
    const grams = Math.floor(value + 1e-6)
    if (grams === 0) return
    const batch = Math.floor(i / materialCount)
    made.push({
      making: Math.floor(batch / kitchen.dayCount),
      day: batch % kitchen.dayCount,
      material: i % materialCount,
      grams,
    })
  })
  return made
}

/** Grams of each material made on each day, by `stockSlot`. */
export function stocksOf(kitchen: Kitchen, made: Made[]): number[] {
  const stocks = Array.from({ length: kitchen.problem.materials.length * kitchen.dayCount }, () => 0)
  for (const { material, day, grams } of made) add(stocks, stockSlot(kitchen, material, day), grams)
  return stocks
}

function addTrimOfMaterials(kitchen: Kitchen, draft: Draft, exact: Float64Array): void {
  const materialCount = kitchen.problem.materials.length
  for (const [u, use] of kitchen.uses.entries()) {
    const grams = at(draft.uses, u)
    if (grams === 0) continue
    const base = slot(kitchen, use.making, use.day) * materialCount
    for (const { material, share } of use.trim) add(exact, base + material, grams * share)
  }
}
