import { at } from './arrays.ts'
import { type Draft, slot } from './draft.ts'
import { fillHolds, type Kitchen } from './kitchen.ts'
import { type Fractional, roundGrams } from './round.ts'

/**
 * Whole grams for a solver's point. Where a material is used so exactly that no whole grams fit, products that use
 * materials give up a unit, the one worth least first, until they do.
 */
export function repairGrams(kitchen: Kitchen, fractional: Fractional): Draft | null {
  let attempt = fractional
  for (let tries = 0; tries < 20; tries++) {
    const draft = roundGrams(kitchen, attempt)
    if (draft) return draft
    const less = withOneLess(kitchen, attempt)
    if (!less) return null
    attempt = less
  }
  return null
}

function withOneLess(kitchen: Kitchen, fractional: Fractional): Fractional | null {
  const users = new Set(
    kitchen.uses.filter((_, u) => at(fractional.useKg, u) > 0).map(({ making, day }) => slot(kitchen, making, day)),
  )
  const worth = (batch: number) => at(kitchen.makings, Math.floor(batch / kitchen.dayCount)).wish.worth
  const cheapest = [...users]
    .filter((batch) => at(fractional.units, batch) > 0)
    .sort((a, b) => worth(a) - worth(b) || a - b)[0]
  if (cheapest === undefined) return null
  const making = at(kitchen.makings, Math.floor(cheapest / kitchen.dayCount))
  const before = at(fractional.units, cheapest)
  let after = before - 1
  while (after > 0 && !fillHolds(making, after)) after--
  const units = [...fractional.units]
  units[cheapest] = after
  const scaled = (ways: { making: number; day: number }[], kg: number[]) =>
    kg.map((amount, i) => {
      const way = at(ways, i)
      return slot(kitchen, way.making, way.day) === cheapest ? (amount * after) / before : amount
    })
  return { units, drawKg: scaled(kitchen.draws, fractional.drawKg), useKg: scaled(kitchen.uses, fractional.useKg) }
}
