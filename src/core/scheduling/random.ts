/** Numbers as if by chance, the same for the same seed (mulberry32, public domain). */
export type Chance = {
  /** At least 0, below 1. */
  share(): number
  /** A whole number at least 0 and below `end`. */
  below(end: number): number
}

export function chanceFrom(seed: number): Chance {
  let state = Math.trunc(seed) | 0
  const share = () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
  return { share, below: (end) => Math.floor(share() * end) }
}
