import type { Activity, Person, Resource, Schedule, SchedulingProblem } from '../scheduling/problem.ts'
import { heavy, lengthOfAll } from './edits.ts'
import { minutesOfADay } from './kitchen.ts'
import { isLabelling } from './labelling.ts'
import type { TimetablePlan } from './plan.ts'
import { cutOut, type Window } from './windows.ts'

/** The end of an activity with the starts of a schedule. */
export function endOf(activity: Activity, start: Schedule['start']): number {
  return (start[activity.id] ?? 0) + lengthOfAll(activity)
}

/**
 * What a day's hands need, to be asked for a bound of their last end: its activities with hands but for labels, and all
 * that these wait for, people without what they do in the work of other days. What must be done early, so that a machine
 * that runs by itself is over in time or another day's work can begin, is so here; what is late as it is counts for
 * nothing. Machines that other days hold are left out, which only makes the bound lower.
 */
export function boundProblem(plan: TimetablePlan, schedule: Schedule, day: number): SchedulingProblem {
  const own = activitiesOf(plan, schedule, day)
  const needed = new Set<string>()
  const need = (one: Activity) => {
    if (needed.has(one.id)) return
    needed.add(one.id)
    for (const { id } of one.after ?? []) {
      const before = own.find((other) => other.id === id)
      if (before) need(before)
    }
  }
  const labels = new Set(plan.activities.flatMap((one) => (isLabelling(plan.batches, one) ? [one.activity.id] : [])))
  for (const one of own) {
    if (one.phases.some(({ people = [] }) => people.length > 0) && !labels.has(one.id)) need(one)
  }
  const latest = latestEnds(plan, schedule, day, own)
  const closes = plan.kitchen.days[day]?.closes ?? 0
  const by: Resource[] = []
  const activities = own
    .filter(({ id }) => needed.has(id))
    .map(({ due: _, weight: __, ...one }): Activity => {
      const end = latest.get(one.id) ?? closes
      if (end >= closes) return one
      const id = `by@${one.id}`
      by.push({ id, capacity: 1, calendar: [{ from: 0, to: end }] })
      return { ...one, phases: one.phases.map((phase) => ({ ...phase, resources: { ...phase.resources, [id]: 1 } })) }
    })
  return { resources: [...plan.problem.resources, ...by], people: peopleLeft(plan, schedule, day), activities }
}

/** By when each of a day's activities must end so that nothing is late that is not, and other days can stay. */
function latestEnds(
  plan: TimetablePlan,
  { start }: Schedule,
  day: number,
  own: readonly Activity[],
): ReadonlyMap<string, number> {
  const { POSITIVE_INFINITY } = Number
  const isHere = isOwn(plan, day)
  const latest = new Map<string, number>()
  const endFor = (one: Activity): number => {
    const known = latest.get(one.id)
    if (known !== undefined) return known
    const due = one.due !== undefined && endOf(one, start) <= one.due ? one.due : POSITIVE_INFINITY
    const needed = (followers.get(one.id) ?? []).map(({ next, lag }) =>
      isHere(next.id) ? endFor(next) - lengthOfAll(next) - lag : (start[next.id] ?? 0) - lag,
    )
    const end = Math.min(due, ...needed)
    latest.set(one.id, end)
    return end
  }
  const followers = followersIn(plan)
  for (const one of own) endFor(one)
  return latest
}

function followersIn({ problem }: TimetablePlan): Map<string, { next: Activity; lag: number }[]> {
  const followers = new Map<string, { next: Activity; lag: number }[]>()
  for (const next of problem.activities) {
    for (const { id, lag = 0 } of next.after ?? []) {
      const known = followers.get(id)
      if (known) known.push({ next, lag })
      else followers.set(id, [{ next, lag }])
    }
  }
  return followers
}

/**
 * A day's work alone, all else as it is: what is late beside `cleanedUpBy` weighs heavily, then the day's cleaning up,
 * which follows all hands, ends as near to that minute as can be. `from` is the schedule as it is.
 */
export function dayProblem(
  plan: TimetablePlan,
  schedule: Schedule,
  day: number,
  cleanedUpBy: number,
): { problem: SchedulingProblem; from: Schedule } {
  const { start, people } = schedule
  const own = activitiesOf(plan, schedule, day).map((one): Activity => {
    if (one.id === `clean-up@${day}`) return { ...one, due: cleanedUpBy, weight: 1 }
    const followers = plan.problem.activities.filter(
      ({ id, after }) => after?.some((link) => link.id === one.id) && !isOwn(plan, day)(id),
    )
    const needed = followers.flatMap(({ id, after = [] }) =>
      after.flatMap((link) => (link.id === one.id ? [(start[id] ?? 0) - (link.lag ?? 0)] : [])),
    )
    const due = Math.min(one.due ?? Number.POSITIVE_INFINITY, ...needed)
    return due === Number.POSITIVE_INFINITY ? one : { ...one, due, weight: heavy * (one.weight ?? 1) }
  })
  const span = {
    from: Math.min(...own.map(({ id }) => start[id] ?? 0), ...own.map(({ earliest = 0 }) => earliest)),
    to: Math.max(...own.map((one) => endOf(one, start))),
  }
  const fixed = plan.problem.activities.filter(
    (one) =>
      !isOwn(plan, day)(one.id) &&
      (start[one.id] ?? 0) < span.to &&
      endOf(one, start) > span.from &&
      one.phases.some(({ resources = {} }) => Object.keys(resources).length > 0),
  )
  const cleanUp = own.find(({ id }) => id === `clean-up@${day}`)
  const closed = closedAfter(cleanUp, plan.activities.find(({ activity }) => activity.id === cleanUp?.id)?.activity.due)
  const activities = [...fixed.map((one) => heldAt(one, start)), ...own, ...closed]
  return {
    problem: {
      resources: [...plan.problem.resources, ...fixed.map((one) => pinAt(plan, one, start))],
      people: peopleLeft(plan, schedule, day),
      activities,
    },
    from: {
      ...schedule,
      start: Object.fromEntries(activities.map(({ id }) => [id, start[id] ?? (cleanUp ? endOf(cleanUp, start) : 0)])),
      people: Object.fromEntries(
        activities.map(({ id, phases }, place) => [
          id,
          place < fixed.length ? phases.map(() => []) : (people[id] ?? phases.map(() => [])),
        ]),
      ),
    },
  }
}

/** The moment after cleaning up, so that its real lateness weighs as all other does. */
function closedAfter(cleanUp: Activity | undefined, due: number | undefined): Activity[] {
  if (!cleanUp || due === undefined) return []
  const weight = heavy * (cleanUp.weight ?? 1)
  return [{ id: `after ${cleanUp.id}`, phases: [{ minutes: 0 }], after: [{ id: cleanUp.id }], due, weight }]
}

function isOwn(plan: TimetablePlan, day: number): (id: string) => boolean {
  const own = new Set(plan.activities.flatMap((one) => (one.day === day ? [one.activity.id] : [])))
  return (id) => own.has(id)
}

/** A day's activities, waiting for those of other days as these are. */
function activitiesOf(plan: TimetablePlan, { start }: Schedule, day: number): Activity[] {
  const own = isOwn(plan, day)
  const byId = new Map(plan.problem.activities.map((one) => [one.id, one]))
  return plan.problem.activities
    .filter(({ id }) => own(id))
    .map(({ after = [], earliest = 0, ...one }) => {
      const ready = after.flatMap(({ id, lag = 0 }) => {
        const before = byId.get(id)
        return before && !own(id) ? [endOf(before, start) + lag] : []
      })
      return { ...one, earliest: Math.max(earliest, ...ready), after: after.filter(({ id }) => own(id)) }
    })
}

/** People without the minutes in which they are in the work of other days. */
function peopleLeft({ problem, ...plan }: TimetablePlan, { start, people }: Schedule, day: number): Person[] {
  const own = isOwn({ problem, ...plan }, day)
  const busy = new Map<string, Window[]>()
  for (const { id, phases } of problem.activities) {
    let from = start[id] ?? 0
    phases.forEach(({ minutes }, number) => {
      const to = from + minutes
      if (!own(id))
        for (const who of people[id]?.[number] ?? []) busy.set(who, [...(busy.get(who) ?? []), { from, to }])
      from = to
    })
  }
  const always = [{ from: 0, to: endless({ problem, ...plan }) }]
  return (problem.people ?? []).map((one) => {
    const taken = busy.get(one.id)
    return taken ? { ...one, calendar: cutOut(one.calendar ?? always, taken) } : one
  })
}

/** An activity of another day where it is, with its machines and without its people. */
function heldAt({ id, phases }: Activity, start: Schedule['start']): Activity {
  const begin = start[id] ?? 0
  return {
    id,
    phases: phases.map(({ minutes, resources = {} }) => ({ minutes, resources: { ...resources, [`held@${id}`]: 1 } })),
    earliest: begin,
    due: endOf({ id, phases }, start),
    weight: heavy * heavy,
  }
}

/** Beyond the work days too, so that a search that takes its place for something else has a schedule to compare. */
function pinAt(plan: TimetablePlan, one: Activity, start: Schedule['start']): Resource {
  const [from, to] = [start[one.id] ?? 0, endOf(one, start)]
  const again = Math.max(plan.beyond, to + 1)
  return {
    id: `held@${one.id}`,
    capacity: 1,
    calendar: [
      { from, to },
      { from: again, to: again + endless(plan) },
    ],
  }
}

function endless({ problem, beyond }: TimetablePlan): number {
  const all = problem.activities.reduce(
    (sum, one) => sum + lengthOfAll(one) + Math.max(0, ...(one.after ?? []).map(({ lag = 0 }) => lag)),
    0,
  )
  return beyond + 2 * all + minutesOfADay
}
