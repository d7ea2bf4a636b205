import type { AllocationProblem } from './problem.ts'
import type { AllocationResult } from './result.ts'

/** The parts of a division that its worth depends on. */
export type Priced = Pick<AllocationResult, 'allocations' | 'batches' | 'leftovers' | 'purchases' | 'shortfalls'>

/**
 * Worth minus cost minus spoilage of a division, in minor units, from its whole grams and units:
 * units up to `about` at their worth and beyond at the lesser one; less what produce that suits only partly takes off
 * (worth times what is lacking, for its part of a unit's grams); less what is missing from `atLeast`; less the packs
 * bought; plus what outlets and keeping are worth; less spoilage for whole produce and intermediates that are lost
 * (trim that is thrown away costs nothing).
 */
export function worthOf(problem: AllocationProblem, priced: Priced): number {
  let worth = 0
  const items = new Map(problem.items.map((item) => [item.id, item]))
  const products = new Map(problem.products.map((product) => [product.id, product]))
  const units = new Map<string, number>()
  for (const batch of priced.batches) units.set(batch.productId, (units.get(batch.productId) ?? 0) + batch.units)
  for (const product of problem.products) {
    const made = units.get(product.id) ?? 0
    const full = Math.min(made, product.wish.about)
    worth += full * product.wish.worth + (made - full) * product.wish.worthBeyond
  }
  for (const use of priced.allocations) {
    const item = items.get(use.itemId)
    const product = products.get(use.productId)
    const ripeness = item?.classByDay[use.day]
    if (!item || !product || !ripeness) continue
    const input = product.inputs.find(({ from }) => 'crop' in from && from.crop === item.crop)
    const lacking = 1 - (input?.suits[ripeness] ?? 0)
    worth -= (lacking * product.wish.worth * use.grams) / product.gramsPerUnit
  }
  for (const { productId, units: missing } of priced.shortfalls) {
    worth -= missing * (products.get(productId)?.wish.shortfallWorth ?? 0)
  }
  for (const { cost } of priced.purchases) worth -= cost
  for (const leftover of priced.leftovers) worth += worthOfLeftover(problem, leftover)
  return worth
}

function worthOfLeftover(
  problem: AllocationProblem,
  { from, to, grams }: AllocationResult['leftovers'][number],
): number {
  const kg = grams / 1000
  if (to === 'kept') {
    const item = problem.items.find(({ id }) => 'itemId' in from && id === from.itemId)
    return kg * (item?.keepWorthPerKg ?? 0)
  }
  if (to === 'lost') {
    if ('itemId' in from) return -kg * problem.spoilagePerKg
    const material = problem.materials.find(({ id }) => id === from.materialId)
    return material?.kind === 'intermediate' ? -kg * problem.spoilagePerKg : 0
  }
  return kg * (problem.outlets.find(({ id }) => id === to.outletId)?.worthPerKg ?? 0)
}
