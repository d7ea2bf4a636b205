import type { AllocationProblem, Product } from '../allocation/problem.ts'
import type { AllocationResult } from '../allocation/result.ts'
import type { Batch } from '../day/batch.ts'
import { lengthOfAll } from '../day/edits.ts'
import type { DayPlan } from '../day/plan.ts'
import type { Entry, Timetable } from '../day/timetable.ts'
import { productId } from '../division/ask.ts'
import type { ClockLimit, Question } from '../division/question.ts'
import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Over } from './late.ts'

/** What was divided and how far its timetable got with it. */
export type PutOnTheClock = {
  question: Question
  problem: AllocationProblem
  result: AllocationResult
  batches: readonly Batch[]
  plan: DayPlan
  timetable: Pick<Timetable, 'machines'>
}

/**
 * Limits for the next division, in minutes of machines where these explain what was not finished: of a kind that these
 * loads need, a day has as many minutes as the finished loads took and as were left after the last of them, before the
 * day has to be cleared away. The division may then choose for itself which loads give way. What no machine explains is cut by units, and with
 * `alsoUnits` everything that was not finished is.
 */
export function cutsFor(on: PutOnTheClock, over: readonly Over[], alsoUnits: boolean): ClockLimit[] {
  const limits: ClockLimit[] = []
  const explained = new Set<string>()
  on.question.days.forEach((day, number) => {
    const here = over.filter(({ batch }) => batchOf(on, batch).day === number)
    for (const { machine, minutes, batches } of machineCuts(on, here, number)) {
      limits.push({ kind: 'machine', machine, dayId: day.id, minutes })
      for (const batch of batches) explained.add(batch)
    }
  })
  const byUnits = over.filter(({ batch }) => alsoUnits || !explained.has(batch))
  return [...limits, ...byUnits.map((one) => unitLimit(on, batchOf(on, one.batch), one.finished))]
}

/** Less time of the machines that keep days from being cleared away; none where it is no machine that does. */
export function clearingCuts(on: PutOnTheClock, over: readonly Over[]): ClockLimit[] {
  return cutsFor(on, over, false).filter(({ kind }) => kind === 'machine')
}

/**
 * No product may be made on any day in more units than were finished there, less so many more portions of what was not
 * all finished: what is made then is a part of what was on the clock.
 */
export function onlyFinished(on: PutOnTheClock, over: readonly Over[], portionsLess: number): ClockLimit[] {
  const finished = new Map(over.map((one) => [one.batch, fewer(on, one, portionsLess)]))
  return on.problem.products.flatMap(({ id }) =>
    on.question.days.map((day, number): ClockLimit => {
      const made = on.result.batches.find((one) => one.productId === id && one.day === number)?.units ?? 0
      return { kind: 'units', productId: id, dayId: day.id, atMost: finished.get(`${id}@${number}`) ?? made }
    }),
  )
}

/** The question with more limits: of two of the same thing the tighter counts, and the looser one goes. */
export function withLimits(question: Question, limits: readonly ClockLimit[]): Question {
  const all = new Map<string, ClockLimit>()
  for (const limit of [...(question.clock ?? []), ...limits]) {
    const key = `${limit.kind} ${limit.kind === 'units' ? limit.productId : limit.machine} ${limit.dayId}`
    const before = all.get(key)
    if (before === undefined || amountOf(limit) < amountOf(before)) all.set(key, limit)
  }
  return { ...question, clock: [...all.values()] }
}

function amountOf(limit: ClockLimit): number {
  return limit.kind === 'units' ? limit.atMost : limit.minutes
}

function batchOf({ batches }: PutOnTheClock, id: string): Batch {
  const batch = batches.find((one) => one.id === id)
  if (!batch) throw new RangeError(`there is no batch "${id}"`)
  return batch
}

function unitLimit({ question }: PutOnTheClock, batch: Batch, atMost: number): ClockLimit {
  const day = question.days[batch.day]
  if (!day) throw new RangeError(`batch "${batch.id}" is on no work day`)
  return { kind: 'units', productId: productId(batch.recipe.id, batch.pack.key), dayId: day.id, atMost }
}

/** What was finished of a batch, less as many units as so many of its last portions have. */
function fewer({ plan }: PutOnTheClock, { batch: id, finished }: Over, portionsLess: number): number {
  const portions = plan.batches.find(({ batch }) => batch.id === id)?.portions ?? []
  const largest = Math.max(1, ...portions)
  return Math.max(0, finished - portionsLess * largest)
}

type MachineCut = { machine: EquipmentKind; minutes: number; batches: string[] }

/** The kinds of machine that had less time left on a day than what was not finished needs of them. */
function machineCuts(on: PutOnTheClock, over: readonly Over[], day: number): MachineCut[] {
  const kinds = [...new Set(on.question.equipment.map(({ kind }) => kind))].filter((kind) => kind !== 'freezer')
  return kinds.flatMap((machine) => {
    const lost = over.map(({ batch, finished }) => {
      const { recipe, pack, units } = batchOf(on, batch)
      const product = on.problem.products.find(({ id }) => id === productId(recipe.id, pack.key))
      return {
        batch,
        minutes: product ? minutesOf(product, machine, units) - minutesOf(product, machine, finished) : 0,
      }
    })
    const needs = lost.reduce((sum, { minutes }) => sum + minutes, 0)
    const left = minutesLeft(on, over, machine, day)
    if (needs <= 0 || left >= needs) return []
    const used = on.result.batches.reduce((sum, { productId: id, day: on_, units }) => {
      const product = on_ === day ? on.problem.products.find((one) => one.id === id) : undefined
      return sum + (product ? minutesOf(product, machine, units) : 0)
    }, 0)
    const minutes = Math.max(0, Math.floor(Math.min(used - 1, used - needs + left)))
    return [{ machine, minutes, batches: lost.filter((one) => one.minutes > 0).map(({ batch }) => batch) }]
  })
}

/** Minutes of machines of a kind that a division counts for so many units of a product. */
function minutesOf({ runs, machineMinutesPerUnit }: Product, machine: EquipmentKind, units: number): number {
  return runs.reduce(
    (sum, { unitsPerRun, machineMinutes }) => sum + Math.ceil(units / unitsPerRun) * (machineMinutes[machine] ?? 0),
    units * (machineMinutesPerUnit[machine] ?? 0),
  )
}

/** From the last end of each machine of a kind, what was not finished left out, until clearing away, added up. */
function minutesLeft(
  { plan, timetable }: PutOnTheClock,
  over: readonly Over[],
  machine: EquipmentKind,
  day: number,
): number {
  const on = plan.kitchen.days[day]
  const kind = plan.kitchen.machines.find((one) => one.kind === machine)
  if (!on || !kind) return 0
  const cleanUp = plan.activities.find(({ activity }) => activity.id === `clean-up@${day}`)
  const closes = on.closes - (cleanUp ? lengthOfAll(cleanUp.activity) : 0)
  const isOver = ({ batch, portion }: Entry) =>
    over.some((one) => one.batch === batch && portion !== null && one.portions.includes(portion))
  const ends = timetable.machines
    .filter((one) => one.kind === machine)
    .map(({ entries }) =>
      Math.max(
        on.opens,
        ...entries.filter((one) => one.from >= on.opens && one.from < closes && !isOver(one)).map(({ to }) => to),
      ),
    )
  const unused = Math.max(0, (kind.countByDay[day] ?? 0) - ends.length) * (closes - on.opens)
  return ends.reduce((sum, end) => sum + Math.max(0, closes - end), unused)
}
