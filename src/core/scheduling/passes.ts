import type { Board } from './board.ts'
import { type Model, never } from './model.ts'
import type { Repair } from './repair.ts'

/** What a pass must be as good as, and for each activity the minutes from its start to the end of all, at the least. */
export type Limit = Value & { rest: Int32Array; repair: Repair | null }

/**
 * Serial schedule generation (Kelley 1963, from memory): takes activities in the order of a list that respects what comes before,
 * each at its first feasible start at or after `release`. Writes `starts`; `never` where the calendars leave no room.
 * With a `limit` it ends where it is certain to be worse, and goes back for as long as the repair knows where to; then
 * `order` is changed. Gives how many activities it came to before that.
 */
export function serialPass(
  model: Model,
  board: Board,
  order: Int32Array,
  release: Int32Array,
  starts: Int32Array,
  people = model.people,
  limit: Limit | null = null,
): number {
  board.clear(people)
  // Where something may be late, less of that may take longer.
  const mostSpan = limit?.lateness === 0 ? limit.span : Number.POSITIVE_INFINITY
  const mostLateness = limit?.lateness ?? Number.POSITIVE_INFINITY
  let lateness = 0
  for (let place = 0; place < order.length; place++) {
    const activity = order[place] ?? 0
    const ready = readyAt(model, activity, release, starts)
    const start = ready >= never ? never : board.earliest(activity, ready)
    if (limit && start + (limit.rest[activity] ?? 0) > mostSpan) {
      starts[activity] = start
      const back = limit.repair?.from(place, order, starts) ?? -1
      if (back < 0) return place
      place = back - 1
      continue
    }
    lateness += latenessOf(model, activity, start)
    if (lateness > mostLateness) return place
    starts[activity] = start
    if (start < never) board.place(activity, start)
  }
  return order.length
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
 * `hint` is the list that gave the starts: almost in order already. A list of some of the activities gives one of these.
 */
export function oppositeOrder(
  { duration, rank, count }: Model,
  starts: Int32Array,
  hint: Int32Array,
  into: Int32Array,
  keys: Float64Array = new Float64Array(count),
): void {
  const length = hint.length
  for (let place = 0; place < length; place++) {
    const activity = hint[length - 1 - place] ?? 0
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
    lateness += latenessOf(model, activity, starts[activity] ?? 0)
  }
  return { lateness, span }
}

function latenessOf({ duration, due, weight }: Model, activity: number, start: number): number {
  const late = start + (duration[activity] ?? 0) - (due[activity] ?? never)
  return late > 0 ? late * (weight[activity] ?? 1) : 0
}

/** A complete schedule is better than one with something left out; then less lateness, then an earlier end. */
export function isBetter(one: Value, other: Value): boolean {
  const complete = one.span < never
  if (complete !== other.span < never) return complete
  return one.lateness !== other.lateness ? one.lateness < other.lateness : one.span < other.span
}

/** When all that the activity waits for lets it start. */
export function readyAt(model: Model, activity: number, release: Int32Array, starts: Int32Array): number {
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

/** A list in the order of starts, among equals by rank. */
export function byStart({ count, rank }: Model, starts: Int32Array): Int32Array {
  return Int32Array.from({ length: count }, (_, index) => index).sort(
    (a, b) => (starts[a] ?? 0) - (starts[b] ?? 0) || (rank[a] ?? 0) - (rank[b] ?? 0),
  )
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
