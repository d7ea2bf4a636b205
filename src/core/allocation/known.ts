import { at } from './arrays.ts'
import { type Draft, emptyDraft, slot } from './draft.ts'
import type { Kitchen } from './kitchen.ts'
import { fillHolds } from './kitchen.ts'
import { larderOf, putIn, takingFor } from './larder.ts'
import { book, fits, ledgerOf } from './ledger.ts'
import type { AllocationResult } from './result.ts'

/**
 * A division of another, similar problem as a draft of this one: its batches day by day, as large as this kitchen and
 * its produce allow.
 */
export function knownDraft(kitchen: Kitchen, known: Pick<AllocationResult, 'batches'>): Draft {
  const draft = emptyDraft(kitchen)
  const larder = larderOf(kitchen, draft)
  const ledger = ledgerOf(kitchen, draft)
  const order = new Map(kitchen.makings.map(({ product }, m) => [product.id, m]))
  const batches = known.batches.flatMap(({ productId, day, units }) => {
    const making = order.get(productId)
    return making === undefined || day >= kitchen.dayCount ? [] : [{ making, day, units }]
  })
  // What uses materials comes after what gives them on the same day.
  const usesMaterial = (making: number) =>
    Number(at(kitchen.makings, making).inputs.some(({ from }) => 'materialId' in from))
  batches.sort((a, b) => a.day - b.day || usesMaterial(a.making) - usesMaterial(b.making) || a.making - b.making)
  for (const { making, day, units: wanted } of batches) {
    if (!at(kitchen.makings, making).onDay[day]) continue
    for (let units = wanted; units > 0; units--) {
      if (!fillHolds(at(kitchen.makings, making), units) || !fits(kitchen, ledger, making, day, 0, units)) continue
      const taking = takingFor(kitchen, larder, making, day, units, kitchen.ways)
      if (!taking) continue
      book(kitchen, ledger, making, day, at(draft.units, slot(kitchen, making, day)), units)
      putIn(kitchen, larder, making, day, units, taking)
      break
    }
  }
  return draft
}
