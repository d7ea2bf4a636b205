/** Stock that is used up sooner than this runs low. */
export const lowDays = 90
/** Use is reckoned over a year at most, and over no less than this: a first week says nothing of a year. */
export const leastDays = 30
export const yearDays = 365

/** Whole units: in stock, and used over the days before today. */
export type Use = { stock: number; used: number; overDays: number }

/**
 * How long the stock lasts, in whole days, if it goes on being used as it was; null where none was used.
 *
 * @throws RangeError for units that are not whole or below 0
 */
export function lastsDays({ stock, used, overDays }: Use): number | null {
  for (const units of [stock, used, overDays])
    if (!Number.isSafeInteger(units) || units < 0) throw new RangeError('units and days are whole, and not below 0')
  if (used === 0) return null
  const days = Math.min(yearDays, Math.max(leastDays, overDays))
  return Math.floor((stock * days) / used)
}

/** What lasts for fewer than `lowDays`, the shortest first, then what is used most. What nobody used is never low. */
export function runningLow<T extends Use>(products: readonly T[]): (T & { lasts: number })[] {
  return products
    .flatMap((product) => {
      const lasts = lastsDays(product)
      return lasts === null || lasts >= lowDays ? [] : [{ ...product, lasts }]
    })
    .sort((a, b) => a.lasts - b.lasts || b.used - a.used)
}
