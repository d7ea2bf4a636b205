import type { Board } from './board.ts'
import { type Model, never } from './model.ts'

/**
 * Serial schedule generation (Kelley 1963, from memory): takes activities in the order of a list that respects what comes before,
 * each at its first feasible start at or after `release`. Writes `starts`; `never` where the calendars leave no room.
 */
export function serialPass(
  model: Model,
  board: Board,
  order: Int32Array,
  release: Int32Array,
  starts: Int32Array,
  people = model.people,
): void {
  board.clear(people)
  for (let place = 0; place < order.length; place++) {
    const activity = order[place] ?? 0
    const ready = readyAt(model, activity, release, starts)
    const start = ready >= never ? never : board.earliest(activity, ready)
    starts[activity] = start
    if (start < never) board.place(activity, start)
  }
}

/**
 * Parallel schedule generation: again and again starts whichever ready activity can start first, the one with the
 * lowest `key` among equals. Gives a non-delay schedule, which may miss the optimum but is seldom bad.
 */
export function parallelPass(
  model: Model,
  board: Board,
  key: ArrayLike<number>,
  release: Int32Array,
  starts: Int32Array,
  people = model.people,
): void {
  board.clear(people)
  const waiting = Int32Array.from(model.before, (list) => list.length)
  const soonest = new Int32Array(model.count)
  const ready: number[] = []
  const open = (activity: number) => {
    soonest[activity] = readyAt(model, activity, release, starts)
    ready.push(activity)
  }
  for (let activity = 0; activity < model.count; activity++) if (waiting[activity] === 0) open(activity)
  while (ready.length > 0) {
    const at = firstOf(ready, soonest, key)
    const activity = ready[at] ?? 0
    // What was free once may have been taken since; nothing becomes free again.
    const from = soonest[activity] ?? 0
    const start = from >= never ? never : board.earliest(activity, from)
    if (start > from) {
      soonest[activity] = start
      continue
    }
    ready.splice(at, 1)
    starts[activity] = start
    if (start < never) board.place(activity, start)
    for (const follower of model.next[activity] ?? []) {
      const left = (waiting[follower] ?? 0) - 1
      waiting[follower] = left
      if (left === 0) open(follower)
    }
  }
}

/**
 * The list for a pass in the other direction: by end, last first. Passing it on to the mirrored problem is the right
 * shift of justification (Valls, Ballestin, Quintanilla 2005, from memory).
 * `hint` is the list that gave the starts: almost in order already.
 */
export function oppositeOrder(
  { duration, rank, count }: Model,
  starts: Int32Array,
  hint: Int32Array,
  into: Int32Array,
  keys: Float64Array = new Float64Array(count),
): void {
  for (let place = 0; place < count; place++) {
    const activity = hint[count - 1 - place] ?? 0
    // By end; among equal ends by rank, so that what waits comes first.
    const key = ((starts[activity] ?? 0) + (duration[activity] ?? 0)) * count + (rank[activity] ?? 0)
    let to = place
    for (; to > 0 && (keys[to - 1] ?? 0) < key; to--) {
      keys[to] = keys[to - 1] ?? 0
      into[to] = into[to - 1] ?? 0
    }
    keys[to] = key
    into[to] = activity
  }
}

export type Value = { lateness: number; span: number }

/** Weighted minutes beyond what is due, and the last end (`never` or more if something found no room). */
export function worthOf(model: Model, starts: Int32Array): Value {
  let span = 0
  let lateness = 0
  for (let activity = 0; activity < model.count; activity++) {
    const end = (starts[activity] ?? 0) + (model.duration[activity] ?? 0)
    if (end > span) span = end
    const late = end - (model.due[activity] ?? never)
    if (late > 0) lateness += late * (model.weight[activity] ?? 1)
  }
  return { lateness, span }
}

/** A complete schedule is better than one with something left out; then less lateness, then an earlier end. */
export function isBetter(one: Value, other: Value): boolean {
  const complete = one.span < never
  if (complete !== other.span < never) return complete
  return one.lateness !== other.lateness ? one.lateness < other.lateness : one.span < other.span
}

function readyAt(model: Model, activity: number, release: Int32Array, starts: Int32Array): number {
  const before = model.before[activity] ?? none
  const lags = model.beforeLag[activity] ?? none
  let ready = release[activity] ?? 0
  for (let at = 0; at < before.length; at++) {
    const other = before[at] ?? 0
    const end = (starts[other] ?? 0) + (model.duration[other] ?? 0) + (lags[at] ?? 0)
    if (end > ready) ready = end
  }
  return ready
}

function firstOf(ready: number[], soonest: Int32Array, key: ArrayLike<number>): number {
  let best = 0
  for (let at = 1; at < ready.length; at++) {
    const one = ready[at] ?? 0
    const other = ready[best] ?? 0
    const gap = (soonest[one] ?? 0) - (soonest[other] ?? 0)
    if (gap < 0 || (gap === 0 && (key[one] ?? 0) < (key[other] ?? 0))) best = at
  }
  return best
}

const none = new Int32Array(0)
