import { at, byText } from './arrays.ts'
import { type HandLimit, handLimits } from './hands.ts'
import { type Pool, poolItems } from './pool.ts'
import type { AllocationProblem, Product, ProductInput, Wish } from './problem.ts'
import { inputKey, wayOfItem } from './ways.ts'

/**
 * A problem put in order and numbered: what every step of the solving works on. Sorted by id, so that the order in
 * which things were typed changes nothing (outlets keep theirs: it is their order of use). Days, products, materials
 * and so on are plain indices from here on.
 */
export type Kitchen = {
  problem: AllocationProblem
  dayCount: number
  /** Calendar number of each work day. */
  calendar: number[]
  pools: Pool[]
  makings: Making[]
  draws: Draw[]
  uses: Use[]
  ways: Ways
  handLimits: HandLimit[]
}

/** The draws and uses (their numbers) by batch (`slot`), then input. */
export type Ways = { draws: number[]; uses: number[] }[][]

/** One product, with its needs as rows of numbers. */
export type Making = {
  product: Product
  gramsPerUnit: number
  onDay: boolean[]
  /** The most units on each day; infinite where there is no limit. */
  atMost: number[]
  inputs: ProductInput[]
  /** Runs with the same number of units are started together and counted once. */
  cycles: Cycle[]
  /** For one unit, by machine. */
  machineMinutes: number[]
  /** For one unit, by limit of hands. */
  handMinutes: number[]
  supplies: number[]
  roomMl: number[]
  makes: { material: number; grams: number }[]
  wish: Wish
}

export type Cycle = { units: number; fillAtLeast: number; machineMinutes: number[]; handMinutes: number[] }

/** A way for produce into a product: a pool, to an input, on a day. */
export type Draw = {
  making: number
  day: number
  input: number
  pool: number
  suit: number
  trim: { material: number; share: number }[]
}

/** A way for a material into a product: made on a day, to an input, on a day. */
export type Use = {
  making: number
  day: number
  input: number
  material: number
  madeOn: number
  trim: { material: number; share: number }[]
}

/** Puts a checked problem in order; what `checkProblem` refuses must not come here. */
export function kitchenOf(given: AllocationProblem): Kitchen {
  const problem = inOrder(given)
  const dayCount = problem.days.length
  const skills = problem.products.flatMap((product) => [
    ...keysOf(product.workPerKg),
    ...keysOf(product.workPerUnit),
    ...product.runs.flatMap((run) => keysOf(run.work)),
  ])
  const limits = handLimits(skills, problem.workers, dayCount)
  const makings = problem.products.map((product) => makingOf(product, problem, limits))
  const pools = poolItems(problem)
  const calendar = problem.days.map(calendarDay)
  const draws = drawsOf(problem, makings, pools)
  const uses = usesOf(problem, makings, calendar)
  const ways = makings.flatMap((making) =>
    problem.days.map(() => making.inputs.map(() => ({ draws: [] as number[], uses: [] as number[] }))),
  )
  for (const [d, draw] of draws.entries()) at(at(ways, draw.making * dayCount + draw.day), draw.input).draws.push(d)
  for (const [u, use] of uses.entries()) at(at(ways, use.making * dayCount + use.day), use.input).uses.push(u)
  return { problem, dayCount, calendar, pools, makings, draws, uses, ways, handLimits: limits }
}

/** The same ways with the draws of each input in another order: smaller rank first. */
export function ranked(kitchen: Kitchen, rank: (draw: number) => number): Ways {
  const ranks = kitchen.draws.map((_, d) => rank(d))
  const byRank = (a: number, b: number) => at(ranks, a) - at(ranks, b) || a - b
  return kitchen.ways.map((inputs) => inputs.map(({ draws, uses }) => ({ draws: [...draws].sort(byRank), uses })))
}

/** The ways into a batch, by input. */
export function waysInto(kitchen: Kitchen, making: number, day: number): { draws: number[]; uses: number[] }[] {
  return at(kitchen.ways, making * kitchen.dayCount + day)
}

/** Days since 1970-01-01 of an ISO date. */
export function calendarDay(date: string): number {
  return Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000)
}

/** The number of starts of each cycle that so many units need. */
export function cyclesFor(making: Making, units: number): number[] {
  return making.cycles.map((cycle) => Math.ceil(units / cycle.units - 1e-9))
}

/** Whether the last start of the day is full enough in every cycle. */
export function fillHolds(making: Making, units: number): boolean {
  return making.cycles.every((cycle) => {
    const starts = Math.ceil(units / cycle.units - 1e-9)
    return starts === 0 || units - (starts - 1) * cycle.units >= cycle.fillAtLeast * cycle.units - 1e-9
  })
}

function inOrder(problem: AllocationProblem): AllocationProblem {
  const byId = byText((thing: { id: string }) => thing.id)
  return {
    ...problem,
    items: [...problem.items].sort(byId),
    materials: [...problem.materials].sort(byId),
    products: [...problem.products].sort(byId),
    machines: [...problem.machines].sort(byId),
    workers: [...problem.workers].sort(byId),
    rooms: [...problem.rooms].sort(byId),
    supplies: [...problem.supplies].sort(byId),
  }
}

function makingOf(product: Product, problem: AllocationProblem, limits: HandLimit[]): Making {
  const kg = product.gramsPerUnit / 1000
  const work = new Map<string, number>()
  for (const skill of keysOf(product.workPerKg)) bump(work, skill, (product.workPerKg[skill] ?? 0) * kg)
  for (const skill of keysOf(product.workPerUnit)) bump(work, skill, product.workPerUnit[skill] ?? 0)
  return {
    product,
    gramsPerUnit: product.gramsPerUnit,
    onDay: problem.days.map((_, day) => product.onDays === null || product.onDays.includes(day)),
    atMost: problem.days.map((_, day) => product.atMostByDay?.[day] ?? Number.POSITIVE_INFINITY),
    inputs: [...product.inputs].sort(byText(inputKey)),
    cycles: cyclesOf(product, problem, limits),
    machineMinutes: problem.machines.map((machine) => product.machineMinutesPerUnit[machine.id] ?? 0),
    handMinutes: limits.map((limit) => totalOf(work, limit.skills)),
    supplies: problem.supplies.map((supply) => product.supplies[supply.id] ?? 0),
    roomMl: problem.rooms.map((room) => product.roomMlPerUnit[room.id] ?? 0),
    makes: problem.materials.flatMap((material, m) => {
      const grams = product.makes.reduce((g, made) => (made.materialId === material.id ? g + made.gramsPerUnit : g), 0)
      return grams > 0 ? [{ material: m, grams }] : []
    }),
    wish: product.wish,
  }
}

function cyclesOf(product: Product, problem: AllocationProblem, limits: HandLimit[]): Cycle[] {
  const cycles = new Map<number, Cycle>()
  for (const run of [...product.runs].sort((a, b) => a.unitsPerRun - b.unitsPerRun)) {
    const work = new Map(Object.entries(run.work))
    const machine = problem.machines.map((m) => run.machineMinutes[m.id] ?? 0)
    const hands = limits.map((limit) => totalOf(work, limit.skills))
    const same = cycles.get(run.unitsPerRun)
    cycles.set(run.unitsPerRun, {
      units: run.unitsPerRun,
      fillAtLeast: Math.max(run.fillAtLeast, same?.fillAtLeast ?? 0),
      machineMinutes: machine.map((minutes, m) => minutes + (same?.machineMinutes[m] ?? 0)),
      handMinutes: hands.map((minutes, h) => minutes + (same?.handMinutes[h] ?? 0)),
    })
  }
  return [...cycles.values()]
}

function drawsOf(problem: AllocationProblem, makings: Making[], pools: Pool[]): Draw[] {
  const draws: Draw[] = []
  for (const [m, making] of makings.entries()) {
    for (let day = 0; day < problem.days.length; day++) {
      if (!making.onDay[day]) continue
      for (const [i, input] of making.inputs.entries()) {
        if (!('crop' in input.from)) continue
        for (const [p, pool] of pools.entries()) {
          const way = wayOfItem(input, at(pool.items, 0), day)
          if (way) draws.push({ making: m, day, input: i, pool: p, suit: way.suit, trim: trimOf(problem, way.trim) })
        }
      }
    }
  }
  return draws
}

function trimOf(problem: AllocationProblem, trim: Map<string, number>): { material: number; share: number }[] {
  return problem.materials.flatMap((material, m) => {
    const share = trim.get(material.id) ?? 0
    return share > 0 ? [{ material: m, share }] : []
  })
}

function trimShares(input: ProductInput): Map<string, number> {
  const trim = new Map<string, number>()
  for (const part of input.trim) bump(trim, part.materialId, part.share)
  return trim
}

function usesOf(problem: AllocationProblem, makings: Making[], calendar: number[]): Use[] {
  const uses: Use[] = []
  const index = new Map(problem.materials.map((material, m) => [material.id, m]))
  for (const [m, making] of makings.entries()) {
    for (let day = 0; day < problem.days.length; day++) {
      if (!making.onDay[day]) continue
      for (const [i, input] of making.inputs.entries()) {
        if (!('materialId' in input.from)) continue
        const material = at([index.get(input.from.materialId) ?? -1], 0)
        const { readyAfterDays, keepsDays } = at(problem.materials, material)
        for (let madeOn = 0; madeOn <= day; madeOn++) {
          const wait = at(calendar, day) - at(calendar, madeOn)
          if (wait < readyAfterDays || wait > keepsDays) continue
          uses.push({ making: m, day, input: i, material, madeOn, trim: trimOf(problem, trimShares(input)) })
        }
      }
    }
  }
  return uses
}

function keysOf(record: Record<string, number>): string[] {
  return Object.keys(record)
    .filter((key) => (record[key] ?? 0) > 0)
    .sort()
}

function bump(map: Map<string, number>, key: string, amount: number): void {
  map.set(key, (map.get(key) ?? 0) + amount)
}

function totalOf(map: Map<string, number>, keys: string[]): number {
  return keys.reduce((total, key) => total + (map.get(key) ?? 0), 0)
}
