import { checkSchedule, type SolveOptions, solveSchedule } from '../scheduling/index.ts'
import type { Activity, Person, Phase, Schedule } from '../scheduling/problem.ts'
import { heavy, lengthOfAll, pinned, withActivities } from './edits.ts'
import type { DayPlan } from './plan.ts'
import { merged } from './windows.ts'

/** How far a day has got at a minute of the kitchen's axis. */
export type Progress = {
  now: number
  /** What was begun, when; `minutes`: how long it took or will take in all, where that is known. */
  begun: { activity: string; start: number; minutes?: number; done: boolean }[]
}

export type Replanned<P> = {
  plan: P
  schedule: Schedule
  /** Activities not begun that start more than five minutes before or after what was told. */
  changed: number
}

type Replannable = Pick<DayPlan, 'problem' | 'activities' | 'kitchen' | 'beyond'>

const noticeable = 5

/**
 * The rest of a day from `now`. What was begun keeps its start, people and machines; its last phase is as long as
 * `minutes` says, or until `now` where it should be over and is not done. All else begins no earlier than `now`. A
 * schedule that still holds is kept. Otherwise each activity goes back, in the old order, only as far as it must; if
 * something is late then, a search that begins with that order may move more, and is taken where less is late.
 *
 * @throws RangeError for a begun activity that is not in the plan, starts after `now` or twice, and where two that were
 *   begun need the same person or machine at once, which no timetable can show
 */
export function replanned<P extends Replannable>(
  plan: P,
  schedule: Schedule,
  progress: Progress,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'> = {},
): Replanned<P> {
  const told = new Map(progress.begun.map((one) => [one.activity, one]))
  refuse(plan, progress, told.size)
  const left = withActivities(plan, (one) =>
    told.has(one.id) || one.id.startsWith('out:')
      ? one
      : { ...one, earliest: Math.max(one.earliest ?? 0, progress.now) },
  )
  const made = progress.begun.reduce((now, one) => kept(now, schedule, one, progress.now), left)
  const old = { ...schedule, start: { ...schedule.start } }
  for (const { activity, start } of progress.begun) old.start[activity] = start
  const holds = checkSchedule(made.problem, withEnd(made, old)).length === 0
  const next = holds ? withEnd(made, old) : solvedAnew(made, old, options)
  for (const { activity, start } of progress.begun) {
    if (next.start[activity] !== start)
      throw new RangeError(`activity "${activity}" was begun while what it needs was taken by another that was begun`)
  }
  const changed = plan.activities.filter(({ activity: { id } }) => {
    const moved = Math.abs((next.start[id] ?? 0) - (schedule.start[id] ?? 0))
    return !told.has(id) && moved > noticeable
  }).length
  return { plan: made, schedule: next, changed }
}

function solvedAnew(
  plan: Replannable,
  old: Schedule,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'>,
): Schedule {
  const noSooner = withActivities(plan, (one) => ({
    ...one,
    earliest: Math.max(one.earliest ?? 0, old.start[one.id] ?? 0),
  }))
  const back = [withOldCrews(noSooner, old), noSooner]
    .map(({ problem }) => solveSchedule(problem, { maxSchedules: 1, from: old }))
    .filter((made) => checkSchedule(plan.problem, made).length === 0)
  const kept = back.find(({ lateness }) => lateness === 0)
  if (kept) return kept
  const found = solveSchedule(plan.problem, { ...options, from: old })
  return back.find(({ lateness }) => lateness <= found.lateness) ?? found
}

/** The same with the people of an old schedule and no others, each by a skill of his or her own. */
function withOldCrews<P extends Replannable>(plan: P, { people: crews }: Schedule): P {
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

function refuse(plan: Replannable, { now, begun }: Progress, different: number): void {
  if (different < begun.length) throw new RangeError('an activity was begun twice')
  for (const { activity, start, minutes = 0 } of begun) {
    if (!plan.activities.some((one) => one.activity.id === activity))
      throw new RangeError(`activity "${activity}" is not in the plan`)
    if (!(Number.isInteger(start) && start <= now && Number.isInteger(minutes) && minutes >= 0))
      throw new RangeError(`activity "${activity}" cannot have been begun at ${start} for ${minutes} minutes`)
  }
}

/** A begun activity as it is: it waits for nothing any more, and its people are there for it whatever their hours. */
function kept<P extends Replannable>(plan: P, schedule: Schedule, begun: Progress['begun'][number], now: number): P {
  const { activity: id, start } = begun
  const crews = schedule.people[id] ?? []
  const long = withActivities(plan, (one) => {
    if (one.id !== id) return one
    const { after: _, ...rest } = one
    const phases = lengthened(one, begun, now).map((phase, number) => withCrew(phase, id, crews[number] ?? []))
    const end = start + lengthOfAll({ id, phases })
    // Due when it ends, or it would not be held as firmly as what is late anyway.
    return { ...rest, phases, earliest: start, due: end, weight: heavy }
  })
  const own = long.problem.activities.find((one) => one.id === id)
  if (!own) return plan
  const span = { from: start, to: start + lengthOfAll(own) }
  const in_ = new Set(crews.flat())
  const people = (long.problem.people ?? []).map((person): Person => {
    if (!in_.has(person.id)) return person
    const { calendar, skills } = person
    return {
      ...person,
      skills: [...skills, skillOf(id, person.id)],
      ...(calendar ? { calendar: merged([...calendar, span]) } : {}),
    }
  })
  const used = new Set(own.phases.flatMap(({ resources = {} }) => Object.keys(resources)))
  const resources = long.problem.resources.map((one) =>
    one.calendar && used.has(one.id) ? { ...one, calendar: merged([...one.calendar, span]) } : one,
  )
  return pinned({ ...long, problem: { ...long.problem, people, resources } }, own, start)
}

function lengthened(activity: Activity, { start, minutes, done }: Progress['begun'][number], now: number): Phase[] {
  const planned = lengthOfAll(activity)
  const wanted = minutes ?? planned
  let change = (done ? wanted : Math.max(wanted, now - start)) - planned
  const phases = activity.phases.toReversed().map((phase) => {
    const length = Math.max(0, phase.minutes + change)
    change += phase.minutes - length
    return { ...phase, minutes: length }
  })
  return phases.toReversed()
}

function withCrew(phase: Phase, id: string, crew: readonly string[]): Phase {
  return phase.people ? { ...phase, people: crew.map((who) => ({ skill: skillOf(id, who), count: 1 })) } : phase
}

function skillOf(id: string, who: string): string {
  return `begun:${id}:${who}`
}

/** The schedule with the end and lateness that it has for the plan's problem. */
function withEnd({ problem }: Replannable, schedule: Schedule): Schedule {
  const ends = problem.activities.map((one) => (schedule.start[one.id] ?? 0) + lengthOfAll(one))
  const lateness = problem.activities.reduce(
    (sum, { due, weight = 1 }, place) =>
      sum + weight * Math.max(0, (ends[place] ?? 0) - (due ?? Number.POSITIVE_INFINITY)),
    0,
  )
  const makespan = Math.max(0, ...ends)
  return { ...schedule, makespan, lateness, lowerBound: Math.min(schedule.lowerBound, makespan), schedulesTried: 0 }
}
