import fc from 'fast-check'
import { expect, it } from 'vitest'
import {
  type AllocationProblem,
  type AllocationResult,
  checkAllocation,
  checkProblem,
  greedyBestGain,
  greedyFirstCome,
  solveAllocation,
} from '../../../src/core/allocation/index.ts'
import { chance } from '../../benchmarks/plain-glut.ts'
import { randomProblem } from './random-problem.ts'
import { referenceOptimum } from './reference.ts'

// Limits by nodes, not by seconds: the same problems are solved the same way on a slow machine.
const limits = { maxNodes: 5000 }
const problems = fc.record({ seed: fc.noBias(fc.nat()), size: fc.integer({ min: 1, max: 4 }) })
const runs = (numRuns: number) => ({ numRuns, seed: 20260904, endOnFailure: true })

it('gives divisions that the checker passes and that none of its own bounds contradicts', async () => {
  const had = {
    batches: 0,
    materials: 0,
    purchases: 0,
    outlets: 0,
    lost: 0,
    kept: 0,
    shortfalls: 0,
    freeShares: 0,
    partialSuit: 0,
  }
  await fc.assert(
    fc.asyncProperty(problems, async ({ seed, size }) => {
      const problem = randomProblem(seed, size)
      expect(checkProblem(problem)).toEqual([])
      const result = await solveAllocation(problem, limits)
      expect(checkAllocation(problem, result)).toEqual([])
      expect(result.status).toBe('proved')
      for (const plain of [greedyFirstCome(problem), greedyBestGain(problem)]) {
        expect(checkAllocation(problem, plain)).toEqual([])
        expect(plain.objective).toBeLessThanOrEqual(result.bound + 1e-6 * Math.max(1, Math.abs(result.bound)))
      }
      had.batches += Number(result.batches.length > 0)
      had.materials += Number(result.materialUses.length > 0)
      had.purchases += Number(result.purchases.length > 0)
      had.outlets += Number(result.leftovers.some(({ to }) => typeof to === 'object'))
      had.lost += Number(result.leftovers.some(({ to }) => to === 'lost'))
      had.kept += Number(result.leftovers.some(({ to }) => to === 'kept'))
      had.shortfalls += Number(result.shortfalls.length > 0)
      had.freeShares += Number(problem.products.some(({ inputs }) => inputs.some(({ share }) => share.min < share.max)))
      had.partialSuit += Number(result.objective !== Math.round(result.objective))
    }),
    runs(400),
  )
  // The problems are only worth something if everything happens in many of them.
  for (const [what, times] of Object.entries(had)) expect(times, what).toBeGreaterThan(15)
})

it('loses no gram: what comes in is what products, outlets, keeping and loss take', async () => {
  let tried = 0
  await fc.assert(
    fc.asyncProperty(problems, async ({ seed, size }) => {
      const problem = randomProblem(seed, size)
      const result = await solveAllocation(problem, limits)
      const sum = (rows: { grams: number }[]) => rows.reduce((total, { grams }) => total + grams, 0)
      const produceLeft = result.leftovers.filter(({ from }) => 'itemId' in from)
      const materialLeft = result.leftovers.filter(({ from }) => 'materialId' in from)
      expect(sum(result.allocations) + sum(produceLeft)).toBe(sum(problem.items))
      expect(sum(result.materialUses) + sum(materialLeft)).toBe(sum(result.materialsMade))
      expect(sum(result.allocations) + sum(result.materialUses)).toBe(sum(result.batches))
      tried++
    }),
    runs(100),
  )
  expect(tried).toBe(100)
})

it('finds the optimum of an independent model solved by another solver', async () => {
  let compared = 0
  let exact = 0
  for (let seed = 1000; seed < 1250; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 3))
    const optimum = await referenceOptimum(problem)
    if (optimum === null) continue
    compared++
    const { objective, bound } = await solveAllocation(problem, limits)
    // The reference counts fractions of a gram; a gram here and there is worth a few minor units at the very most.
    expect(Math.abs(objective - optimum), `seed ${seed}`).toBeLessThan(2)
    expect(bound, `seed ${seed}`).toBeGreaterThan(optimum - 1e-5 * Math.max(1, Math.abs(optimum)))
    if (Math.abs(objective - optimum) < 1e-3) exact++
  }
  expect(compared).toBe(250)
  expect(exact).toBeGreaterThan(240)
})

it('finds what trying out every division finds, where they can be counted', async () => {
  let divisions = 0
  for (let seed = 0; seed < 40; seed++) {
    const problem = countableProblem(seed)
    const counted = bestOfAll(problem)
    divisions += counted.tried
    const { objective, status } = await solveAllocation(problem, limits)
    expect(status).toBe('proved')
    expect(objective, `seed ${seed}`).toBeCloseTo(counted.best, 6)
  }
  expect(divisions).toBeGreaterThan(4000)
})

/** A change of a problem, or null where it has nothing to change. */
type Change = (problem: AllocationProblem, random: () => number) => AllocationProblem | null

const more: Record<string, Change> = {
  'machine minutes': (p) =>
    changed(p, p.machines, (machines) => ({
      machines: machines.map((m) => ({ ...m, minutesByDay: m.minutesByDay.map((x) => x + 17) })),
    })),
  'helper minutes': (p) =>
    changed(p, p.workers, (workers) => ({
      workers: workers.map((w) => ({ ...w, minutesByDay: w.minutesByDay.map((x) => x + 13) })),
    })),
  room: (p) => changed(p, p.rooms, (rooms) => ({ rooms: rooms.map((r) => ({ ...r, ml: r.ml + 1500 })) })),
  'supplies on hand': (p) =>
    changed(p, p.supplies, (supplies) => ({ supplies: supplies.map((s) => ({ ...s, onHand: s.onHand + 2 })) })),
  'packs to be bought': (p) =>
    changed(p, p.supplies, (supplies) => ({
      supplies: supplies.map((s) => ({ ...s, packsAtMost: s.packsAtMost + 1 })),
    })),
  budget: (p) => (p.budget === null || p.supplies.length === 0 ? null : { ...p, budget: p.budget + 1500 }),
  'outlet room': (p) =>
    p.outlets.some(({ capacityGrams }) => capacityGrams !== null)
      ? {
          ...p,
          outlets: p.outlets.map((o) => ({
            ...o,
            capacityGrams: o.capacityGrams === null ? null : o.capacityGrams + 700,
          })),
        }
      : null,
  'days to be made on': (p) =>
    p.products.some(({ onDays }) => onDays !== null)
      ? { ...p, products: p.products.map((product) => ({ ...product, onDays: null })) }
      : null,
}

it.each(Object.keys(more))('is never worth less with more of this: %s', async (what) => {
  let tried = 0
  let helped = 0
  for (let seed = 3000; tried < 40 && seed < 3600; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 4))
    const richer = more[what]?.(problem, chance(seed)) ?? null
    if (!richer) continue
    tried++
    const before = await solveAllocation(problem, limits)
    const after = await solveAllocation(richer, limits)
    expect(after.bound, `seed ${seed}`).toBeGreaterThanOrEqual(before.objective - slack(before))
    helped += Number(after.objective > before.objective + 1)
  }
  expect(tried).toBe(40)
  expect(helped).toBeGreaterThan(0)
})

it('is worth less with more produce by no more than losing it costs', async () => {
  let tried = 0
  let helped = 0
  for (let seed = 3500; tried < 40; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 4))
    const [first] = problem.items
    if (!first) continue
    tried++
    const richer = {
      ...problem,
      items: problem.items.map((item) => (item === first ? { ...item, grams: item.grams + 1500 } : item)),
    }
    const before = await solveAllocation(problem, limits)
    const after = await solveAllocation(richer, limits)
    expect(after.bound, `seed ${seed}`).toBeGreaterThanOrEqual(
      before.objective - 1.5 * problem.spoilagePerKg - slack(before),
    )
    helped += Number(after.objective > before.objective + 1)
  }
  expect(helped).toBeGreaterThan(5)
})

it('is never worth more with an outlet closed', async () => {
  let tried = 0
  let hurt = 0
  for (let seed = 4000; tried < 40; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 4))
    if (problem.outlets.length === 0) continue
    tried++
    const place = seed % problem.outlets.length
    const closed = {
      ...problem,
      outlets: problem.outlets.map((o, i) => (i === place ? { ...o, capacityGrams: 0 } : o)),
    }
    const before = await solveAllocation(problem, limits)
    const after = await solveAllocation(closed, limits)
    expect(before.bound, `seed ${seed}`).toBeGreaterThanOrEqual(after.objective - slack(after))
    hurt += Number(after.objective < before.objective - 0.1)
  }
  expect(hurt).toBeGreaterThan(5)
})

it('changes nothing but the figures of worth when all prices and worths are multiplied', async () => {
  let tried = 0
  for (let seed = 5000; seed < 5040; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 4))
    const before = await solveAllocation(problem, limits)
    // By four every figure stays exact in binary, so the very same plan must come out.
    const byFour = await solveAllocation(scaled(problem, 4), limits)
    expect(planOf(byFour), `seed ${seed}`).toEqual(planOf(before))
    expect(byFour.objective).toBeCloseTo(before.objective * 4, 6)
    // By ten another plan of the same worth may come out.
    const byTen = await solveAllocation(scaled(problem, 10), limits)
    expect(Math.abs(byTen.objective / 10 - before.objective), `seed ${seed}`).toBeLessThan(1)
    tried++
  }
  expect(tried).toBe(40)
})

it('gives the same division again, and whatever the order in which things are listed', async () => {
  let tried = 0
  let multiInput = 0
  for (let seed = 6000; seed < 6060; seed++) {
    const problem = randomProblem(seed, 1 + (seed % 4))
    const before = { ...(await solveAllocation(problem, limits)), elapsedMs: 0 }
    expect({ ...(await solveAllocation(problem, limits)), elapsedMs: 0 }).toEqual(before)
    const mixed = await solveAllocation(shuffled(problem, chance(seed)), limits)
    expect({ ...mixed, elapsedMs: 0 }, `seed ${seed}`).toEqual(before)
    multiInput += Number(problem.products.some(({ inputs }) => inputs.length > 1))
    tried++
  }
  expect(tried).toBe(60)
  expect(multiInput).toBeGreaterThan(10)
})

function slack({ objective }: AllocationResult): number {
  return 1e-6 * Math.max(1, Math.abs(objective))
}

function changed<T>(
  problem: AllocationProblem,
  list: T[],
  change: (list: T[]) => Partial<AllocationProblem>,
): AllocationProblem | null {
  return list.length === 0 ? null : { ...problem, ...change(list) }
}

function planOf({ allocations, materialUses, batches, leftovers, purchases, shortfalls }: AllocationResult) {
  return {
    allocations,
    materialUses,
    batches,
    leftovers,
    purchases: purchases.map(({ supplyId, packs }) => ({ supplyId, packs })),
    shortfalls,
  }
}

function scaled(problem: AllocationProblem, factor: number): AllocationProblem {
  return {
    ...problem,
    budget: problem.budget === null ? null : problem.budget * factor,
    spoilagePerKg: problem.spoilagePerKg * factor,
    items: problem.items.map((item) => ({
      ...item,
      keepWorthPerKg: item.keepWorthPerKg === null ? null : item.keepWorthPerKg * factor,
    })),
    supplies: problem.supplies.map((supply) => ({ ...supply, packPrice: supply.packPrice * factor })),
    outlets: problem.outlets.map((outlet) => ({ ...outlet, worthPerKg: outlet.worthPerKg * factor })),
    products: problem.products.map((product) => ({
      ...product,
      wish: {
        ...product.wish,
        worth: product.wish.worth * factor,
        worthBeyond: product.wish.worthBeyond * factor,
        shortfallWorth: product.wish.shortfallWorth * factor,
      },
    })),
  }
}

function shuffled(problem: AllocationProblem, random: () => number): AllocationProblem {
  const mix = <T>(list: T[]): T[] =>
    list
      .map((value) => ({ value, key: random() }))
      .sort((a, b) => a.key - b.key)
      .map(({ value }) => value)
  const mixRecord = (record: Record<string, number>) => Object.fromEntries(mix(Object.entries(record)))
  return {
    ...problem,
    items: mix(problem.items),
    materials: mix(problem.materials),
    machines: mix(problem.machines),
    workers: mix(problem.workers),
    rooms: mix(problem.rooms),
    supplies: mix(problem.supplies),
    products: mix(problem.products).map((product) => ({
      ...product,
      inputs: mix(product.inputs),
      workPerKg: mixRecord(product.workPerKg),
      supplies: mixRecord(product.supplies),
    })),
  }
}

/** One day, one crop, three products of one input that suits fully, one machine, loads: units can be counted through. */
function countableProblem(seed: number): AllocationProblem {
  const random = chance(seed + 77)
  const whole = (low: number, high: number) => low + Math.floor(random() * (high - low + 1))
  return {
    days: ['2026-09-04'],
    items: [
      {
        id: 'i',
        lotId: 'l',
        crop: 'damsons',
        grams: whole(20, 60) * 100,
        classByDay: ['ripe'],
        usableUntil: '2026-09-05',
        keepWorthPerKg: null,
      },
    ],
    materials: [],
    products: [0, 1, 2].map((p) => {
      const worth = whole(100, 500)
      const about = whole(1, 4)
      return {
        id: `p${p}`,
        name: `P ${p}`,
        unit: 'jar',
        gramsPerUnit: whole(4, 9) * 100,
        inputs: [{ from: { crop: 'damsons' }, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [] }],
        makes: [],
        runs: [
          {
            name: 'load',
            unitsPerRun: whole(2, 4),
            fillAtLeast: 0.5,
            machineMinutes: { canner: whole(2, 6) * 10 },
            work: {},
          },
        ],
        workPerKg: {},
        workPerUnit: {},
        machineMinutesPerUnit: { canner: whole(0, 4) },
        supplies: { jars: 1 },
        roomMlPerUnit: {},
        onDays: null,
        wish: {
          atLeast: whole(0, about),
          about,
          atMost: about + whole(0, 3),
          worth,
          worthBeyond: Math.round(worth * 0.4),
          shortfallWorth: whole(0, 200),
        },
      }
    }),
    machines: [{ id: 'canner', name: 'Canner', count: 1, minutesByDay: [whole(6, 20) * 10] }],
    workers: [],
    rooms: [],
    supplies: [
      {
        id: 'jars',
        name: 'Jars',
        unit: 'jar',
        onHand: whole(0, 4),
        packSize: 3,
        packPrice: whole(50, 300),
        packsAtMost: 3,
      },
    ],
    outlets: [],
    budget: whole(100, 700),
    spoilagePerKg: whole(0, 80),
  }
}

function bestOfAll(problem: AllocationProblem): { best: number; tried: number } {
  const [a, b, c] = problem.products
  const [item] = problem.items
  const [jars] = problem.supplies
  if (!a || !b || !c || !item || !jars) throw new Error('the countable problem has three products, an item and jars')
  let best = Number.NEGATIVE_INFINITY
  let tried = 0
  for (let x = 0; x <= a.wish.atMost; x++) {
    for (let y = 0; y <= b.wish.atMost; y++) {
      for (let z = 0; z <= c.wish.atMost; z++) {
        tried++
        const parts: [typeof a, number][] = [
          [a, x],
          [b, y],
          [c, z],
        ]
        let grams = 0
        let minutes = 0
        let worth = 0
        let full = true
        for (const [product, units] of parts) {
          const [run] = product.runs
          if (!run) throw new Error('each product has a run')
          const loads = Math.ceil(units / run.unitsPerRun)
          if (loads > 0 && units - (loads - 1) * run.unitsPerRun < run.unitsPerRun / 2) full = false
          grams += units * product.gramsPerUnit
          minutes +=
            loads * (run.machineMinutes['canner'] ?? 0) + units * (product.machineMinutesPerUnit['canner'] ?? 0)
          worth += Math.min(units, product.wish.about) * product.wish.worth
          worth += Math.max(0, units - product.wish.about) * product.wish.worthBeyond
          worth -= Math.max(0, product.wish.atLeast - units) * product.wish.shortfallWorth
        }
        const packs = Math.max(0, Math.ceil((x + y + z - jars.onHand) / jars.packSize))
        const cost = packs * jars.packPrice
        if (!full || grams > item.grams || minutes > (problem.machines[0]?.minutesByDay[0] ?? 0)) continue
        if (packs > jars.packsAtMost || cost > (problem.budget ?? 0)) continue
        best = Math.max(best, worth - cost - ((item.grams - grams) / 1000) * problem.spoilagePerKg)
      }
    }
  }
  return { best, tried }
}
