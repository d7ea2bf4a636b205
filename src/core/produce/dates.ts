const DAY_MS = 86_400_000

/** The ISO date so many whole days after another; negative goes back. Throws a RangeError if `date` is no ISO date. */
export function dateAfter(date: string, days: number): string {
  return isoDate(new Date(midnight(date) + days * DAY_MS))
}

/** Whole calendar days from one ISO date to another, negative if the other is earlier. Throws as `dateAfter`. */
export function daysBetween(from: string, to: string): number {
  return Math.round((midnight(to) - midnight(from)) / DAY_MS)
}

/** Dates are counted in UTC, where every day has 24 hours; the date itself is the co-op's own. */
function midnight(date: string): number {
  const at = new Date(/^\d{4}-\d{2}-\d{2}$/.test(date) ? `${date}T00:00:00Z` : Number.NaN)
  // A day that a month does not have would be read as one of the next month.
  if (Number.isNaN(at.getTime()) || isoDate(at) !== date) throw new RangeError(`not an ISO date: ${date.slice(0, 40)}`)
  return at.getTime()
}

function isoDate(day: Date): string {
  return day.toISOString().replace(/T.*/, '')
}
