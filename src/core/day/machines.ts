import type { EquipmentKind } from '../produce/vocabulary.ts'
import { partsEach } from './burners.ts'
import type { TimetablePlan } from './plan.ts'
import type { Entry } from './timetable.ts'

/** `amount`: parts of the machine; all of it, or what a canner covers of a burner. */
type Held = { kind: EquipmentKind; from: number; to: number; amount: number; entries: Entry[] }
type Standing = Pick<Held, 'to' | 'amount'> & { number: number | null }

/**
 * Gives every machine in some entries a number, from 1 within its kind: the lowest that is free for as long as an
 * activity holds it without a pause, so that a load stays in one canner from its beginning to its end. In order of
 * begin that needs no more machines than are held at one time. A canner that covers a part of a burner stands beside
 * another one if it can. Where canners stand so that they leave no burner free without being moved, although enough of
 * them would be, the burner is left out.
 *
 * @throws RangeError where more of a kind are held at one time than there are
 */
export function numberMachines(entries: readonly Entry[], plan: Pick<TimetablePlan, 'problem' | 'kitchen'>): Entry[] {
  const numbers = new Map<Entry, Entry['machines']>(entries.map((entry) => [entry, []]))
  const standing = new Map<EquipmentKind, Standing[]>()
  for (const held of [...heldBy(entries, plan)].sort((a, b) => a.from - b.from)) {
    const { kind, from, to, amount } = held
    const capacity = plan.problem.resources.find(({ id }) => id === kind)?.capacity ?? 0
    const parts = partsEach(plan.kitchen.machines, kind)
    const others = (standing.get(kind) ?? []).filter((one) => one.to > from)
    if (sumOf(others) + amount > capacity)
      throw new RangeError(`more than ${capacity / parts} of ${kind} are held at minute ${from}`)
    const number = freeNumber(others, amount, parts, capacity / parts)
    standing.set(kind, [...others, { to, amount, number }])
    if (number !== null) for (const entry of held.entries) numbers.get(entry)?.push({ kind, number })
  }
  return entries.map((entry) => ({ ...entry, machines: numbers.get(entry) ?? [] }))
}

function freeNumber(standing: readonly Standing[], amount: number, parts: number, count: number): number | null {
  const all = Array.from({ length: count }, (_, place) => place + 1)
  const taken = (number: number) => sumOf(standing.filter((one) => one.number === number))
  const beside = all.find((number) => taken(number) > 0 && taken(number) + amount <= parts)
  return beside ?? all.find((number) => taken(number) === 0) ?? null
}

function sumOf(standing: readonly Standing[]): number {
  return standing.reduce((sum, { amount }) => sum + amount, 0)
}

/** Stretches in which one activity holds one machine of a kind, or the same part of it, through one or more phases. */
function heldBy(entries: readonly Entry[], { problem, kitchen }: Pick<TimetablePlan, 'problem' | 'kitchen'>): Held[] {
  const phasesOf = new Map(problem.activities.map(({ id, phases }) => [id, phases]))
  const all: Held[] = []
  const open = new Map<string, Held>()
  for (const entry of entries) {
    if (entry.to === entry.from) continue
    for (const [place, { kind }] of entry.machines.entries()) {
      const nth = place - entry.machines.findIndex((one) => one.kind === kind)
      const units = phasesOf.get(entry.activity)?.[entry.phase]?.resources?.[kind] ?? 0
      const parts = partsEach(kitchen.machines, kind)
      const amount = Math.min(parts, units - nth * parts)
      const key = `${entry.activity} ${kind} ${nth}`
      const before = open.get(key)
      if (before && before.to === entry.from && before.amount === amount) {
        before.to = entry.to
        before.entries.push(entry)
        continue
      }
      const held = { kind, from: entry.from, to: entry.to, amount, entries: [entry] }
      all.push(held)
      open.set(key, held)
    }
  }
  return all
}
