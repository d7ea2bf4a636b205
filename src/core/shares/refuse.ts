/** Throws a RangeError that names the first id that is given twice. */
export function refuseTwice(what: string, ids: readonly string[]): void {
  const seen = new Set<string>()
  for (const id of ids) {
    if (seen.has(id)) throw new RangeError(`${what} ${id} is given twice`)
    seen.add(id)
  }
}

/** Throws a RangeError that names what is not a whole number from 0 up. */
export function refuseUnlessWhole(value: number, what: string): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) throw new RangeError(`${what}: not a whole number from 0 up`)
}

/** Throws a RangeError that names what is not a finite number from 0 up. */
export function refuseNegative(value: number, what: string): void {
  if (!(Number.isFinite(value) && value >= 0)) throw new RangeError(`${what}: not a number from 0 up`)
}
