import type { Violation } from '../check.ts'
import type { AllocationProblem, Product, ProductInput } from '../problem.ts'
import type { AllocationResult } from '../result.ts'
import { dayNumber, named, Tally } from './tally.ts'

/** Balances to the gram, what batches give, shares, classes, days and timing. */
export function gramViolations(problem: AllocationProblem, result: AllocationResult): Violation[] {
  return [
    ...itemBalance(problem, result),
    ...ways(problem, result),
    ...batches(problem, result),
    ...madeAndUsed(problem, result),
  ]
}

function itemBalance(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const gone = new Tally()
  for (const { itemId, grams } of result.allocations) gone.add(itemId, grams)
  for (const { from, grams } of result.leftovers) if ('itemId' in from) gone.add(from.itemId, grams)
  return problem.items.flatMap(({ id, grams }): Violation[] =>
    gone.get(id) === grams
      ? []
      : [{ rule: 'item-balance', detail: `${id}: ${grams} g came in, ${gone.get(id)} g went` }],
  )
}

/** Whether each use is of an accepted class, on an allowed day, of a material that is ready and still keeps. */
function ways(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  for (const { productId, day, units } of result.batches) {
    const { onDays, atMostByDay } = named(problem.products, productId)
    const most = atMostByDay?.[day] ?? null
    if (most !== null && units > most) {
      violations.push({ rule: 'at-most-by-day', detail: `${productId} on day ${day}: ${units} of at most ${most}` })
    }
    if (onDays !== null && !onDays.includes(day)) violations.push({ rule: 'day', detail: `${productId} on day ${day}` })
  }
  for (const { itemId, productId, day } of result.allocations) {
    const item = named(problem.items, itemId)
    const ripeness = item.classByDay[day]
    const input = cropInput(named(problem.products, productId), item.crop)
    if (!ripeness || !input || !((input.suits[ripeness] ?? 0) > 0)) {
      violations.push({ rule: 'class', detail: `${itemId} (${ripeness ?? 'lost'}) for ${productId} on day ${day}` })
    }
  }
  for (const { materialId, madeOn, productId, day } of result.materialUses) {
    const material = named(problem.materials, materialId)
    const wait = dayNumber(problem.days[day]) - dayNumber(problem.days[madeOn])
    if (wait < material.readyAfterDays || wait > material.keepsDays || day < madeOn) {
      violations.push({ rule: 'timing', detail: `${materialId} after ${wait} days for ${productId}` })
    }
    if (!materialInput(named(problem.products, productId), materialId)) {
      violations.push({ rule: 'class', detail: `${materialId} for ${productId}` })
    }
  }
  return violations
}

function batches(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const parts = new Tally()
  const whole = new Tally()
  for (const { itemId, productId, day, grams } of result.allocations) {
    parts.add(`${productId} ${day} crop ${named(problem.items, itemId).crop}`, grams)
    whole.add(`${productId} ${day}`, grams)
  }
  for (const { materialId, productId, day, grams } of result.materialUses) {
    parts.add(`${productId} ${day} material ${materialId}`, grams)
    whole.add(`${productId} ${day}`, grams)
  }
  for (const { productId, day, units, grams } of result.batches) {
    const product = named(problem.products, productId)
    const key = `${productId} ${day}`
    if (grams !== units * product.gramsPerUnit || whole.get(key) !== grams) {
      violations.push({ rule: 'batch-grams', detail: `${key}: ${units} units, ${grams} g, ${whole.get(key)} g put in` })
    }
    whole.sums.delete(key)
    for (const input of product.inputs) {
      const source = 'crop' in input.from ? `crop ${input.from.crop}` : `material ${input.from.materialId}`
      const has = parts.get(`${key} ${source}`)
      const tooLittle = has <= input.share.min * grams - 1 + 1e-6
      const tooMuch = has >= input.share.max * grams + 1 - 1e-6
      if (tooLittle || tooMuch)
        violations.push({ rule: 'share', detail: `${key}: ${has} g of ${source} in ${grams} g` })
    }
  }
  for (const [key, grams] of whole.sums) {
    if (grams > 0) violations.push({ rule: 'batch-grams', detail: `${key}: ${grams} g put in, but there is no batch` })
  }
  return violations
}

function madeAndUsed(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const exact = new Tally()
  for (const { itemId, productId, day, grams } of result.allocations) {
    const item = named(problem.items, itemId)
    const ripeness = item.classByDay[day]
    for (const part of cropInput(named(problem.products, productId), item.crop)?.trim ?? []) {
      const share = (ripeness && part.shareByClass?.[ripeness]) ?? part.share
      exact.add(`${productId} ${day} ${part.materialId}`, grams * share)
    }
  }
  for (const { materialId, productId, day, grams } of result.materialUses) {
    for (const part of materialInput(named(problem.products, productId), materialId)?.trim ?? []) {
      exact.add(`${productId} ${day} ${part.materialId}`, grams * part.share)
    }
  }
  for (const { productId, day, units } of result.batches) {
    for (const { materialId, gramsPerUnit } of named(problem.products, productId).makes) {
      exact.add(`${productId} ${day} ${materialId}`, units * gramsPerUnit)
    }
  }
  const made = new Tally()
  const stock = new Tally()
  for (const { productId, day, materialId, grams } of result.materialsMade) {
    made.add(`${productId} ${day} ${materialId}`, grams)
    stock.add(`${materialId} of day ${day}`, grams)
  }
  for (const key of new Set([...exact.sums.keys(), ...made.sums.keys()])) {
    const lacking = exact.get(key) - made.get(key)
    if (lacking < -1e-5 || lacking >= 1) {
      violations.push({ rule: 'made', detail: `${key}: ${made.get(key)} g instead of ${exact.get(key)}` })
    }
  }
  for (const { materialId, madeOn, grams } of result.materialUses) stock.add(`${materialId} of day ${madeOn}`, -grams)
  for (const { from, grams } of result.leftovers) {
    if ('materialId' in from) stock.add(`${from.materialId} of day ${from.madeOn}`, -grams)
  }
  for (const [key, left] of stock.sums) {
    if (left !== 0) violations.push({ rule: 'material-balance', detail: `${key}: ${left} g more made than gone` })
  }
  return violations
}

function cropInput(product: Product, crop: string): ProductInput | undefined {
  return product.inputs.find(({ from }) => 'crop' in from && from.crop === crop)
}

function materialInput(product: Product, materialId: string): ProductInput | undefined {
  return product.inputs.find(({ from }) => 'materialId' in from && from.materialId === materialId)
}
