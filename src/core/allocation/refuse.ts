import { skillsAtMost } from './hands.ts'
import { calendarDay } from './kitchen.ts'
import type { AllocationProblem, Product } from './problem.ts'
import { inputKey } from './ways.ts'

/** Something about a problem that cannot be worked with: which part, and what is wrong with it. */
export type Refusal = { where: string; detail: string }

/** Thrown by `solveAllocation` for a problem that `checkProblem` refuses. */
export class ProblemRefused extends Error {
  readonly refusals: Refusal[]
  constructor(refusals: Refusal[]) {
    super(`the problem is refused: ${refusals.map(({ where, detail }) => `${where}: ${detail}`).join('; ')}`)
    this.name = 'ProblemRefused'
    this.refusals = refusals
  }
}

/**
 * Says what is wrong with a problem; an empty list: it can be solved. Refused are: numbers that are negative, not
 * finite or (grams, units, packs) not whole; rows that have not one entry a day; days out of order; ids that are given
 * twice or name nothing; shares that cannot add up; more material out of a unit than went in; a worth that rises beyond
 * `about`; outlets whose worth rises along their order (their order of use and their worth would contradict each
 * other); materials that need themselves on the same day; more kinds of work than can be counted.
 */
export function checkProblem(problem: AllocationProblem): Refusal[] {
  const refusals: Refusal[] = []
  const refuse = (where: string, detail: string) => refusals.push({ where, detail })
  const number = (where: string, value: number, kind: 'whole' | 'any' = 'any', most = Number.POSITIVE_INFINITY) => {
    if (!Number.isFinite(value)) refuse(where, 'is not a number')
    else if (value < 0) refuse(where, 'is negative')
    else if (kind === 'whole' && !Number.isSafeInteger(value)) refuse(where, 'is not a whole number')
    else if (value > most) refuse(where, `is above ${most}`)
  }
  const ids = <T extends { id: string }>(where: string, things: T[]): Set<string> => {
    const seen = new Set<string>()
    for (const { id } of things) {
      if (seen.has(id)) refuse(`${where} ${id}`, 'is given twice')
      seen.add(id)
    }
    return seen
  }
  const known = (where: string, id: string, set: Set<string>) => {
    if (!set.has(id)) refuse(where, `names ${id}, which is not there`)
  }
  const byDay = (where: string, row: unknown[]) => {
    if (row.length !== problem.days.length) refuse(where, `has ${row.length} entries for ${problem.days.length} days`)
  }
  const amounts = (where: string, record: Record<string, number>, set: Set<string> | null) => {
    for (const [id, value] of Object.entries(record)) {
      number(`${where} ${id}`, value)
      if (set) known(where, id, set)
    }
  }

  checkDays(problem, refuse)
  ids('item', problem.items)
  const materials = ids('material', problem.materials)
  const kinds = new Map(problem.materials.map((material) => [material.id, material.kind]))
  ids('product', problem.products)
  const machines = ids('machine', problem.machines)
  ids('worker', problem.workers)
  const rooms = ids('room', problem.rooms)
  const supplies = ids('supply', problem.supplies)
  ids('outlet', problem.outlets)
  number('spoilage', problem.spoilagePerKg)
  if (problem.budget !== null) number('budget', problem.budget)
  for (const item of problem.items) {
    number(`item ${item.id} grams`, item.grams, 'whole')
    byDay(`item ${item.id} classes`, item.classByDay)
    if (item.keepWorthPerKg !== null) number(`item ${item.id} worth of keeping`, item.keepWorthPerKg)
  }
  for (const material of problem.materials) {
    number(`material ${material.id} keeps`, material.keepsDays, 'whole')
    number(`material ${material.id} ready after`, material.readyAfterDays, 'whole')
    if (material.readyAfterDays > material.keepsDays) {
      refuse(`material ${material.id}`, 'is ready only when it no longer keeps')
    }
  }
  for (const machine of problem.machines) {
    byDay(`machine ${machine.id} minutes`, machine.minutesByDay)
    for (const minutes of machine.minutesByDay) number(`machine ${machine.id} minutes`, minutes)
  }
  for (const worker of problem.workers) {
    byDay(`worker ${worker.id} minutes`, worker.minutesByDay)
    for (const minutes of worker.minutesByDay) number(`worker ${worker.id} minutes`, minutes)
  }
  for (const room of problem.rooms) number(`room ${room.id}`, room.ml)
  for (const supply of problem.supplies) {
    number(`supply ${supply.id} on hand`, supply.onHand)
    number(`supply ${supply.id} pack size`, supply.packSize)
    if (supply.packSize === 0) refuse(`supply ${supply.id} pack size`, 'is zero')
    number(`supply ${supply.id} pack price`, supply.packPrice)
    number(`supply ${supply.id} packs at most`, supply.packsAtMost, 'whole')
  }
  for (const [o, outlet] of problem.outlets.entries()) {
    if (outlet.capacityGrams !== null) number(`outlet ${outlet.id} capacity`, outlet.capacityGrams, 'whole')
    number(`outlet ${outlet.id} worth`, outlet.worthPerKg)
    const before = problem.outlets[o - 1]
    if (before && outlet.worthPerKg > before.worthPerKg) {
      refuse(`outlet ${outlet.id} worth`, `is above that of ${before.id}, which comes before it in use`)
    }
    for (const id of outlet.takesMaterials) known(`outlet ${outlet.id}`, id, materials)
  }
  for (const product of problem.products) {
    const where = `product ${product.id}`
    number(`${where} grams`, product.gramsPerUnit, 'whole')
    if (product.gramsPerUnit === 0) refuse(`${where} grams`, 'are zero')
    checkInputs(product, where, refuse, number)
    for (const input of product.inputs) {
      if ('materialId' in input.from) known(where, input.from.materialId, materials)
      for (const { materialId } of input.trim) {
        known(`${where} trim`, materialId, materials)
        if (kinds.get(materialId) === 'intermediate') {
          refuse(`${where} trim`, `${materialId} is an intermediate product: it belongs in what the product makes`)
        }
      }
    }
    for (const made of product.makes) {
      known(`${where} makes`, made.materialId, materials)
      number(`${where} makes ${made.materialId}`, made.gramsPerUnit, 'whole')
    }
    for (const run of product.runs) {
      number(`${where} ${run.name} units`, run.unitsPerRun, 'whole')
      if (run.unitsPerRun === 0) refuse(`${where} ${run.name} units`, 'are zero')
      number(`${where} ${run.name} fill`, run.fillAtLeast, 'any', 1)
      amounts(`${where} ${run.name} minutes`, run.machineMinutes, machines)
      amounts(`${where} ${run.name} work`, run.work, null)
    }
    amounts(`${where} work`, product.workPerKg, null)
    amounts(`${where} work`, product.workPerUnit, null)
    amounts(`${where} minutes`, product.machineMinutesPerUnit, machines)
    amounts(`${where} supplies`, product.supplies, supplies)
    amounts(`${where} room`, product.roomMlPerUnit, rooms)
    for (const day of product.onDays ?? []) {
      if (problem.days[day] === undefined) refuse(`${where} days`, `names day ${day}, which is not there`)
    }
    if (product.atMostByDay) byDay(`${where} at most by day`, product.atMostByDay)
    for (const units of product.atMostByDay ?? []) {
      if (units !== null) number(`${where} at most by day`, units, 'whole')
    }
    checkWish(product, where, refuse, number)
  }
  const skills = new Set(problem.products.flatMap(skillsOf))
  if (skills.size > skillsAtMost) refuse('work', `has ${skills.size} kinds; at most ${skillsAtMost} can be counted`)
  if (refusals.length === 0) checkCircles(problem, refuse)
  return refusals
}

type Refuse = (where: string, detail: string) => void
type CheckNumber = (where: string, value: number, kind?: 'whole' | 'any', most?: number) => void

function checkDays(problem: AllocationProblem, refuse: Refuse): void {
  if (problem.days.length === 0) refuse('days', 'there are none')
  let before = Number.NEGATIVE_INFINITY
  for (const day of problem.days) {
    const date = /^\d{4}-\d{2}-\d{2}$/.test(day) ? calendarDay(day) : Number.NaN
    if (!Number.isFinite(date)) refuse(`day ${day}`, 'is not a date')
    else if (date <= before) refuse(`day ${day}`, 'is not after the day before it')
    else before = date
  }
}

function checkInputs(product: Product, where: string, refuse: Refuse, number: CheckNumber): void {
  if (product.inputs.length === 0) refuse(where, 'is made of nothing')
  const keys = product.inputs.map(inputKey)
  if (new Set(keys).size < keys.length) refuse(where, 'takes the same thing by two inputs')
  let least = 0
  let most = 0
  for (const input of product.inputs) {
    const name = `${where} ${inputKey(input)}`
    number(`${name} share`, input.share.min, 'any', 1)
    number(`${name} share`, input.share.max, 'any', 1)
    if (input.share.min > input.share.max) refuse(`${name} share`, 'has its least above its most')
    least += input.share.min
    most += input.share.max
    for (const [ripeness, suit] of Object.entries(input.suits)) {
      number(`${name} suits ${ripeness}`, suit, 'any', 1)
      if (suit === 0) refuse(`${name} suits ${ripeness}`, 'is zero: leave the class out')
    }
    for (const classOf of ['firm', 'ripe', 'soft', 'damaged'] as const) {
      let trim = 0
      for (const part of input.trim) {
        const share = part.shareByClass?.[classOf] ?? part.share
        number(`${name} trim ${part.materialId}`, share, 'any', 1)
        trim += share
      }
      const made = product.makes.reduce((total, { gramsPerUnit }) => total + gramsPerUnit, 0) / product.gramsPerUnit
      if (trim + made > 1 + 1e-9) {
        refuse(name, `gives more as trim and material (${classOf}) than goes in`)
        break
      }
    }
  }
  if (least > 1 + 1e-9) refuse(`${where} shares`, 'need more than the whole')
  if (most < 1 - 1e-9) refuse(`${where} shares`, 'do not come to the whole')
}

function checkWish({ wish }: Product, where: string, refuse: Refuse, number: CheckNumber): void {
  number(`${where} wish at least`, wish.atLeast, 'whole')
  number(`${where} wish about`, wish.about, 'whole')
  number(`${where} wish at most`, wish.atMost, 'whole')
  number(`${where} worth`, wish.worth)
  number(`${where} worth beyond`, wish.worthBeyond)
  number(`${where} worth of a shortfall`, wish.shortfallWorth)
  if (wish.atLeast > wish.atMost) refuse(`${where} wish`, 'has its least above its most')
  if (wish.about > wish.atMost) refuse(`${where} wish`, 'has its about above its most')
  if (wish.worthBeyond > wish.worth) refuse(`${where} worth beyond`, 'is above the worth up to about')
}

function skillsOf(product: Product): string[] {
  return [product.workPerKg, product.workPerUnit, ...product.runs.map((run) => run.work)].flatMap((work) =>
    Object.entries(work).flatMap(([skill, minutes]) => (minutes > 0 ? [skill] : [])),
  )
}

/** A material that can be used on the day it is made must not be needed for itself on that day. */
function checkCircles(problem: AllocationProblem, refuse: Refuse): void {
  const leadsTo = new Map<string, string[]>()
  for (const material of problem.materials) {
    if (material.readyAfterDays > 0) continue
    const users = problem.products.filter(({ inputs }) =>
      inputs.some(({ from }) => 'materialId' in from && from.materialId === material.id),
    )
    const given = users.flatMap(({ makes, inputs }) => [...makes, ...inputs.flatMap(({ trim }) => trim)])
    leadsTo.set(
      material.id,
      given.map(({ materialId }) => materialId),
    )
  }
  const done = new Set<string>()
  const visit = (id: string, path: string[]): void => {
    if (path.includes(id)) {
      refuse(`material ${id}`, `needs itself on the same day (${[...path.slice(path.indexOf(id)), id].join(' > ')})`)
      return
    }
    if (done.has(id)) return
    for (const next of leadsTo.get(id) ?? []) visit(next, [...path, id])
    done.add(id)
  }
  for (const id of leadsTo.keys()) visit(id, [])
}
