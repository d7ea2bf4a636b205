import type { Window } from '../problem.ts'

/** Starts that are possible: ranges, first and last included, ascending and apart. */
export type Starts = { first: number; last: number }[]

/** The starts of something that takes `minutes` and lies in one window. */
export function startsIn(calendar: Window[], minutes: number): Starts {
  return joined(
    calendar
      .filter(({ from, to }) => to - from >= minutes)
      .map(({ from, to }) => ({ first: from, last: to - minutes })),
  )
}

/** The starts at which at least `wanted` of several parties are there; `always` of them have no calendar. */
export function startsOfMany(calendars: Window[][], always: number, wanted: number, minutes: number): Starts | null {
  if (always >= wanted) return null
  const changes = calendars
    .flatMap((calendar) => startsIn(calendar, minutes))
    .flatMap(({ first, last }) => [
      { moment: first, heads: 1 },
      { moment: last + 1, heads: -1 },
    ])
    .sort((a, b) => a.moment - b.moment)
  const starts: Starts = []
  let heads = always
  changes.forEach((change, index) => {
    heads += change.heads
    const until = changes[index + 1]?.moment ?? change.moment
    if (heads >= wanted && until > change.moment) starts.push({ first: change.moment, last: until - 1 })
  })
  return joined(starts)
}

/** The starts that are in both lists. */
export function common(one: Starts, other: Starts): Starts {
  const starts: Starts = []
  for (let i = 0, j = 0; i < one.length && j < other.length; ) {
    const a = one[i]
    const b = other[j]
    if (!a || !b) break
    const first = Math.max(a.first, b.first)
    const last = Math.min(a.last, b.last)
    if (first <= last) starts.push({ first, last })
    if (a.last < b.last) i++
    else j++
  }
  return starts
}

export function shifted(starts: Starts, minutes: number): Starts {
  return starts.map(({ first, last }) => ({ first: first + minutes, last: last + minutes }))
}

/** The first possible start at or after a moment; Infinity if none. */
export function startFrom(starts: Starts, moment: number): number {
  for (const { first, last } of starts) if (last >= moment) return Math.max(first, moment)
  return Number.POSITIVE_INFINITY
}

/** The last possible start at or before a moment; -Infinity if none. */
export function startUpTo(starts: Starts, moment: number): number {
  let found = Number.NEGATIVE_INFINITY
  for (const { first, last } of starts) {
    if (first > moment) break
    found = Math.min(last, moment)
  }
  return found
}

function joined(starts: Starts): Starts {
  const list: Starts = []
  for (const { first, last } of [...starts].sort((a, b) => a.first - b.first)) {
    const before = list.at(-1)
    if (before && first <= before.last + 1) before.last = Math.max(before.last, last)
    else list.push({ first, last })
  }
  return list
}
