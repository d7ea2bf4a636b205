import type { DayPlan } from '../day/plan.ts'
import type { Late, Timetable } from '../day/timetable.ts'

/**
 * Which lateness says that the clock does not hold a division: work with hands on a batch that ends after its day's
 * closing (or has no place in the work days at all), and whatever runs alone of a batch that has none. Not counted:
 * cleaning up and jars for the day as a whole (filling waits for the jars, so it would be late itself), labels, which
 * may be put on any day, and machines that run on after hands have left.
 */
export function lateThatCounts(plan: DayPlan, { late }: Pick<Timetable, 'late'>): Late[] {
  return late.filter((one) => {
    if (one.batch === null) return false
    const planned = plan.activities.find(({ activity }) => activity.id === one.activity)
    const steps = plan.batches.find(({ batch }) => batch.id === one.batch)?.steps ?? []
    if (!planned) return false
    const stations = planned.phases.map(({ step }) => (step === null ? null : (steps[step]?.step.station ?? null)))
    if (stations.every((station) => station === 'label')) return false
    return !one.fits || planned.activity.phases.some(({ people = [] }) => people.length > 0)
  })
}

/**
 * How many units of each batch were finished in time, for those of which not all were; 0 for what cannot be done at all.
 * Always fewer than the batch has: where the batch as a whole is late, its last portion is taken off.
 */
export function finishedInTime(
  plan: DayPlan,
  timetable: Pick<Timetable, 'late' | 'short' | 'impossible'>,
): { batch: string; finished: number }[] {
  const late = lateThatCounts(plan, timetable)
  const found = plan.batches.flatMap(({ batch, portions }) => {
    const own = late.filter((one) => one.batch === batch.id).map(({ activity }) => activity)
    const short = timetable.short.find((one) => one.batch === batch.id)
    if (own.length === 0 && !short) return []
    const lateIn = new Set(
      plan.activities.filter(({ activity }) => own.includes(activity.id)).map((one) => one.portion),
    )
    const inTime = portions.reduce((sum, units, portion) => sum + (lateIn.has(portion) ? 0 : units), 0)
    const withoutLast = Math.max(0, batch.units - Math.max(1, portions.at(-1) ?? 1))
    return [
      {
        batch: batch.id,
        finished: Math.min(inTime < batch.units ? inTime : withoutLast, short?.finished ?? batch.units - 1),
      },
    ]
  })
  return [...found, ...timetable.impossible.map(({ batch }) => ({ batch, finished: 0 }))]
}
