import { DateTime } from 'luxon'

/** Whole days since 1970-01-01 of an ISO date such as "2026-09-18"; refuses (throws RangeError) what is none. */
export function dayNumber(isoDate: string): number {
  const date = DateTime.fromISO(isoDate, { zone: 'utc' })
  if (!date.isValid) throw new RangeError(`not a date: ${isoDate}`)
  return Math.floor(date.toMillis() / 86_400_000)
}

/** The ISO date of a day number: the inverse of `dayNumber`. */
export function isoDate(day: number): string {
  return DateTime.fromMillis(day * 86_400_000, { zone: 'utc' }).toFormat('yyyy-MM-dd')
}
