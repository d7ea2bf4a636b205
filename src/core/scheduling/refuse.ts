import { crewFor } from './match.ts'
import type { Activity, Phase, SchedulingProblem, Window } from './problem.ts'
import { topologicalOrder } from './topological.ts'

const longest = 1e8

/** Throws a RangeError that names the first place where a problem cannot be meant. */
export function refuseBadProblem(problem: SchedulingProblem): void {
  const { resources, people = [], activities } = problem
  refuseTwice('resource', resources)
  refuseTwice('person', people)
  refuseTwice('activity', activities)
  for (const { id, capacity, calendar } of resources) {
    refuseNumber(`resource "${id}": capacity`, capacity)
    refuseCalendar(`resource "${id}"`, calendar)
  }
  for (const { id, calendar } of people) refuseCalendar(`person "${id}"`, calendar)
  for (const activity of activities) refuseActivity(problem, activity)
  refuseCircle(activities)
  const total = activities.reduce(
    (sum, { phases, after = [], earliest = 0 }) =>
      sum +
      earliest +
      [...phases.map((phase) => phase.minutes), ...after.map(({ lag = 0 }) => lag)].reduce((a, b) => a + b, 0),
    0,
  )
  if (total > longest) throw new RangeError(`the activities take ${total} minutes in all, more than can be planned`)
}

function refuseActivity(problem: SchedulingProblem, activity: Activity): void {
  const place = `activity "${activity.id}"`
  activity.phases.forEach((phase, index) => {
    refusePhase(problem, phase, `${place}, phase ${index + 1}`)
  })
  if (activity.earliest !== undefined) refuseNumber(`${place}: earliest`, activity.earliest)
  if (activity.due !== undefined) refuseNumber(`${place}: due`, activity.due)
  if (activity.weight !== undefined && !(activity.weight >= 0 && Number.isFinite(activity.weight)))
    throw new RangeError(`${place}: weight ${activity.weight} is not a number from 0 up`)
  for (const { id, lag } of activity.after ?? []) {
    if (!problem.activities.some((other) => other.id === id))
      throw new RangeError(`${place}: after "${id}", which is not there`)
    if (lag !== undefined) refuseNumber(`${place}: lag after "${id}"`, lag)
  }
}

function refusePhase({ resources, people = [] }: SchedulingProblem, phase: Phase, place: string): void {
  refuseNumber(`${place}: minutes`, phase.minutes)
  for (const [id, units] of Object.entries(phase.resources ?? {})) {
    const resource = resources.find((one) => one.id === id)
    if (!resource) throw new RangeError(`${place}: resource "${id}" is not there`)
    refuseNumber(`${place}: units of "${id}"`, units)
    if (units > resource.capacity)
      throw new RangeError(`${place}: needs ${units} of "${id}", there are ${resource.capacity}`)
    if (units > 0) refuseShortWindows(`${place}: "${id}"`, phase.minutes, resource.calendar)
  }
  const slots: Int32Array[] = []
  for (const { skill, count } of phase.people ?? []) {
    refuseNumber(`${place}: people for "${skill}"`, count)
    if (count === 0) continue
    const able = people.flatMap((person, index) => (person.skills.includes(skill) ? [index] : []))
    if (able.length === 0) throw new RangeError(`${place}: nobody has the skill "${skill}"`)
    if (able.length < count)
      throw new RangeError(`${place}: needs ${count} people for "${skill}", ${able.length} have the skill`)
    for (let head = 0; head < count; head++) slots.push(Int32Array.from(able))
  }
  const everyone = Int32Array.from(people, (_, index) => index)
  if (!crewFor(slots, everyone))
    throw new RangeError(`${place}: needs ${slots.length} people, and not so many different ones have the skills`)
  const withTime = everyone.filter((index) => hasWindow(phase.minutes, people[index]?.calendar))
  if (!crewFor(slots, withTime))
    throw new RangeError(`${place}: no window of its people is ${phase.minutes} minutes long`)
}

function refuseShortWindows(place: string, minutes: number, calendar: Window[] | undefined): void {
  if (!hasWindow(minutes, calendar)) throw new RangeError(`${place} has no window that is ${minutes} minutes long`)
}

function hasWindow(minutes: number, calendar: Window[] | undefined): boolean {
  return minutes === 0 || !calendar || calendar.some(({ from, to }) => to - from >= minutes)
}

function refuseCalendar(place: string, calendar: Window[] | undefined): void {
  let end = 0
  calendar?.forEach(({ from, to }, index) => {
    refuseNumber(`${place}: window ${index + 1} from`, from)
    refuseNumber(`${place}: window ${index + 1} to`, to)
    if (from < end) throw new RangeError(`${place}: window ${index + 1} begins before the one before it ends`)
    if (to < from) throw new RangeError(`${place}: window ${index + 1} ends before it begins`)
    end = to
  })
}

function refuseCircle(activities: Activity[]): void {
  const indexOf = new Map(activities.map(({ id }, index) => [id, index]))
  const before = activities.map(({ after = [] }) =>
    Int32Array.from(new Set(after.map(({ id }) => indexOf.get(id) ?? 0))),
  )
  const next: number[][] = activities.map(() => [])
  before.forEach((list, index) => {
    for (const other of list) next[other]?.push(index)
  })
  const done = new Set(topologicalOrder(before, next))
  const stuck = activities.find((_, index) => !done.has(index))
  if (stuck) throw new RangeError(`activity "${stuck.id}" waits in a circle for itself or for one that does`)
}

function refuseTwice(kind: string, list: { id: string }[]): void {
  const seen = new Set<string>()
  for (const { id } of list) {
    if (seen.has(id)) throw new RangeError(`${kind} "${id}" is there twice`)
    seen.add(id)
  }
}

function refuseNumber(place: string, value: number): void {
  if (!Number.isInteger(value) || value < 0 || value > longest)
    throw new RangeError(`${place} ${value} is not a whole number from 0 to ${longest}`)
}
