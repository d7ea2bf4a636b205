import type { Violation } from '../check.ts'
import type { AllocationProblem } from '../problem.ts'
import type { AllocationResult } from '../result.ts'

/** Names, days, whole numbers, doubles. */
export function shapeViolations(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const sets = {
    item: new Set(problem.items.map(({ id }) => id)),
    product: new Set(problem.products.map(({ id }) => id)),
    material: new Set(problem.materials.map(({ id }) => id)),
    outlet: new Set(problem.outlets.map(({ id }) => id)),
    supply: new Set(problem.supplies.map(({ id }) => id)),
  }
  const known = (kind: keyof typeof sets, id: string) => {
    if (!sets[kind].has(id)) violations.push({ rule: 'id', detail: `no ${kind} ${id}` })
  }
  const onDay = (day: number) => {
    if (problem.days[day] === undefined) violations.push({ rule: 'id', detail: `no day ${day}` })
  }
  const whole = (what: string, value: number) => {
    if (!Number.isSafeInteger(value) || value < 0) violations.push({ rule: 'whole', detail: `${what}: ${value}` })
  }
  const seen = new Set<string>()
  const once = (key: string) => {
    if (seen.has(key)) violations.push({ rule: 'whole', detail: `listed twice: ${key}` })
    seen.add(key)
  }
  for (const { itemId, productId, day, grams } of result.allocations) {
    known('item', itemId)
    known('product', productId)
    onDay(day)
    whole(`grams of ${itemId} for ${productId}`, grams)
    once(`allocation ${itemId} ${productId} ${day}`)
  }
  for (const { materialId, madeOn, productId, day, grams } of result.materialUses) {
    known('material', materialId)
    known('product', productId)
    onDay(day)
    onDay(madeOn)
    whole(`grams of ${materialId} for ${productId}`, grams)
    once(`use ${materialId} ${madeOn} ${productId} ${day}`)
  }
  for (const { productId, day, units, grams, runs } of result.batches) {
    known('product', productId)
    onDay(day)
    whole(`units of ${productId}`, units)
    whole(`grams of ${productId}`, grams)
    for (const starts of runs) whole(`runs of ${productId}`, starts)
    once(`batch ${productId} ${day}`)
  }
  for (const { productId, day, materialId, grams } of result.materialsMade) {
    known('product', productId)
    known('material', materialId)
    onDay(day)
    whole(`grams of ${materialId} from ${productId}`, grams)
    once(`made ${productId} ${day} ${materialId}`)
  }
  for (const { from, grams, to } of result.leftovers) {
    if ('itemId' in from) known('item', from.itemId)
    else {
      known('material', from.materialId)
      onDay(from.madeOn)
    }
    if (typeof to === 'object') known('outlet', to.outletId)
    whole(`grams left over of ${JSON.stringify(from)}`, grams)
    once(`leftover ${JSON.stringify(from)} ${JSON.stringify(to)}`)
  }
  for (const { supplyId, packs } of result.purchases) {
    known('supply', supplyId)
    whole(`packs of ${supplyId}`, packs)
    once(`purchase ${supplyId}`)
  }
  for (const { productId, units } of result.shortfalls) {
    known('product', productId)
    whole(`units missing of ${productId}`, units)
    once(`shortfall ${productId}`)
  }
  return violations
}
