import type { EquipmentKind, Station } from '../produce/vocabulary.ts'
import { equipmentKinds } from '../produce/vocabulary.ts'
import type { Schedule } from '../scheduling/problem.ts'
import { partsEach } from './burners.ts'
import { numberMachines } from './machines.ts'
import type { Afterwards, Impossible, PhasePart, PlannedActivity, TimetablePlan } from './plan.ts'
import { type Wait, waitsOf } from './waits.ts'
import { cutOut, lengthOf, merged, type Window } from './windows.ts'

/**
 * One phase at its time: what, where, by whom, with which machines (numbered from 1 within their kind). A canner that
 * covers burners has them all, also one that it shares with another canner.
 */
export type Entry = {
  activity: string
  phase: number
  batch: string | null
  portion: number | null
  /** Place among the steps of its batch. */
  step: number | null
  part: PhasePart
  units: number
  station: Station | null
  from: number
  to: number
  helpers: string[]
  machines: { kind: EquipmentKind; number: number }[]
}

/** A day of a helper: what, when he or she is there and works, and the minutes between in which there is nothing to do. */
export type HelperDay = { day: number; entries: Entry[]; hours: Window[]; workedMinutes: number; idle: Window[] }

export type BatchTimes = {
  batch: string
  /** First begin and last end of what is in the work days. */
  from: number
  to: number
  steps: { step: number; from: number; to: number; helpers: string[]; entries: Entry[] }[]
}

/** An activity that ends after it is due. What does not fit into the work days at all has no end there. */
export type Late = {
  activity: string
  batch: string | null
  day: number
  due: number
  fits: boolean
  end: number | null
  minutes: number | null
}

export type Timetable = {
  /** What is within the work days, by time. */
  entries: Entry[]
  helpers: { helper: string; days: HelperDay[] }[]
  stations: { station: Station; entries: Entry[] }[]
  machines: { kind: EquipmentKind; number: number; entries: Entry[]; busyMinutes: number }[]
  batches: BatchTimes[]
  /** What stands by itself between its steps. */
  waits: Wait[]
  late: Late[]
  /** Batches of which not every portion goes through within the work days: how many of their units do. */
  short: { batch: string; units: number; finished: number }[]
  /** What no work day will see, and what was left out. */
  afterwards: Afterwards[]
  impossible: Impossible[]
}

/**
 * A schedule of a plan's problem as people look at it: by helper, station, machine and batch, with idle time and with
 * what is late or does not fit. Times are minutes on the kitchen's axis. What lies beyond the work days has no real
 * time, so it is in `late` only.
 *
 * @throws RangeError for a schedule in which an activity of the plan is missing
 */
export function timetableOf(plan: TimetablePlan, schedule: Schedule): Timetable {
  const placed = plan.activities.map((planned) => ({ planned, start: startOf(planned, schedule) }))
  const inside = placed.filter(({ start }) => start < plan.beyond)
  const entries = numberMachines(
    inside.flatMap(({ planned, start }) => entriesOf(plan, planned, start, schedule)),
    plan,
  ).sort((a, b) => a.from - b.from || a.to - b.to)
  return {
    entries,
    helpers: plan.kitchen.helpers.map(({ id, hours }) => ({ helper: id, days: helperDays(plan, id, hours, entries) })),
    stations: stationsOf(entries),
    machines: machinesIn(entries),
    batches: plan.batches.flatMap(({ batch }) => batchTimes(batch.id, entries)),
    waits: waitsOf(plan, endsOf(entries)),
    late: placed.flatMap(({ planned, start }) => lateOf(plan, planned, start)),
    short: shortOf(plan, schedule),
    afterwards: plan.afterwards,
    impossible: plan.impossible,
  }
}

function endsOf(entries: readonly Entry[]): Map<string, number> {
  const ends = new Map<string, number>()
  for (const { activity, to } of entries) ends.set(activity, Math.max(to, ends.get(activity) ?? 0))
  return ends
}

function startOf({ activity }: PlannedActivity, schedule: Schedule): number {
  const start = Object.hasOwn(schedule.start, activity.id) ? schedule.start[activity.id] : undefined
  if (start === undefined) throw new RangeError(`activity "${activity.id}" is not in the schedule`)
  return start
}

function entriesOf(plan: TimetablePlan, planned: PlannedActivity, start: number, schedule: Schedule): Entry[] {
  const { activity, batch, portion, phases } = planned
  const steps = plan.batches.find((one) => one.batch.id === batch)?.steps ?? []
  let from = start
  return activity.phases.map((phase, number) => {
    const means = phases[number]
    const resources = phase.resources ?? {}
    const entry: Entry = {
      activity: activity.id,
      phase: number,
      batch,
      portion,
      step: means?.step ?? null,
      part: means?.part ?? 'hands',
      units: means?.units ?? 0,
      station: means?.step == null ? null : (steps[means.step]?.step.station ?? null),
      from,
      to: from + phase.minutes,
      helpers: [...(schedule.people[activity.id]?.[number] ?? [])],
      machines: equipmentKinds.flatMap((kind) =>
        Array.from({ length: Math.ceil((resources[kind] ?? 0) / partsEach(plan.kitchen.machines, kind)) }, () => ({
          kind,
          number: 0,
        })),
      ),
    }
    from = entry.to
    return entry
  })
}

function helperDays(
  plan: TimetablePlan,
  helper: string,
  hours: readonly Window[],
  entries: readonly Entry[],
): HelperDay[] {
  return plan.kitchen.days.flatMap(({ opens, closes }, day) => {
    const there = hours.filter(({ from, to }) => from >= opens && to <= closes)
    const own = entries.filter((one) => one.helpers.includes(helper) && one.from >= opens && one.from < closes)
    if (there.length === 0 && own.length === 0) return []
    const busy = merged(own)
    return [{ day, entries: own, hours: there, workedMinutes: lengthOf(busy), idle: cutOut(there, busy) }]
  })
}

function stationsOf(entries: readonly Entry[]): Timetable['stations'] {
  const stations = [...new Set(entries.flatMap(({ station }) => (station === null ? [] : [station])))]
  return stations.map((station) => ({ station, entries: entries.filter((one) => one.station === station) }))
}

function machinesIn(entries: readonly Entry[]): Timetable['machines'] {
  const found = new Map<string, Timetable['machines'][number]>()
  for (const entry of entries) {
    for (const { kind, number } of entry.machines) {
      const key = `${kind} ${number}`
      const machine = found.get(key) ?? { kind, number, entries: [], busyMinutes: 0 }
      machine.entries.push(entry)
      found.set(key, machine)
    }
  }
  // Two canners may stand on one burner.
  for (const machine of found.values()) machine.busyMinutes = lengthOf(merged(machine.entries))
  return [...found.values()].sort(
    (a, b) => equipmentKinds.indexOf(a.kind) - equipmentKinds.indexOf(b.kind) || a.number - b.number,
  )
}

function batchTimes(batch: string, all: readonly Entry[]): BatchTimes[] {
  const entries = all.filter((one) => one.batch === batch)
  const first = entries[0]
  if (!first) return []
  const steps = [...new Set(entries.flatMap(({ step }) => (step === null ? [] : [step])))].sort((a, b) => a - b)
  return [
    {
      batch,
      from: first.from,
      to: lastEnd(entries),
      steps: steps.map((step) => {
        const own = entries.filter((one) => one.step === step)
        return {
          step,
          from: own[0]?.from ?? first.from,
          to: lastEnd(own),
          helpers: [...new Set(own.flatMap(({ helpers }) => helpers))],
          entries: own,
        }
      }),
    },
  ]
}

/** A portion is finished if all of its own activities are within the work days; labelling it may come later. */
function shortOf({ batches, activities, beyond }: TimetablePlan, { start }: Schedule): Timetable['short'] {
  const out = activities.filter(({ activity }) => (start[activity.id] ?? beyond) >= beyond)
  return batches.flatMap(({ batch: { id, units }, portions }) => {
    const finished = portions.reduce(
      (sum, many, portion) => sum + (out.some((one) => one.batch === id && one.portion === portion) ? 0 : many),
      0,
    )
    return finished < units ? [{ batch: id, units, finished }] : []
  })
}

function lastEnd(entries: readonly Entry[]): number {
  return Math.max(...entries.map(({ to }) => to))
}

function lateOf({ beyond }: TimetablePlan, { activity, batch, day }: PlannedActivity, start: number): Late[] {
  const end = start + activity.phases.reduce((sum, { minutes }) => sum + minutes, 0)
  const { id, due } = activity
  if (due === undefined || end <= due) return []
  const fits = start < beyond
  return [{ activity: id, batch, day, due, fits, end: fits ? end : null, minutes: fits ? end - due : null }]
}
