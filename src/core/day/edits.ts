import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Phase } from '../scheduling/problem.ts'
import { out } from './machines-out.ts'
import { calendarOf, type Editable, isMinute, pinned, withActivities } from './pins.ts'
import { cutOut, type Window } from './windows.ts'

export { heavy } from './machines-out.ts'
export { lengthOfAll } from './pins.ts'

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

/** An edit that was left out, and why. */
export type RefusedEdit = {
  edit: Edit
  because:
    | 'no-such-task'
    | 'no-such-batch'
    | 'no-such-helper'
    | 'no-such-machine'
    | 'not-allowed'
    | 'places-taken'
    | 'nobody-in-it'
    | 'outside-hours'
}

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
  if (!attended.every(place)) {
    const named = ({ people = [] }: Phase) => people.every(({ skill: one }) => one.startsWith(`in:${id}:`))
    return attended.some(named) ? 'places-taken' : 'not-allowed'
  }
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
