import { at } from '../arrays.ts'
import { emptyDraft } from '../draft.ts'
import { fillHolds, type Kitchen, waysInto } from '../kitchen.ts'
import { fits, ledgerOf } from '../ledger.ts'

/**
 * The most units of each product that could be made on each day if nothing else were made: by minutes, hands, room,
 * supplies, budget, wish, and the produce there is. Close bounds on the whole variables are worth more than anything
 * else in the formulation: a load that does not fit into the day has its bound at 0 instead of at a fraction.
 * By product, then day.
 */
export function mostUnits(kitchen: Kitchen): number[][] {
  const ledger = ledgerOf(kitchen, emptyDraft(kitchen))
  return kitchen.makings.map((making, m) =>
    kitchen.problem.days.map((_, day) => {
      if (!making.onDay[day]) return 0
      const byProduce = Math.floor(gramsFor(kitchen, m, day) / making.gramsPerUnit + 1e-9)
      let low = 0
      let high = Math.min(making.wish.atMost, byProduce)
      // What fits shrinks as units grow, so halving finds the last that fits.
      while (low < high) {
        const middle = Math.ceil((low + high) / 2)
        if (fits(kitchen, ledger, m, day, 0, middle)) low = middle
        else high = middle - 1
      }
      while (low > 0 && !fillHolds(making, low)) low--
      return low
    }),
  )
}

/** Grams of a batch that the sources of its inputs could give, each input within its share. */
function gramsFor(kitchen: Kitchen, making: number, day: number): number {
  const made = at(kitchen.makings, making)
  const ways = waysInto(kitchen, making, day)
  // A material's amount is not known beforehand: no bound from it, beyond there being a way at all.
  const sources = made.inputs.map((_, i) =>
    at(ways, i).uses.length > 0
      ? Number.POSITIVE_INFINITY
      : at(ways, i).draws.reduce((grams, d) => grams + at(kitchen.pools, at(kitchen.draws, d).pool).grams, 0),
  )
  let most = Math.min(
    ...made.inputs.map((input, i) =>
      input.share.min > 0 ? (at(sources, i) + 1) / input.share.min : Number.POSITIVE_INFINITY,
    ),
  )
  if (made.inputs.every((input, i) => input.share.max >= 1 || Number.isFinite(at(sources, i)))) {
    most = Math.min(
      most,
      sources.reduce((total, grams) => total + grams, 0),
    )
  }
  return most
}
