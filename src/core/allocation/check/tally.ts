/** Sums by key, for the checks. */
export class Tally {
  readonly sums = new Map<string, number>()

  add(key: string, amount: number): void {
    this.sums.set(key, (this.sums.get(key) ?? 0) + amount)
  }

  get(key: string): number {
    return this.sums.get(key) ?? 0
  }
}

/** The thing with this id; the check of names has come before, so it is there. */
export function named<T extends { id: string }>(things: readonly T[], id: string): T {
  const thing = things.find((candidate) => candidate.id === id)
  if (!thing) throw new Error(`nothing is called ${id}`)
  return thing
}

/** Days since 1970 of a date. */
export function dayNumber(date: string | undefined): number {
  return Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000)
}
