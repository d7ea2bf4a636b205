import type { RipenessClass } from '../../produce/vocabulary.ts'
import type { Violation } from '../check.ts'
import type { AllocationProblem, Outlet } from '../problem.ts'
import type { AllocationResult, Leftover } from '../result.ts'
import { dayNumber, named, Tally } from './tally.ts'

/** What outlets accept and hold, their order of use, what is kept, and dates to act by. */
export function leftoverViolations(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const filled = new Tally()
  for (const { to, grams } of result.leftovers) if (typeof to === 'object') filled.add(to.outletId, grams)
  const room = (outlet: Outlet) =>
    outlet.capacityGrams === null ? Number.POSITIVE_INFINITY : outlet.capacityGrams - filled.get(outlet.id)
  for (const outlet of problem.outlets) {
    if (room(outlet) < 0)
      violations.push({ rule: 'outlet-capacity', detail: `${outlet.id}: ${-room(outlet)} g too many` })
  }
  for (const leftover of result.leftovers) {
    const name = JSON.stringify(leftover.from)
    const { to } = leftover
    if (typeof to === 'object' && !accepts(problem, named(problem.outlets, to.outletId), leftover)) {
      violations.push({ rule: 'outlet', detail: `${to.outletId} does not take ${name}` })
    }
    const keeps = 'itemId' in leftover.from && named(problem.items, leftover.from.itemId).keepWorthPerKg !== null
    if (to === 'kept' && !keeps) violations.push({ rule: 'kept', detail: `${name} does not keep` })
    if (to === 'lost' && keeps && leftover.grams > 0) {
      violations.push({ rule: 'cascade', detail: `${name} is lost though it keeps` })
    }
    if (to !== 'kept' && leftover.grams > 0) {
      const place =
        typeof to === 'object' ? problem.outlets.findIndex(({ id }) => id === to.outletId) : problem.outlets.length
      for (const earlier of problem.outlets.slice(0, place)) {
        if (room(earlier) > 0 && accepts(problem, earlier, leftover)) {
          violations.push({ rule: 'cascade', detail: `${earlier.id} has room for ${name}` })
        }
      }
    }
    const actBy = latest(problem, leftover)
    if (leftover.actBy !== actBy) {
      violations.push({ rule: 'act-by', detail: `${name}: ${leftover.actBy} instead of ${actBy}` })
    }
  }
  return violations
}

function accepts(problem: AllocationProblem, outlet: Outlet, { from }: Leftover): boolean {
  if ('materialId' in from) return outlet.takesMaterials.includes(from.materialId)
  return acceptedOn(problem, outlet, from.itemId).length > 0
}

/** Dates on which an outlet takes an item: the day of asking, and work days. */
function acceptedOn(problem: AllocationProblem, outlet: Outlet, itemId: string): string[] {
  const item = named(problem.items, itemId)
  const takes = outlet.takesProduce
  if (takes === null || (takes.crops.length > 0 && !takes.crops.includes(item.crop))) return []
  return conditions(problem, itemId).flatMap(({ date, ripeness }) => (takes.classes.includes(ripeness) ? [date] : []))
}

/** What an item is, on each date on which that is known and it is of use. */
function conditions(problem: AllocationProblem, itemId: string): { date: string; ripeness: RipenessClass }[] {
  const item = named(problem.items, itemId)
  const now = item.now ? [{ date: item.now.date, ripeness: item.now.class }] : []
  const later = problem.days.flatMap((date, day) => {
    const ripeness = item.classByDay[day]
    return ripeness ? [{ date, ripeness }] : []
  })
  return [...now, ...later]
}

/** Material: as long as it keeps. Produce: as long as it is of use at all, for an outlet of the classes it takes. */
function latest(problem: AllocationProblem, { from, to }: Leftover): string {
  if ('materialId' in from) {
    const until = dayNumber(problem.days[from.madeOn]) + named(problem.materials, from.materialId).keepsDays
    return new Date(until * 86_400_000).toISOString().slice(0, 10)
  }
  const item = named(problem.items, from.itemId)
  if (typeof to === 'string') return item.usableUntil
  const last = acceptedOn(problem, named(problem.outlets, to.outletId), item.id).at(-1)
  const changesLater = conditions(problem, item.id).some(({ date }) => last !== undefined && date > last)
  return changesLater ? (last ?? item.usableUntil) : item.usableUntil
}
