import { layOut } from './check/layout.ts'
import { peopleFaults } from './check/people.ts'
import { resourceFaults } from './check/resources.ts'
import type { Activity, Schedule, ScheduleFault, SchedulingProblem } from './problem.ts'

/** Every rule that is checked, by its short name. */
export const scheduleRules = [
  'missing', // every activity has a start and, for each phase, a list of people
  'unknown', // names only activities, resources and people that are there
  'whole', // starts are whole minutes, not before the problem's start
  'earliest', // no activity starts before it may
  'precedence', // what comes after starts after the end and the lag
  'capacity', // at every minute no more of a resource is held than there is
  'calendar', // a phase lies within one window of each resource that it holds
  'person-twice', // nobody is named twice in a phase
  'count', // as many people as the phase asks for
  'skill', // each of them has a place that he or she has the skill for
  'person-calendar', // a phase lies within one window of each of its people
  'two-places', // nobody works in two phases at one time
  'makespan', // the latest end, as it is
  'lateness', // the weighted minutes beyond what is due, as they are
  'bound', // the lower bound is a number from 0 to the makespan
  'tried', // the passes spent are a whole number
] as const
export type ScheduleRule = (typeof scheduleRules)[number]

/**
 * Checks a schedule against its problem, from the definition in `problem.ts` and nothing else (it shares no code with
 * the solving or the bounds). All times are minutes. An empty list: it holds. The phases of an activity need no rule
 * that they follow each other, since a schedule states nothing but the start: they are laid out back to back from it.
 * A phase of no minutes holds nothing and nobody, at no time.
 */
export function checkSchedule(problem: SchedulingProblem, schedule: Schedule): ScheduleFault[] {
  const named = nameFaults(problem, schedule)
  const started = problem.activities.flatMap((activity) => startFault(activity, schedule))
  const laid = layOut(problem, schedule)
  return [
    ...named,
    ...started,
    ...orderFaults(problem, laid.ends, schedule),
    ...resourceFaults(problem, laid.phases),
    ...peopleFaults(problem, laid.phases),
    // With a start missing the sums would say nothing new.
    ...(named.length + started.length === 0 ? sumFaults(problem, laid.ends, schedule) : []),
  ]
}

function nameFaults(problem: SchedulingProblem, schedule: Schedule): ScheduleFault[] {
  const faults: ScheduleFault[] = []
  const activities = new Map(problem.activities.map((activity) => [activity.id, activity]))
  for (const id of Object.keys(schedule.start))
    if (!activities.has(id)) faults.push({ activity: id, rule: 'unknown', detail: 'a start for no activity' })
  for (const id of Object.keys(schedule.people))
    if (!activities.has(id)) faults.push({ activity: id, rule: 'unknown', detail: 'people for no activity' })
  for (const { id, phases, after } of problem.activities) {
    if (!Object.hasOwn(schedule.start, id)) faults.push({ activity: id, rule: 'missing', detail: 'no start' })
    const lists = Object.hasOwn(schedule.people, id) ? (schedule.people[id]?.length ?? 0) : 0
    if (lists !== phases.length)
      faults.push({ activity: id, rule: 'missing', detail: `${lists} lists of people for ${phases.length} phases` })
    for (const before of after ?? [])
      if (!activities.has(before.id))
        faults.push({ activity: id, rule: 'unknown', detail: `comes after ${before.id}, which is no activity` })
  }
  return faults
}

function startFault(activity: Activity, schedule: Schedule): ScheduleFault[] {
  const start = Object.hasOwn(schedule.start, activity.id) ? schedule.start[activity.id] : undefined
  if (start === undefined) return []
  if (!Number.isSafeInteger(start) || start < 0)
    return [{ activity: activity.id, rule: 'whole', detail: `starts at ${start}` }]
  if (start < (activity.earliest ?? 0))
    return [{ activity: activity.id, rule: 'earliest', detail: `starts at ${start}, may at ${activity.earliest}` }]
  return []
}

function orderFaults(problem: SchedulingProblem, ends: Map<string, number>, schedule: Schedule): ScheduleFault[] {
  const faults: ScheduleFault[] = []
  for (const { id, after } of problem.activities) {
    if (!ends.has(id)) continue
    for (const before of after ?? []) {
      const end = ends.get(before.id)
      if (end === undefined) continue
      const start = schedule.start[id] ?? Number.NaN
      const free = end + (before.lag ?? 0)
      if (start < free)
        faults.push({ activity: id, rule: 'precedence', detail: `starts at ${start}, ${before.id} lets it at ${free}` })
    }
  }
  return faults
}

function sumFaults(problem: SchedulingProblem, ends: Map<string, number>, schedule: Schedule): ScheduleFault[] {
  const faults: ScheduleFault[] = []
  const fault = (rule: ScheduleRule, detail: string) => faults.push({ activity: '', rule, detail })
  const makespan = Math.max(0, ...ends.values())
  if (schedule.makespan !== makespan) fault('makespan', `stated ${schedule.makespan}, is ${makespan}`)
  let lateness = 0
  for (const { id, due, weight } of problem.activities)
    if (due !== undefined) lateness += (weight ?? 1) * Math.max(0, (ends.get(id) ?? 0) - due)
  // Weights need not be whole, and sums in another order differ in the last digits.
  if (!(Math.abs(schedule.lateness - lateness) <= 1e-9 * Math.max(1, lateness)))
    fault('lateness', `stated ${schedule.lateness}, is ${lateness}`)
  if (!(schedule.lowerBound >= 0 && schedule.lowerBound <= makespan))
    fault('bound', `${schedule.lowerBound}, the makespan is ${makespan}`)
  if (!Number.isSafeInteger(schedule.schedulesTried) || schedule.schedulesTried < 0)
    fault('tried', `${schedule.schedulesTried} passes`)
  return faults
}
