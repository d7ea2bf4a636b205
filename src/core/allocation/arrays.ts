/** The entry of an array that is known to be there; an index outside is a fault of this program and throws. */
export function at<T>(array: ArrayLike<T>, index: number): T {
  const value = array[index]
  if (value === undefined) throw new RangeError(`no entry ${index} in an array of ${array.length}`)
  return value
}

/** Adds to one entry of a numeric array that is known to be there. */
export function add(array: number[] | Float64Array | Int32Array, index: number, amount: number): void {
  array[index] = at(array, index) + amount
}

/** Order by a text key, independent of the machine's language. */
export function byText<T>(key: (value: T) => string): (a: T, b: T) => number {
  return (a, b) => {
    const left = key(a)
    const right = key(b)
    return left < right ? -1 : left > right ? 1 : 0
  }
}

export function sum(values: Iterable<number>): number {
  let total = 0
  for (const value of values) total += value
  return total
}
