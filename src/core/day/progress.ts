import { checkSchedule } from '../scheduling/index.ts'
import type { Schedule } from '../scheduling/problem.ts'
import { isAhead, kept, minutesOf, type Progress, spanOf } from './begun.ts'
import { type Editable, lengthOfAll, pinsOf, released, withActivities } from './pins.ts'

/** What cannot have been, and why; `activity` is one that was told as begun. */
export type ProgressFault = {
  activity: string
  because:
    | 'no-such-task'
    | 'twice'
    /** begun after now, or over after now */
    | 'not-yet'
    /** over sooner than its tested minutes take by themselves */
    | 'process-cut'
    /** begun while a person or machine was taken by another that was begun */
    | 'at-once'
    /** begun with machines that are out by an edit */
    | 'machine-out'
  detail: string
}

/** Minutes: what moves by no more counts as where it was. Our choice. */
export const noticeable = 5
/** Minutes that something begun waits at most for a machine. Our choice. */
const longestWait = 240

/** The first thing in what was told that cannot have been, in a plan with the edits that hold; null: nothing. */
export function progressFault(plan: Editable, schedule: Schedule, progress: Progress): ProgressFault | null {
  return asBegun(plan, schedule, progress).fault
}

/** The plan with what was begun as it is and all else from now on, and the first thing that cannot have been. */
export function asBegun<P extends Editable>(
  plan: P,
  schedule: Schedule,
  progress: Progress,
): { made: P; fault: ProgressFault | null } {
  const { now, begun } = progress
  const impossible = faultOfOne(plan, progress)
  if (impossible) return { made: plan, fault: impossible }
  const told = new Set(begun.map(({ activity }) => activity))
  const pins = pinsOf(plan)
  const left = withActivities(plan, (one) => {
    if (told.has(one.id) || one.id.startsWith('out:')) return one
    const free = (pins.get(one.id) ?? now) < now ? released(one) : one
    return { ...free, earliest: Math.max(free.earliest ?? 0, now) }
  })
  const all = (told: Progress['begun']) => {
    const made = told.reduce((so, one) => kept(so, schedule, one, now), left)
    return { made, fault: faultTogether(made, schedule, { now, begun: told }) }
  }
  const first = all(begun)
  return first.fault?.because === 'at-once' ? all(waitingTurns(left, schedule, progress)) : first
}

/**
 * What was begun, with whatever is to go on with a machine that another one still has longer by the waiting: jam is kept
 * hot until the canner is free. What was begun first has it first.
 */
function waitingTurns(plan: Editable, schedule: Schedule, { now, begun }: Progress): Progress['begun'] {
  const open = begun.filter(({ done }) => !done).sort((a, b) => a.start - b.start)
  const told: Progress['begun'] = []
  for (const one of open) {
    const planned = plan.activities.find(({ activity }) => activity.id === one.activity)
    const span = planned ? spanOf(planned.activity, one, now) : 0
    const mayWait = planned?.activity.phases.some((_, number, phases) => isAhead(phases, number, one, now)) ?? false
    const most = mayWait ? longestWait : 0
    const waits = Array.from({ length: most / noticeable + 1 }, (_, times) => times * noticeable)
    const longer = waits.map((wait) => (wait === 0 ? one : { ...one, minutes: span + wait }))
    const free = longer.find((tried) => {
      const together = [...told, tried]
      const made = together.reduce((so, each) => kept(so, schedule, each, now), plan)
      return !faultTogether(made, schedule, { now, begun: together })
    })
    told.push(free ?? one)
  }
  return begun.map((one) => told.find(({ activity }) => activity === one.activity) ?? one)
}

function faultOfOne(plan: Editable, { now, begun }: Progress): ProgressFault | null {
  const seen = new Set<string>()
  for (const one of begun) {
    const { activity, start, minutes, done } = one
    const fault = (because: ProgressFault['because'], detail: string) => ({ activity, because, detail })
    const planned = plan.activities.find((other) => other.activity.id === activity)
    if (!planned) return fault('no-such-task', `activity "${activity}" is not in the plan`)
    if (seen.has(activity)) return fault('twice', `activity "${activity}" was begun twice`)
    seen.add(activity)
    const whole = Number.isInteger(start) && start >= 0 && Number.isInteger(minutes ?? 0) && (minutes ?? 0) >= 0
    if (!whole || start > now || (done && start + (minutes ?? 0) > now))
      return fault('not-yet', `activity "${activity}" cannot have been begun at ${start} for ${minutes ?? 0} minutes`)
    const tested = minutesOf(planned, ['process'])
    if (spanOf(planned.activity, one, now) < tested)
      return fault('process-cut', `activity "${activity}" has ${tested} tested minutes, which may not be cut short`)
  }
  return null
}

/** What was begun and the machines that are out, by themselves: nothing may be needed twice at one time. */
function faultTogether(made: Editable, schedule: Schedule, { now, begun }: Progress): ProgressFault | null {
  const ids = new Set(begun.map(({ activity }) => activity))
  const pins = pinsOf(made)
  const without = (blocks: boolean) => {
    const activities = made.problem.activities.flatMap((one) => {
      const told = begun.find(({ activity }) => activity === one.id)
      if (!told) return blocks && one.id.startsWith('out:') ? [one] : []
      // Who comes to what has not begun is found by the search.
      const phases = one.phases.map((phase, number) =>
        isAhead(one.phases, number, told, now) ? { ...phase, people: [] } : phase,
      )
      return [{ ...one, phases }]
    })
    const problem = { ...made.problem, activities }
    const start = Object.fromEntries(activities.map(({ id }) => [id, pins.get(id) ?? 0]))
    const people = Object.fromEntries(
      activities.map(({ id, phases }) => [
        id,
        phases.map(({ people: asked = [] }, number) =>
          asked.length === 0 ? [] : (schedule.people[id]?.[number] ?? []),
        ),
      ]),
    )
    const found = checkSchedule(problem, withEnd({ ...made, problem }, { ...schedule, start, people }))
    return found.find(({ activity }) => ids.has(activity) || activity.startsWith('out:'))
  }
  const twice = without(false)
  if (twice) return namedFault('at-once', twice.activity, 'needs what was taken by another that was begun')
  const out = without(true)
  const [first] = ids
  if (!out || first === undefined) return null
  return namedFault('machine-out', ids.has(out.activity) ? out.activity : first, 'was begun with machines that are out')
}

function namedFault(because: ProgressFault['because'], activity: string, what: string): ProgressFault {
  return { activity, because, detail: `activity "${activity}" ${what}` }
}

/** The schedule with the end and lateness that it has for the plan's problem. */
export function withEnd({ problem }: Editable, schedule: Schedule): Schedule {
  const ends = problem.activities.map((one) => (schedule.start[one.id] ?? 0) + lengthOfAll(one))
  const lateness = problem.activities.reduce(
    (sum, { due, weight = 1 }, place) =>
      sum + weight * Math.max(0, (ends[place] ?? 0) - (due ?? Number.POSITIVE_INFINITY)),
    0,
  )
  const makespan = Math.max(0, ...ends)
  return { ...schedule, makespan, lateness, lowerBound: Math.min(schedule.lowerBound, makespan), schedulesTried: 0 }
}
