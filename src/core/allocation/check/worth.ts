import type { Violation } from '../check.ts'
import type { AllocationProblem } from '../problem.ts'
import type { AllocationResult } from '../result.ts'
import { named, Tally } from './tally.ts'

/** The objective added up once more, and what was claimed about it. */
export function worthViolations(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const { objective, bound, gap, status } = result
  const worth = recomputed(problem, result)
  const size = Math.max(1, Math.abs(objective))
  if (!(Math.abs(worth - objective) <= 1e-7 * size)) {
    violations.push({ rule: 'objective', detail: `${objective} instead of ${worth}` })
  }
  if (!(bound >= objective - 1e-7 * size)) violations.push({ rule: 'bound', detail: `${bound} is below ${objective}` })
  const expected = (bound - objective) / size
  if (Number.isFinite(bound) ? !(Math.abs(gap - expected) <= 1e-9) : gap !== Number.POSITIVE_INFINITY) {
    violations.push({ rule: 'gap', detail: `${gap} instead of ${expected}` })
  }
  if (status !== 'fallback' && !Number.isFinite(bound) && status === 'proved') {
    violations.push({ rule: 'status', detail: 'proved without a bound' })
  } else if (status === 'proved' && gap > 1e-6 + roundingOf(problem, result) / size) {
    violations.push({ rule: 'status', detail: `proved with a gap of ${gap}` })
  }
  return violations
}

function recomputed(problem: AllocationProblem, result: AllocationResult): number {
  let worth = 0
  const made = new Tally()
  for (const { productId, units } of result.batches) made.add(productId, units)
  for (const { id, wish } of problem.products) {
    const units = made.get(id)
    worth += wish.worth * Math.min(units, wish.about)
    if (units > wish.about) worth += wish.worthBeyond * (units - wish.about)
    if (units < wish.atLeast) worth -= wish.shortfallWorth * (wish.atLeast - units)
  }
  for (const { itemId, productId, day, grams } of result.allocations) {
    worth -= lackingPerGram(problem, itemId, productId, day) * grams
  }
  for (const { supplyId, packs } of result.purchases) worth -= packs * named(problem.supplies, supplyId).packPrice
  for (const { from, to, grams } of result.leftovers) {
    if (typeof to === 'object') worth += (named(problem.outlets, to.outletId).worthPerKg * grams) / 1000
    else if ('itemId' in from) {
      const perKg = to === 'kept' ? (named(problem.items, from.itemId).keepWorthPerKg ?? 0) : -problem.spoilagePerKg
      worth += (perKg * grams) / 1000
    } else if (named(problem.materials, from.materialId).kind === 'intermediate') {
      worth -= (problem.spoilagePerKg * grams) / 1000
    }
  }
  return worth
}

function lackingPerGram(problem: AllocationProblem, itemId: string, productId: string, day: number): number {
  const item = named(problem.items, itemId)
  const product = named(problem.products, productId)
  const ripeness = item.classByDay[day]
  const input = product.inputs.find(({ from }) => 'crop' in from && from.crop === item.crop)
  const suit = ripeness ? (input?.suits[ripeness] ?? 0) : 0
  return (product.wish.worth * (1 - suit)) / product.gramsPerUnit
}

/** What a gram here and there can be worth: one for each row of produce used and each place left over things can go. */
function roundingOf(problem: AllocationProblem, result: AllocationResult): number {
  let worth = 0
  for (const { itemId, productId, day } of result.allocations) worth += lackingPerGram(problem, itemId, productId, day)
  const perKg = Math.max(
    0,
    ...problem.outlets.map((outlet) => outlet.worthPerKg),
    ...problem.items.map((item) => item.keepWorthPerKg ?? 0),
  )
  const heaps = problem.items.length + problem.materials.length * problem.days.length
  return worth + (heaps * (perKg + 2 * problem.spoilagePerKg)) / 1000
}
