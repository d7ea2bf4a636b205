/** Now, as something handed in: no other place asks the machine for the time. */
export type Clock = { now(): Date }

/** The machine's clock. */
export const systemClock: Clock = { now: () => new Date() }

/** A clock that stands still at an ISO instant, for tests and demonstrations; throws a RangeError on anything else. */
export function fixedClock(instant: string): Clock {
  const at = new Date(instant).getTime()
  if (Number.isNaN(at)) throw new RangeError('fixedClock wants an ISO instant')
  return { now: () => new Date(at) }
}

/** The date (YYYY-MM-DD) that the clock shows in a co-op's own zone (IANA name). */
export function todayIn(clock: Clock, timeZone: string): string {
  return dateIn(clock.now(), timeZone)
}

/** The date (YYYY-MM-DD) of an instant in a zone (IANA name). */
export function dateIn(instant: Date, timeZone: string): string {
  let format = isoDates.get(timeZone)
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' })
    isoDates.set(timeZone, format)
  }
  return format.format(instant)
}

const isoDates = new Map<string, Intl.DateTimeFormat>()
