import { daysBetween } from '../produce/dates.ts'

/** Within so many days a best-by date is near enough to be told. */
export const soonDays = 60

/** How a best-by date stands to a day. `days`: until it, below 0 once it is past. */
export type Age = { state: 'past' | 'soon' | 'later'; days: number } | { state: 'unknown' }

/** @param bestBy ISO date, null where none was noted; on that day itself it is not yet past */
export function ageOf(bestBy: string | null, today: string): Age {
  if (bestBy === null) return { state: 'unknown' }
  const days = daysBetween(today, bestBy)
  return { state: days < 0 ? 'past' : days <= soonDays ? 'soon' : 'later', days }
}
