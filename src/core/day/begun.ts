import type { Activity, Person, Phase, Schedule } from '../scheduling/problem.ts'
import { heavy } from './machines-out.ts'
import { type Editable, lengthOfAll, pinned, withActivities } from './pins.ts'
import type { PhasePart, PlannedActivity } from './plan.ts'
import { merged } from './windows.ts'

/** How far a day has got at a minute of the kitchen's axis. */
export type Progress = {
  now: number
  /** What was begun, when; `minutes`: how long it took or will take in all, where that is known. */
  begun: { activity: string; start: number; minutes?: number; done: boolean }[]
}

/** A begun activity as it is: it waits for nothing any more, and its people are there for it whatever their hours. */
export function kept<P extends Editable>(
  plan: P,
  schedule: Schedule,
  begun: Progress['begun'][number],
  now: number,
): P {
  const { activity: id, start } = begun
  const crews = schedule.people[id] ?? []
  const planned = plan.activities.find((one) => one.activity.id === id)
  if (!planned) return plan
  const long = withActivities(plan, (one) => {
    if (one.id !== id) return one
    const { after: _, ...rest } = one
    const lengths = lengthened(planned, begun, now)
    const phases = lengths.map((phase, number) =>
      isAhead(lengths, number, begun, now) ? phase : withCrew(phase, id, crews[number] ?? []),
    )
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

/** A phase that has not begun: somebody else may come to it, where those who were to are still busy. */
export function isAhead(
  phases: readonly Phase[],
  number: number,
  { start, done }: Progress['begun'][number],
  now: number,
) {
  return !done && start + lengthOfAll({ id: '', phases: phases.slice(0, number) }) > now
}

/** The phases as long as they were, or as they will be: longer by what is being done now, or by what comes behind it. */
function lengthened(planned: PlannedActivity, begun: Progress['begun'][number], now: number): Phase[] {
  const { activity, phases: means } = planned
  let change = spanOf(activity, begun, now) - lengthOfAll(activity)
  const phases = activity.phases.map((phase) => ({ ...phase }))
  if (change >= 0) {
    const longer = phases[placeNow(planned, begun, now)]
    if (longer) longer.minutes += change
    return phases
  }
  // Tested minutes are never shortened, and settling only where nothing else is left to shorten.
  const places = phases.map((_, place) => place).reverse()
  const settling = places.filter((place) => means[place]?.part === 'settle')
  const others = places.filter((place) => !['process', 'settle'].includes(means[place]?.part ?? ''))
  for (const place of [...others, ...settling]) {
    const phase = phases[place]
    if (!phase) continue
    const length = Math.max(0, phase.minutes + change)
    change += phase.minutes - length
    phase.minutes = length
  }
  return phases
}

/** The phase that takes longer: the one at `now`, the one behind tested minutes, the last of what is done. */
function placeNow(
  { activity, phases: means }: PlannedActivity,
  { start, done }: Progress['begun'][number],
  now: number,
) {
  const last = activity.phases.length - 1
  if (done) return last
  const running = activity.phases.findIndex(
    (_, place) => start + lengthOfAll({ id: '', phases: activity.phases.slice(0, place + 1) }) > now,
  )
  if (running === -1) return last
  return means[running]?.part === 'process' ? Math.min(running + 1, last) : running
}

/** Minutes from beginning to end of what was begun; what is done was over by `now`. */
export function spanOf(activity: Activity, { start, minutes, done }: Progress['begun'][number], now: number): number {
  const planned = lengthOfAll(activity)
  if (done) return minutes ?? Math.min(planned, now - start)
  return Math.max(minutes ?? planned, now - start)
}

export function minutesOf({ activity, phases: means }: PlannedActivity, parts: readonly PhasePart[]): number {
  return activity.phases.reduce((sum, { minutes }, place) => {
    const part = means[place]?.part
    return sum + (part !== undefined && parts.includes(part) ? minutes : 0)
  }, 0)
}

export function withCrew(phase: Phase, id: string, crew: readonly string[]): Phase {
  return phase.people ? { ...phase, people: crew.map((who) => ({ skill: skillOf(id, who), count: 1 })) } : phase
}

export function skillOf(id: string, who: string): string {
  return `begun:${id}:${who}`
}
