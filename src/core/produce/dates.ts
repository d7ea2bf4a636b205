import { DateTime } from 'luxon'

/** The ISO date so many whole days after another; negative goes back. Throws a RangeError if `date` is no ISO date. */
export function dateAfter(date: string, days: number): string {
  return isoDate(parsed(date).plus({ days }))
}

/** Whole calendar days from one ISO date to another, negative if the other is earlier. Throws as `dateAfter`. */
export function daysBetween(from: string, to: string): number {
  return Math.round(parsed(to).diff(parsed(from), 'days').days)
}

/** Dates are counted in UTC, where every day has 24 hours; the date itself is the co-op's own. */
function parsed(date: string): DateTime<true> {
  const day = DateTime.fromFormat(date, 'yyyy-MM-dd', { zone: 'utc' })
  if (!day.isValid) throw new RangeError(`not an ISO date: ${date.slice(0, 40)}`)
  return day
}

function isoDate(day: DateTime<true>): string {
  return day.toISODate()
}
