import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Activity, Phase, Resource } from '../scheduling/problem.ts'
import { minutesOfADay } from './kitchen.ts'
import type { DayPlan } from './plan.ts'
import { cutOut, type Window } from './windows.ts'

/** What people settle by hand in a timetable; minutes are on the kitchen's axis. */
export type Edit =
  /** A task begins exactly then. */
  | { kind: 'at'; activity: string; minute: number }
  /** Nothing of a batch begins before then. */
  | { kind: 'not-before'; batch: string; minute: number }
  /** Somebody by name is in a task. */
  | { kind: 'by'; activity: string; helper: string }
  /** A helper is away. */
  | { kind: 'break'; helper: string; from: number; to: number }
  /** So many machines of a kind cannot be used. */
  | { kind: 'out'; machine: EquipmentKind; count: number; from: number; to: number }

type Editable = Pick<DayPlan, 'problem' | 'activities' | 'kitchen' | 'beyond'>

/** An edit that was left out, and why. */
export type RefusedEdit = {
  edit: Edit
  because:
    | 'no-such-task'
    | 'no-such-batch'
    | 'no-such-helper'
    | 'no-such-machine'
    | 'not-allowed'
    | 'nobody-in-it'
    | 'outside-hours'
}

/** Outweighs what is late in a day, in minutes: what blocks a machine stays where it is. Our choice. */
export const heavy = 1000

/**
 * A plan with edits in its problem, in their order; the given plan is left as it is, and no id changes. An edit that
 * cannot be meant is refused with the reason and the others are kept.
 *
 * A task at a minute holds a resource `pin@ID` that is there for just its minutes and again beyond the work days, so a
 * minute that cannot be kept shows as not fitting. Somebody in a task takes one place of each phase by a skill of his or
 * her own, and only a place for which he or she has the skill: a child is refused at hot work, a teen as its adult.
 * Machines that are all out are cut from their calendar. Where some remain, an activity `out:N` of the problem alone
 * holds the others, pinned to those minutes and weighted so that all else gives way; it is in no timetable.
 */
export function applyEdits<P extends Editable>(plan: P, edits: readonly Edit[]): { plan: P; refused: RefusedEdit[] } {
  const refused: RefusedEdit[] = []
  let done = plan
  for (const edit of edits) {
    const made = applied(done, edit)
    if (typeof made === 'string') refused.push({ edit, because: made })
    else done = made
  }
  return { plan: done, refused }
}

function applied<P extends Editable>(plan: P, edit: Edit): P | RefusedEdit['because'] {
  switch (edit.kind) {
    case 'at':
      return at(plan, edit.activity, edit.minute)
    case 'not-before':
      return notBefore(plan, edit.batch, edit.minute)
    case 'by':
      return by(plan, edit.activity, edit.helper)
    case 'break':
      return away(plan, edit.helper, edit)
    case 'out':
      return out(plan, edit)
  }
}

/** The plan with other activities in its problem and, the same objects, in its meanings. */
export function withActivities<P extends Editable>(plan: P, change: (activity: Activity) => Activity): P {
  const changed = new Map(plan.problem.activities.map((activity) => [activity.id, change(activity)]))
  return {
    ...plan,
    problem: { ...plan.problem, activities: [...changed.values()] },
    activities: plan.activities.map((one) => ({ ...one, activity: changed.get(one.activity.id) ?? one.activity })),
  }
}

/** Holds a task to a start; it can only be moved beyond the work days. */
export function pinned<P extends Editable>(plan: P, activity: Activity, minute: number): P {
  const id = `pin@${activity.id}`
  const { resources } = plan.problem
  const others = resources.filter((one) => one.id !== id)
  return withActivities(
    { ...plan, problem: { ...plan.problem, resources: [...others, pinOf(plan, id, minute, lengthOfAll(activity))] } },
    (one) =>
      one.id === activity.id
        ? { ...one, phases: one.phases.map((phase) => ({ ...phase, resources: { ...phase.resources, [id]: 1 } })) }
        : one,
  )
}

function pinOf(plan: Editable, id: string, minute: number, minutes: number): Resource {
  // A minute apart, or the first phase could end in the one window and the next begin in the other.
  const again = Math.max(plan.beyond, minute + minutes + 1)
  return {
    id,
    capacity: 1,
    calendar: [
      { from: minute, to: minute + minutes },
      { from: again, to: endOf(plan, again) },
    ],
  }
}

/** An end behind everything that could have to be put beyond the work days. */
function endOf({ problem }: Editable, from: number): number {
  const all = problem.activities.reduce(
    (sum, one) => sum + lengthOfAll(one) + Math.max(0, ...(one.after ?? []).map(({ lag = 0 }) => lag)),
    0,
  )
  return from + 2 * all + minutesOfADay
}

export function lengthOfAll({ phases }: Activity): number {
  return phases.reduce((sum, { minutes }) => sum + minutes, 0)
}

function at<P extends Editable>(plan: P, id: string, minute: number): P | RefusedEdit['because'] {
  const activity = plan.activities.find((one) => one.activity.id === id)?.activity
  if (!activity) return 'no-such-task'
  const open = plan.kitchen.days.some(({ opens, closes }) => opens <= minute && minute < closes)
  const attended = activity.phases.some(({ people = [] }) => people.length > 0)
  if (!isMinute(minute) || minute >= plan.beyond || (attended && !open)) return 'outside-hours'
  return pinned(plan, activity, minute)
}

function notBefore<P extends Editable>(plan: P, batch: string, minute: number): P | RefusedEdit['because'] {
  const own = new Set(plan.activities.flatMap((one) => (one.batch === batch ? [one.activity.id] : [])))
  if (own.size === 0) return 'no-such-batch'
  if (!isMinute(minute) || minute >= plan.beyond) return 'outside-hours'
  return withActivities(plan, (one) =>
    own.has(one.id) ? { ...one, earliest: Math.max(one.earliest ?? 0, minute) } : one,
  )
}

function by<P extends Editable>(plan: P, id: string, helper: string): P | RefusedEdit['because'] {
  const activity = plan.activities.find((one) => one.activity.id === id)?.activity
  if (!activity) return 'no-such-task'
  const person = plan.problem.people?.find((one) => one.id === helper)
  if (!person) return 'no-such-helper'
  const skill = `in:${id}:${helper}`
  if (person.skills.includes(skill)) return plan
  const attended = activity.phases.filter(({ people = [] }) => people.length > 0)
  if (attended.length === 0) return 'nobody-in-it'
  const place = ({ people = [] }: Phase) => people.find((one) => one.count > 0 && person.skills.includes(one.skill))
  if (!attended.every(place)) return 'not-allowed'
  const taken = (phase: Phase): Phase => {
    const own = place(phase)
    if (!phase.people || !own) return phase
    const others = phase.people.flatMap((one) => {
      if (one !== own) return [one]
      return one.count > 1 ? [{ ...one, count: one.count - 1 }] : []
    })
    return { ...phase, people: [{ skill, count: 1 }, ...others] }
  }
  const people = (plan.problem.people ?? []).map((one) =>
    one === person ? { ...one, skills: [...one.skills, skill] } : one,
  )
  return withActivities({ ...plan, problem: { ...plan.problem, people } }, (one) =>
    one.id === id ? { ...one, phases: one.phases.map(taken) } : one,
  )
}

function away<P extends Editable>(plan: P, helper: string, { from, to }: Window): P | RefusedEdit['because'] {
  const person = plan.problem.people?.find((one) => one.id === helper)
  if (!person) return 'no-such-helper'
  const hole = { from, to: Math.min(to, plan.beyond) }
  if (!isMinute(from) || !isMinute(to) || hole.to <= from) return 'outside-hours'
  const people = (plan.problem.people ?? []).map((one) =>
    one === person ? { ...one, calendar: cutOut(calendarOf(plan, one), [hole]) } : one,
  )
  return { ...plan, problem: { ...plan.problem, people } }
}

function calendarOf(plan: Editable, { calendar }: { calendar?: Window[] }): Window[] {
  return calendar ?? [{ from: 0, to: endOf(plan, plan.beyond) }]
}

function out<P extends Editable>(plan: P, edit: Edit & { kind: 'out' }): P | RefusedEdit['because'] {
  const resource = plan.problem.resources.find(({ id }) => id === edit.machine)
  if (!resource || !(Number.isInteger(edit.count) && edit.count >= 1)) return 'no-such-machine'
  const hole = { from: edit.from, to: Math.min(edit.to, plan.beyond) }
  if (!isMinute(edit.from) || !isMinute(edit.to) || hole.to <= hole.from) return 'outside-hours'
  // A block must lie within one window of what it holds.
  const pieces = cutOut([hole], cutOut([hole], calendarOf(plan, resource)))
  if (pieces.length === 0) return 'outside-hours'
  return pieces
    .flatMap((piece) => evenParts(plan, edit.machine, piece))
    .reduce((made, part) => fewer(made, edit.machine, edit.count, part), plan)
}

/** Parts of a stretch in which the same blocks hold machines of a kind and the same day's count holds. */
function evenParts(plan: Editable, kind: string, { from, to }: Window): Window[] {
  const marks = [
    ...blocksOf(plan, kind).flatMap(({ earliest = 0, due = 0 }) => [earliest, due]),
    ...plan.kitchen.days.flatMap(({ midnight }) => [midnight, midnight + minutesOfADay]),
  ].filter((minute) => from < minute && minute < to)
  const bounds = [...new Set([from, ...marks, to])].sort((a, b) => a - b)
  return bounds.slice(1).map((end, place) => ({ from: bounds[place] ?? from, to: end }))
}

function blocksOf({ problem }: Editable, kind: string): Activity[] {
  return problem.activities.filter(({ id, phases }) => id.startsWith('out:') && phases[0]?.resources?.[kind])
}

function fewer<P extends Editable>(plan: P, kind: string, count: number, part: Window): P {
  const day = plan.kitchen.days.findIndex(
    ({ midnight }) => midnight <= part.from && part.from < midnight + minutesOfADay,
  )
  const held = plan.problem.resources.filter(({ id }) => id === kind || id === `${kind}@${day}`)
  const there = Math.min(...held.map(({ capacity }) => capacity))
  const gone = blocksOf(plan, kind)
    .filter(({ earliest = 0, due = 0 }) => earliest < part.to && part.from < due)
    .reduce((sum, { phases }) => sum + (phases[0]?.resources?.[kind] ?? 0), 0)
  return gone + count >= there ? without(plan, kind, part) : blocked(plan, held, count, part)
}

/** None of a kind: what blocked some of them meanwhile is cut too, as a calendar would drive it out. */
function without<P extends Editable>(plan: P, kind: string, hole: Window): P {
  const blocks = blocksOf(plan, kind).filter(({ earliest = 0, due = 0 }) => earliest < hole.to && hole.from < due)
  const resources = plan.problem.resources.map((one) =>
    one.id === kind ? { ...one, calendar: cutOut(calendarOf(plan, one), [hole]) } : one,
  )
  const activities = plan.problem.activities.filter((one) => !blocks.includes(one))
  return blocks.reduce(
    (made, { phases, earliest = 0, due = 0 }) => {
      const units = phases[0]?.resources ?? {}
      const held = resources.filter(({ id }) => Object.hasOwn(units, id) && !id.startsWith('pin@'))
      const rest = cutOut([{ from: earliest, to: due }], [hole])
      return rest.reduce((one, part) => blocked(one, held, units[kind] ?? 0, part), made)
    },
    { ...plan, problem: { ...plan.problem, resources, activities } },
  )
}

function blocked<P extends Editable>(plan: P, held: readonly Resource[], count: number, { from, to }: Window): P {
  const { activities, resources } = plan.problem
  // Pins stay when a block goes, so that no number comes twice.
  const pin = `pin@out:${resources.filter((one) => one.id.startsWith('pin@out:')).length + 1}`
  const minutes = to - from
  const units = Object.fromEntries([...held.map(({ id }) => [id, count]), [pin, 1]])
  const block: Activity = {
    id: pin.slice('pin@'.length),
    phases: [{ minutes, resources: units }],
    earliest: from,
    due: to,
    weight: heavy,
  }
  return {
    ...plan,
    problem: {
      ...plan.problem,
      resources: [...resources, pinOf(plan, pin, from, minutes)],
      activities: [...activities, block],
    },
  }
}

function isMinute(minute: number): boolean {
  return Number.isSafeInteger(minute) && minute >= 0
}
