import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { SchedulingProblem } from '../scheduling/problem.ts'
import type { Entry } from './timetable.ts'

type Held = { kind: EquipmentKind; from: number; to: number; entries: Entry[] }

/**
 * Gives every machine in some entries a number, from 1 within its kind: the lowest that is free for as long as an
 * activity holds it without a pause, so that a load stays in one canner from its beginning to its end. In order of
 * begin that needs no more machines than are held at one time.
 *
 * @throws RangeError where more of a kind are held at one time than there are
 */
export function numberMachines(entries: readonly Entry[], { resources }: SchedulingProblem): Entry[] {
  const numbers = new Map<Entry, Entry['machines']>(entries.map((entry) => [entry, []]))
  const free = new Map<EquipmentKind, number[]>()
  for (const held of [...heldBy(entries)].sort((a, b) => a.from - b.from)) {
    const ends = free.get(held.kind) ?? []
    free.set(held.kind, ends)
    const found = ends.findIndex((end) => end <= held.from)
    const place = found < 0 ? ends.length : found
    const capacity = resources.find(({ id }) => id === held.kind)?.capacity ?? 0
    if (place >= capacity) throw new RangeError(`more than ${capacity} of ${held.kind} are held at minute ${held.from}`)
    ends[place] = held.to
    for (const entry of held.entries) numbers.get(entry)?.push({ kind: held.kind, number: place + 1 })
  }
  return entries.map((entry) => ({ ...entry, machines: numbers.get(entry) ?? [] }))
}

/** Stretches in which one activity holds one machine of a kind through one or more of its phases. */
function heldBy(entries: readonly Entry[]): Held[] {
  const all: Held[] = []
  const open = new Map<string, Held>()
  for (const entry of entries) {
    if (entry.to === entry.from) continue
    for (const [place, { kind }] of entry.machines.entries()) {
      const nth = place - entry.machines.findIndex((one) => one.kind === kind)
      const key = `${entry.activity} ${kind} ${nth}`
      const before = open.get(key)
      if (before && before.to === entry.from) {
        before.to = entry.to
        before.entries.push(entry)
        continue
      }
      const held = { kind, from: entry.from, to: entry.to, entries: [entry] }
      all.push(held)
      open.set(key, held)
    }
  }
  return all
}
