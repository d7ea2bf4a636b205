import { checkSchedule, type SolveOptions, solveSchedule } from '../scheduling/index.ts'
import type { Phase, Schedule } from '../scheduling/problem.ts'
import { type Progress, skillOf, withCrew } from './begun.ts'
import { type Editable, pinsFirst, pinsOf, withActivities } from './pins.ts'
import { asBegun, noticeable, withEnd } from './progress.ts'

export type { Progress } from './begun.ts'
export { type ProgressFault, progressFault } from './progress.ts'

export type Replanned<P> = {
  plan: P
  schedule: Schedule
  /** Activities not begun that start more than five minutes before or after what was told. */
  changed: number
}

/**
 * The rest of a day from `now`. What was begun keeps its start, people and machines; it is as long as `minutes` says,
 * or until `now` where it should be over and is not done; others may come to phases that are ahead, and these wait
 * while a machine is still taken by something else that was begun. What is done and took less than planned was quicker
 * at anything but its tested minutes. All else begins no earlier than `now`; what was held to a minute that has passed
 * is held to it no longer. A schedule that still holds is kept. Otherwise each activity goes back, in the old order,
 * only as far as it must; if something is late then, a search that begins with that order may move more, and is taken
 * where less is late.
 *
 * @throws RangeError where `progressFault` finds something, and where nobody is free for what comes next in a begun one
 */
export function replanned<P extends Editable>(
  plan: P,
  schedule: Schedule,
  progress: Progress,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'> = {},
): Replanned<P> {
  const { made, fault } = asBegun(plan, schedule, progress)
  if (fault) throw new RangeError(fault.detail)
  const told = new Map(progress.begun.map((one) => [one.activity, one]))
  const pins = pinsOf(made)
  const starts = made.problem.activities.map(({ id }) => [id, pins.get(id) ?? schedule.start[id] ?? 0])
  const people = made.problem.activities.map(({ id, phases }) => [id, schedule.people[id] ?? phases.map(() => [])])
  const old = { ...schedule, start: Object.fromEntries(starts), people: Object.fromEntries(people) }
  const holds = checkSchedule(made.problem, withEnd(made, old)).length === 0
  const next = holds ? withEnd(made, old) : solvedAnew(made, old, options)
  for (const [id, minute] of pins) {
    if (next.start[id] === minute) continue
    if (told.has(id)) throw new RangeError(`activity "${id}" cannot go on: nobody is free for what comes next in it`)
    if (id.startsWith('out:')) throw new Error(`"${id}" was put to ${next.start[id]}, although it is at ${minute}`)
  }
  const others = plan.activities.map(({ activity }) => activity.id).filter((id) => !told.has(id))
  return { plan: made, schedule: next, changed: movedOf(others, schedule, next).length }
}

/** Those of some activities that start more than five minutes before or after they did, or did not. */
export function movedOf(ids: readonly string[], before: Schedule, after: Schedule): string[] {
  return ids.filter((id) => Math.abs((after.start[id] ?? 0) - (before.start[id] ?? 0)) > noticeable)
}

/** A kitchen stands still until it knows: under a second for a day of 150 tasks, rather than the best there may be. */
export const replanPasses = 250

function solvedAnew(
  plan: Editable,
  old: Schedule,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'>,
): Schedule {
  const noSooner = withActivities(plan, (one) => ({
    ...one,
    earliest: Math.max(one.earliest ?? 0, old.start[one.id] ?? 0),
  }))
  const from = pinsFirst(plan, old)
  const back = [withOldCrews(noSooner, old), noSooner]
    .map(({ problem }) => solveSchedule(problem, { maxSchedules: 1, from }))
    .filter((made) => checkSchedule(plan.problem, made).length === 0)
  const kept = back.find(({ lateness }) => lateness === 0)
  if (kept) return kept
  const found = solveSchedule(plan.problem, { maxSchedules: replanPasses, ...options, from })
  return back.find(({ lateness }) => lateness <= found.lateness) ?? found
}

/** The same with the people of an old schedule and no others, each by a skill of his or her own. */
function withOldCrews<P extends Editable>(plan: P, { people: crews }: Schedule): P {
  const size = ({ people = [] }: Phase) => people.reduce((sum, { count }) => sum + count, 0)
  const known = new Set((plan.problem.people ?? []).map(({ id }) => id))
  const people = (plan.problem.people ?? []).map((one) => ({ ...one, skills: [...one.skills, skillOf('', one.id)] }))
  return withActivities({ ...plan, problem: { ...plan.problem, people } }, (one) => ({
    ...one,
    phases: one.phases.map((phase, number) => {
      const crew = crews[one.id]?.[number] ?? []
      return crew.length === size(phase) && crew.every((who) => known.has(who)) ? withCrew(phase, '', crew) : phase
    }),
  }))
}
