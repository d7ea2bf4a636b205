import { DateTime } from 'luxon'
import { utcOf } from '../../../core/calendar/index.ts'
import { clockOf, type Kitchen, minutesOfADay } from '../../../core/day/index.ts'
import { daysBetween } from '../../../core/produce/dates.ts'

/** Minutes of a kitchen's axis as instants (ISO 8601, UTC), and back. */
export type Instants = {
  of(minute: number): string
  /** null for an instant before the first work day. Seconds are dropped. */
  minuteOf(instant: string): number | null
}

/** The instants of a kitchen in the co-op's zone (IANA name). On days on which clocks change `utcOf` says what is meant. */
export function instantsOf(kitchen: Kitchen, timeZone: string): Instants {
  return {
    of(minute) {
      const at = clockOf(kitchen, minute)
      if (at === null) throw new Error('a timetable without work days has no times')
      return utcOf(at, timeZone).toISOString()
    },
    minuteOf(instant) {
      const first = kitchen.days[0]
      const local = DateTime.fromISO(instant, { zone: timeZone })
      const date = local.toISODate()
      if (!first || date === null) return null
      const minute = daysBetween(first.date, date) * minutesOfADay + local.hour * 60 + local.minute
      return minute < 0 ? null : minute
    },
  }
}
