import { lengthOfAll } from '../day/edits.ts'
import { isLabelling } from '../day/labelling.ts'
import type { TimetablePlan } from '../day/plan.ts'
import type { Late, Timetable } from '../day/timetable.ts'

/**
 * Which lateness says that the clock does not hold a division: work with hands on a batch that ends after its day's
 * closing (or has no place in the work days at all), whatever runs alone of a batch that has none, and a machine that is
 * to begin when the kitchen is closed: nobody is there to load it. Not counted: cleaning up and jars for the day as a
 * whole (filling waits for the jars, so it would be late itself), labels, which may be put on any day, and machines that
 * run on after hands have left.
 */
export function lateThatCounts(plan: TimetablePlan, { late }: Pick<Timetable, 'late'>): Late[] {
  return late.filter((one) => {
    if (one.batch === null) return false
    const planned = plan.activities.find(({ activity }) => activity.id === one.activity)
    if (!planned || isLabelling(plan.batches, planned)) return false
    const { phases } = planned.activity
    if (!one.fits || phases.some(({ people = [] }) => people.length > 0)) return true
    const closes = plan.kitchen.days[one.day]?.closes ?? 0
    return one.end !== null && one.end - lengthOfAll(planned.activity) > closes
  })
}

/** A batch of which not all was finished in time: how many units were, fewer than it has, and which portions were not. */
export type Over = { batch: string; finished: number; portions: number[] }

/**
 * The batches of which not all was finished in time; 0 units of what cannot be done at all. Where a batch as a whole is
 * late, its last portion is taken for what was not finished.
 */
export function finishedInTime(
  plan: TimetablePlan,
  timetable: Pick<Timetable, 'late' | 'short' | 'impossible'>,
): Over[] {
  const late = lateThatCounts(plan, timetable)
  const found = plan.batches.flatMap(({ batch, portions }): Over[] => {
    const own = late.filter((one) => one.batch === batch.id).map(({ activity }) => activity)
    const short = timetable.short.find((one) => one.batch === batch.id)
    if (own.length === 0 && !short) return []
    const lateIn = new Set(
      plan.activities.filter(({ activity }) => own.includes(activity.id)).map((one) => one.portion),
    )
    const inTime = portions.reduce((sum, units, portion) => sum + (lateIn.has(portion) ? 0 : units), 0)
    const isWhole = inTime === batch.units
    return [
      {
        batch: batch.id,
        finished: Math.min(isWhole ? withoutLast(batch.units, portions) : inTime, short?.finished ?? batch.units - 1),
        portions: isWhole ? [portions.length - 1] : [...lateIn].flatMap((portion) => portion ?? []),
      },
    ]
  })
  return [...found, ...timetable.impossible.map(({ batch }) => ({ batch, finished: 0, portions: [] }))]
}

/**
 * For each day that is not cleared away in time although all of its batches are done: the batch whose hands are done
 * last, without its last portion.
 */
export function notClearedAway(plan: TimetablePlan, timetable: Pick<Timetable, 'late' | 'entries'>): Over[] {
  const counted = lateThatCounts(plan, timetable)
  return plan.kitchen.days.flatMap((_, day): Over[] => {
    if (!timetable.late.some(({ activity }) => activity === `clean-up@${day}`)) return []
    const ofDay = plan.activities.filter((one) => one.day === day && !isLabelling(plan.batches, one))
    if (counted.some(({ activity }) => ofDay.some((one) => one.activity.id === activity))) return []
    const ids = new Set(ofDay.map(({ activity }) => activity.id))
    const last = timetable.entries
      .filter(({ activity, batch, helpers }) => batch !== null && helpers.length > 0 && ids.has(activity))
      .reduce<Timetable['entries'][number] | null>((late, one) => (late && late.to >= one.to ? late : one), null)
    const made = plan.batches.find(({ batch }) => batch.id === last?.batch)
    if (!last || !made) return []
    const { batch, portions } = made
    return [
      {
        batch: batch.id,
        finished: withoutLast(batch.units, portions),
        portions: [last.portion ?? portions.length - 1],
      },
    ]
  })
}

function withoutLast(units: number, portions: readonly number[]): number {
  return Math.max(0, units - Math.max(1, portions.at(-1) ?? 1))
}
