/**
 * Reads a text column that holds one of a closed set.
 *
 * @throws Error for anything else: the row was not written by this program
 */
export function storedAs<const T extends string>(set: readonly T[], text: string): T {
  const found = set.find((one) => one === text)
  if (found === undefined) throw new Error(`"${text}" is stored where one of ${set.join(', ')} belongs`)
  return found
}

/** As `storedAs` for a list, in the order of the set. */
export function storedList<const T extends string>(set: readonly T[], texts: readonly string[]): T[] {
  const known = texts.map((text) => storedAs(set, text))
  return set.filter((one) => known.includes(one))
}

/** The ISO date of a date column (Prisma gives it as UTC midnight). */
export function storedDate(at: Date): string {
  return at.toISOString().slice(0, 10)
}

/** A date column's value from an ISO date. */
export function dateColumn(isoDate: string): Date {
  return new Date(`${isoDate}T00:00:00Z`)
}
