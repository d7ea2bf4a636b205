import type { Activity, Resource, Schedule } from '../scheduling/problem.ts'
import { minutesOfADay } from './kitchen.ts'
import type { DayPlan } from './plan.ts'
import type { Window } from './windows.ts'

/** As much of a plan as a change of its problem takes. */
export type Editable = Pick<DayPlan, 'problem' | 'activities' | 'kitchen' | 'beyond'>

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

/** The minutes to which activities are held, those of blocks among them, by activity. */
export function pinsOf({ problem }: Pick<DayPlan, 'problem'>): Map<string, number> {
  const held = problem.resources.filter(({ id }) => id.startsWith('pin@'))
  const minutes = new Map(held.map(({ id, calendar }) => [id, calendar?.[0]?.from ?? 0]))
  return new Map(
    problem.activities.flatMap(({ id, phases }) => {
      const minute = minutes.get(`pin@${id}`)
      return minute !== undefined && phases.some(({ resources = {} }) => resources[`pin@${id}`]) ? [[id, minute]] : []
    }),
  )
}

/**
 * A schedule as an order to begin a search with: what is held to a minute goes first, behind what it waits for, so that
 * nothing else takes its place.
 */
export function pinsFirst(plan: Pick<DayPlan, 'problem'>, schedule: Schedule): Schedule {
  const activities = new Map(plan.problem.activities.map((one) => [one.id, one]))
  const start = { ...schedule.start }
  for (const [id, minute] of pinsOf(plan)) {
    start[id] = 0
    const before = (activities.get(id)?.after ?? []).map((one) => one.id)
    for (const other of before) {
      start[other] = Math.min(start[other] ?? 0, minute)
      before.push(...(activities.get(other)?.after ?? []).map((one) => one.id).filter((one) => !before.includes(one)))
    }
  }
  return { ...schedule, start }
}

/** An activity as it was before it was held to a minute. */
export function released(activity: Activity): Activity {
  const phases = activity.phases.map(({ resources, ...phase }) => {
    if (!resources) return phase
    const { [`pin@${activity.id}`]: _, ...rest } = resources
    return { ...phase, resources: rest }
  })
  return { ...activity, phases }
}

/** What holds something to a minute: there for just so long, and again beyond the work days. */
export function pinOf(plan: Editable, id: string, minute: number, minutes: number): Resource {
  // A minute apart, or the first phase could end in the one window and the next begin in the other.
  const end = minute + Math.max(1, minutes)
  const again = Math.max(plan.beyond, end + 1)
  return {
    id,
    capacity: 1,
    calendar: [
      { from: minute, to: end },
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

/** When somebody or something is there; without a calendar always. */
export function calendarOf(plan: Editable, { calendar }: { calendar?: Window[] }): Window[] {
  return calendar ?? [{ from: 0, to: endOf(plan, plan.beyond) }]
}

/** A whole minute of the kitchen's axis. */
export function isMinute(minute: number): boolean {
  return Number.isSafeInteger(minute) && minute >= 0
}
