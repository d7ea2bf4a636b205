import type { Schedule } from '../scheduling/problem.ts'
import type { PlannedActivity, TimetablePlan } from './plan.ts'

/**
 * The same schedule with loads that are alike in the order of their numbers: the first load of a batch is begun first.
 * Which of several equal loads goes first makes no difference to a search, but to whoever reads the timetable.
 *
 * Starts and people are only exchanged between activities that are alike in portions that are alike throughout, sorted
 * by start in each step. What a portion waits for either goes on from portion to portion in their order or is sorted
 * the same way, so that the earlier of two portions is ready no later, and whatever held still holds.
 */
export function loadsInOrder({ activities, batches }: TimetablePlan, schedule: Schedule): Schedule {
  const start = { ...schedule.start }
  const people = { ...schedule.people }
  for (const { batch, portions } of batches) {
    const own = portions.map((_, portion) =>
      activities.filter((one) => one.batch === batch.id && one.portion === portion && !one.inRow),
    )
    const classes = new Map<string, PlannedActivity[][]>()
    for (const portion of own) {
      const alike = JSON.stringify(portion.map(({ activity, day }) => [activity.phases, activity.due, day]))
      classes.set(alike, [...(classes.get(alike) ?? []), portion])
    }
    for (const alike of classes.values()) {
      alike[0]?.forEach((_, place) => {
        const same = alike.flatMap((portion) => portion[place] ?? []).map(({ activity }) => activity.id)
        const byStart = [...same].sort((a, b) => (schedule.start[a] ?? 0) - (schedule.start[b] ?? 0))
        same.forEach((id, rank) => {
          const from = byStart[rank] ?? id
          start[id] = schedule.start[from] ?? 0
          people[id] = schedule.people[from] ?? []
        })
      })
    }
  }
  return { ...schedule, start, people }
}
