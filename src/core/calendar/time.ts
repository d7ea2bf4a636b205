import { DateTime } from 'luxon'

/** A time on the wall clock: ISO date and whole minutes from its midnight. From 1440 on it is the next day, and so on. */
export type WallTime = { date: string; minuteOfDay: number }

/**
 * The instant of a wall clock's time in a zone.
 *
 * On days on which clocks change this reads as RFC 5545, 3.3.5, does: a time that happens twice is its first occurrence,
 * and a time that is skipped is taken with the offset from before, so that 2:30 in a gap from 2:00 to 3:00 is 3:30.
 *
 * @param timeZone IANA name
 * @throws RangeError for a date that does not exist, minutes that are not whole or below 0, or a zone that is not known
 */
export function utcOf({ date, minuteOfDay }: WallTime, timeZone: string): Date {
  if (!Number.isSafeInteger(minuteOfDay) || minuteOfDay < 0) throw new RangeError('not a minute of a day')
  const midnight = DateTime.fromFormat(date, 'yyyy-MM-dd', { zone: 'utc' })
  if (!midnight.isValid) throw new RangeError(`not an ISO date: ${date.slice(0, 40)}`)
  // Added up in UTC, where every day has 24 hours, and only then read in the zone. Reading the parts in the zone at once
  // would let luxon guess the offset from what it is now: the same question would have two answers in a year.
  const local = midnight.plus({ minutes: minuteOfDay }).setZone(timeZone, { keepLocalTime: true })
  if (!local.isValid) throw new RangeError(`not a time zone: ${timeZone.slice(0, 40)}`)
  const [first = local] = local.getPossibleOffsets()
  return first.toJSDate()
}
