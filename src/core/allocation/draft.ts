import { add, at } from './arrays.ts'
import { type Kitchen, waysInto } from './kitchen.ts'

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
  return kitchen.makings.flatMap((_, making) =>
    kitchen.calendar.flatMap((_date, day) =>
      at(draft.units, slot(kitchen, making, day)) === 0
        ? []
        : madeByBatch(kitchen, draft, making, day).flatMap((grams, material) =>
            grams > 0 ? [{ making, day, material, grams }] : [],
          ),
    ),
  )
}

/** The same for one batch: grams by material. */
export function madeByBatch(kitchen: Kitchen, draft: Draft, making: number, day: number): number[] {
  const exact = kitchen.problem.materials.map(() => 0)
  if (exact.length === 0) return exact
  for (const { draws, uses } of waysInto(kitchen, making, day)) {
    for (const d of draws) {
      const grams = at(draft.draws, d)
      if (grams > 0) for (const { material, share } of at(kitchen.draws, d).trim) add(exact, material, grams * share)
    }
    for (const u of uses) {
      const grams = at(draft.uses, u)
      if (grams > 0) for (const { material, share } of at(kitchen.uses, u).trim) add(exact, material, grams * share)
    }
  }
  const units = at(draft.units, slot(kitchen, making, day))
  for (const { material, grams } of at(kitchen.makings, making).makes) add(exact, material, units * grams)
  return exact.map((grams) => Math.floor(grams + 1e-6))
}

/** Grams of each material made on each day, by `stockSlot`. */
export function stocksOf(kitchen: Kitchen, made: Made[]): number[] {
  const stocks = Array.from({ length: kitchen.problem.materials.length * kitchen.dayCount }, () => 0)
  for (const { material, day, grams } of made) add(stocks, stockSlot(kitchen, material, day), grams)
  return stocks
}
