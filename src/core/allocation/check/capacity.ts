import type { Violation } from '../check.ts'
import type { AllocationProblem } from '../problem.ts'
import type { AllocationResult } from '../result.ts'
import { named, Tally } from './tally.ts'

/** Minutes and millilitres below this are noise of adding up. */
const tolerance = 1e-4

/** Runs and their fill, machines, hands, rooms, supplies, budget, wishes. */
export function capacityViolations(problem: AllocationProblem, result: AllocationResult): Violation[] {
  return [
    ...runs(problem, result),
    ...machines(problem, result),
    ...hands(problem, result),
    ...rooms(problem, result),
    ...supplies(problem, result),
    ...wishes(problem, result),
  ]
}

function runs(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  for (const { productId, day, units, runs: starts } of result.batches) {
    const product = named(problem.products, productId)
    if (starts.length !== product.runs.length) {
      violations.push({ rule: 'runs', detail: `${productId} on day ${day}: ${starts.length} kinds of run` })
      continue
    }
    for (const [r, run] of product.runs.entries()) {
      const started = starts[r] ?? 0
      const before = (started - 1) * run.unitsPerRun
      if (units > started * run.unitsPerRun || (started > 0 && units <= before)) {
        violations.push({
          rule: 'runs',
          detail: `${productId} on day ${day}: ${started} of ${run.name} for ${units} units`,
        })
      } else if (started > 0 && units - before < run.fillAtLeast * run.unitsPerRun - 1e-9) {
        violations.push({
          rule: 'fill',
          detail: `${productId} on day ${day}: ${units - before} in the last ${run.name}`,
        })
      }
    }
  }
  return violations
}

function machines(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const used = new Tally()
  for (const { productId, day, units, runs: starts } of result.batches) {
    const product = named(problem.products, productId)
    for (const [id, minutes] of Object.entries(product.machineMinutesPerUnit)) used.add(`${id} ${day}`, minutes * units)
    for (const [r, run] of product.runs.entries()) {
      for (const [id, minutes] of Object.entries(run.machineMinutes))
        used.add(`${id} ${day}`, minutes * (starts[r] ?? 0))
    }
  }
  return problem.machines.flatMap(({ id, minutesByDay }) =>
    minutesByDay.flatMap((minutes, day): Violation[] =>
      used.get(`${id} ${day}`) > minutes + tolerance
        ? [{ rule: 'machine', detail: `${id} on day ${day}: ${used.get(`${id} ${day}`)} of ${minutes} minutes` }]
        : [],
    ),
  )
}

/** Whether the work of each day can be dealt out to the helpers, by max-flow from kinds of work to people. */
function hands(problem: AllocationProblem, result: AllocationResult): Violation[] {
  return problem.days.flatMap((_, day): Violation[] => {
    const work = new Tally()
    for (const batch of result.batches) {
      if (batch.day !== day) continue
      const product = named(problem.products, batch.productId)
      for (const [skill, minutes] of Object.entries(product.workPerKg)) work.add(skill, (minutes * batch.grams) / 1000)
      for (const [skill, minutes] of Object.entries(product.workPerUnit)) work.add(skill, minutes * batch.units)
      for (const [r, run] of product.runs.entries()) {
        for (const [skill, minutes] of Object.entries(run.work)) work.add(skill, minutes * (batch.runs[r] ?? 0))
      }
    }
    const wanted = [...work.sums.values()].reduce((total, minutes) => total + minutes, 0)
    const dealt = dealtOut(
      [...work.sums],
      problem.workers.map(({ skills, minutesByDay }) => ({ skills, minutes: minutesByDay[day] ?? 0 })),
    )
    if (dealt >= wanted - tolerance) return []
    return [{ rule: 'hands', detail: `day ${day}: ${wanted} minutes of work, ${dealt} can be dealt out` }]
  })
}

/** The most minutes of work that these people can do (augmenting paths between kinds of work and people). */
function dealtOut(work: [skill: string, minutes: number][], people: { skills: string[]; minutes: number }[]): number {
  const open = work.map(([, minutes]) => minutes)
  const free = people.map(({ minutes }) => minutes)
  const given = work.map(() => people.map(() => 0))
  const can = work.map(([skill]) => people.map(({ skills }) => skills.includes(skill)))
  let total = 0
  for (;;) {
    const path = freePath(open, free, given, can)
    if (!path) return total
    let amount = Math.min(open[path.work[0] ?? 0] ?? 0, free[path.people.at(-1) ?? 0] ?? 0)
    for (let i = 1; i < path.work.length; i++) {
      amount = Math.min(amount, given[path.work[i] ?? 0]?.[path.people[i - 1] ?? 0] ?? 0)
    }
    for (const [i, w] of path.work.entries()) {
      const person = path.people[i] ?? 0
      const row = given[w] ?? []
      row[person] = (row[person] ?? 0) + amount
      if (i > 0) row[path.people[i - 1] ?? 0] = (row[path.people[i - 1] ?? 0] ?? 0) - amount
    }
    open[path.work[0] ?? 0] = (open[path.work[0] ?? 0] ?? 0) - amount
    free[path.people.at(-1) ?? 0] = (free[path.people.at(-1) ?? 0] ?? 0) - amount
    total += amount
  }
}

/** Shortest alternating path from work that is open to a person who is free: work, person, work, person and so on. */
function freePath(
  open: number[],
  free: number[],
  given: number[][],
  can: boolean[][],
): { work: number[]; people: number[] } | null {
  const tiny = 1e-9
  const queue: { work: number[]; people: number[] }[] = open.flatMap((minutes, w) =>
    minutes > tiny ? [{ work: [w], people: [] }] : [],
  )
  const seen = new Set<number>()
  for (let next = queue.shift(); next; next = queue.shift()) {
    const w = next.work.at(-1) ?? 0
    for (const [p, minutes] of free.entries()) {
      if (!can[w]?.[p] || seen.has(p)) continue
      seen.add(p)
      const people = [...next.people, p]
      if (minutes > tiny) return { work: next.work, people }
      for (const [other, row] of given.entries()) {
        if ((row[p] ?? 0) > tiny && !next.work.includes(other)) queue.push({ work: [...next.work, other], people })
      }
    }
  }
  return null
}

function rooms(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const taken = new Tally()
  for (const { productId, units } of result.batches) {
    for (const [id, ml] of Object.entries(named(problem.products, productId).roomMlPerUnit)) taken.add(id, ml * units)
  }
  return problem.rooms.flatMap(({ id, ml }): Violation[] =>
    taken.get(id) > ml + tolerance ? [{ rule: 'room', detail: `${id}: ${taken.get(id)} of ${ml} ml` }] : [],
  )
}

function supplies(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const violations: Violation[] = []
  const needed = new Tally()
  for (const { productId, units } of result.batches) {
    for (const [id, each] of Object.entries(named(problem.products, productId).supplies)) needed.add(id, each * units)
  }
  let spent = 0
  for (const supply of problem.supplies) {
    const bought = result.purchases.find(({ supplyId }) => supplyId === supply.id)
    const packs = bought?.packs ?? 0
    const there = supply.onHand + packs * supply.packSize
    const say = (detail: string) => violations.push({ rule: 'supply', detail: `${supply.id}: ${detail}` })
    if (needed.get(supply.id) > there + tolerance) say(`${needed.get(supply.id)} needed, ${there} there`)
    if (packs > supply.packsAtMost) say(`${packs} packs of at most ${supply.packsAtMost}`)
    if (packs > 0 && needed.get(supply.id) <= there - supply.packSize - tolerance)
      say(`${packs} packs are more than needed`)
    if (bought && Math.abs(bought.cost - packs * supply.packPrice) > tolerance)
      say(`${packs} packs do not cost ${bought.cost}`)
    spent += packs * supply.packPrice
  }
  if (problem.budget !== null && spent > problem.budget + tolerance) {
    violations.push({ rule: 'budget', detail: `${spent} of ${problem.budget} spent` })
  }
  return violations
}

function wishes(problem: AllocationProblem, result: AllocationResult): Violation[] {
  const made = new Tally()
  for (const { productId, units } of result.batches) made.add(productId, units)
  return problem.products.flatMap(({ id, wish }): Violation[] => {
    const units = made.get(id)
    const missing = Math.max(0, wish.atLeast - units)
    const told = result.shortfalls.find(({ productId }) => productId === id)?.units ?? 0
    const violations: Violation[] = []
    if (units > wish.atMost) violations.push({ rule: 'wish', detail: `${id}: ${units} of at most ${wish.atMost}` })
    if (told !== missing) violations.push({ rule: 'wish', detail: `${id}: ${missing} missing, ${told} told` })
    return violations
  })
}
