import { add, at } from './arrays.ts'
import { packsFor } from './assemble.ts'
import { type Draft, slot } from './draft.ts'
import { cyclesFor, type Kitchen, type Making } from './kitchen.ts'
import type { Limit } from './result.ts'

/** What is still free of everything but produce: minutes, hands, room, supplies, money. */
export type Ledger = {
  /** By machine, then day. */
  machines: number[][]
  /** By limit of hands, then day. */
  hands: number[][]
  rooms: number[]
  /** By supply: how much is needed so far. */
  supplies: number[]
  spent: number
}

/** Rounding noise of sums of minutes and amounts that counts as none. */
const noise = 1e-6

/** The ledger of a draft; of an empty one everything is free. */
export function ledgerOf(kitchen: Kitchen, draft: Draft): Ledger {
  const ledger: Ledger = {
    machines: kitchen.problem.machines.map((machine) => [...machine.minutesByDay]),
    hands: kitchen.handLimits.map((limit) => [...limit.minutesByDay]),
    rooms: kitchen.problem.rooms.map((room) => room.ml),
    supplies: kitchen.problem.supplies.map(() => 0),
    spent: 0,
  }
  for (const m of kitchen.makings.keys()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const units = at(draft.units, slot(kitchen, m, day))
      if (units > 0) book(kitchen, ledger, m, day, 0, units)
    }
  }
  return ledger
}

/** Takes what the change from so many units of a product on a day to so many needs (or gives it back). */
export function book(kitchen: Kitchen, ledger: Ledger, making: number, day: number, from: number, to: number): void {
  const made = at(kitchen.makings, making)
  const needs = needsOf(made, from, to)
  for (const [m, minutes] of needs.machines.entries()) add(at(ledger.machines, m), day, -minutes)
  for (const [h, minutes] of needs.hands.entries()) add(at(ledger.hands, h), day, -minutes)
  for (const [r, ml] of made.roomMl.entries()) add(ledger.rooms, r, -ml * (to - from))
  ledger.spent += packCost(kitchen, ledger, made, to - from)
  for (const [s, amount] of made.supplies.entries()) add(ledger.supplies, s, amount * (to - from))
}

/** What buying packs for so many more units costs. */
export function packCost(kitchen: Kitchen, ledger: Ledger, making: Making, moreUnits: number): number {
  let cost = 0
  for (const [s, supply] of kitchen.problem.supplies.entries()) {
    const amount = at(making.supplies, s)
    if (amount === 0) continue
    const before = at(ledger.supplies, s)
    cost += supply.packPrice * (packsFor(supply, before + amount * moreUnits) - packsFor(supply, before))
  }
  return cost
}

/** Whether the change fits, and so many may be made on the day. */
export function fits(kitchen: Kitchen, ledger: Ledger, making: number, day: number, from: number, to: number): boolean {
  if (to > at(at(kitchen.makings, making).atMost, day)) return false
  return standingInTheWay(kitchen, ledger, making, day, from, to, true).length === 0
}

/** Everything that stands in the way of a change, produce and wishes aside; only the first with `one`. */
export function standingInTheWay(
  kitchen: Kitchen,
  ledger: Ledger,
  making: number,
  day: number,
  from: number,
  to: number,
  one = false,
): Limit[] {
  const { problem } = kitchen
  const made = at(kitchen.makings, making)
  const needs = needsOf(made, from, to)
  const limits: Limit[] = []
  for (const [m, minutes] of needs.machines.entries()) {
    if (minutes > at(at(ledger.machines, m), day) + noise) {
      limits.push({ kind: 'machine', machineId: at(problem.machines, m).id, days: [day] })
      if (one) return limits
    }
  }
  for (const [h, minutes] of needs.hands.entries()) {
    if (minutes > at(at(ledger.hands, h), day) + noise) {
      limits.push({ kind: 'work', skills: at(kitchen.handLimits, h).skills, days: [day] })
      if (one) return limits
    }
  }
  for (const [r, ml] of made.roomMl.entries()) {
    if (ml * (to - from) > at(ledger.rooms, r) + noise) limits.push({ kind: 'room', roomId: at(problem.rooms, r).id })
  }
  for (const [s, supply] of problem.supplies.entries()) {
    const needed = at(ledger.supplies, s) + at(made.supplies, s) * (to - from)
    if (at(made.supplies, s) > 0 && packsFor(supply, needed) > supply.packsAtMost) {
      limits.push({ kind: 'supply', supplyId: supply.id })
    }
  }
  if (problem.budget !== null) {
    const cost = packCost(kitchen, ledger, made, to - from)
    if (cost > 0 && ledger.spent + cost > problem.budget + noise) limits.push({ kind: 'budget' })
  }
  return limits
}

export function needsOf(making: Making, from: number, to: number): { machines: number[]; hands: number[] } {
  const before = cyclesFor(making, from)
  const more = cyclesFor(making, to).map((starts, c) => starts - at(before, c))
  return {
    machines: making.machineMinutes.map((perUnit, m) =>
      making.cycles.reduce(
        (total, cycle, c) => total + at(cycle.machineMinutes, m) * at(more, c),
        perUnit * (to - from),
      ),
    ),
    hands: making.handMinutes.map((perUnit, h) =>
      making.cycles.reduce((total, cycle, c) => total + at(cycle.handMinutes, h) * at(more, c), perUnit * (to - from)),
    ),
  }
}
