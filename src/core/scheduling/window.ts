import { MinuteBoard } from './minute-board.ts'
import type { Model } from './model.ts'
import { oppositeOrder, readyAt } from './passes.ts'

/** One way to fill a window: a list for the other direction, and the makespan of the whole it makes. */
export type Filling = { order: Int32Array; span: number }

/** One direction of time. `starts` holds what is fixed before the window in it, and the window's own from the last pass. */
class Way {
  readonly model: Model
  readonly board: MinuteBoard
  readonly starts: Int32Array
  /** For each activity of the window the minutes from its start to the end of all, at the least. */
  readonly rest: Int32Array

  constructor(model: Model) {
    this.model = model
    this.board = new MinuteBoard(model)
    this.starts = new Int32Array(model.count)
    this.rest = new Int32Array(model.count)
  }
}

const before = 0
const inside = 1
const after = 2

/**
 * A sub-problem cut out of a schedule (the decomposition of Debels and Vanhoucke 2007, from memory): some activities in the
 * middle may move; what is before them keeps its times from the start, what is after them its times from the end. A pass
 * schedules the middle only, in either direction, and joins the three at the shortest distance that precedence and
 * resources allow. For problems that suit `MinuteBoard`, without earliest starts and due times.
 */
export class Window {
  /** The activities that may move, by start. */
  middle: Int32Array = new Int32Array(0)
  private readonly left: Way
  private readonly right: Way
  private readonly parts: Uint8Array
  private readonly keys: Float64Array
  /** What is fixed makes it no shorter. */
  private shortest = 0

  constructor(model: Model, mirrored: Model) {
    this.left = new Way(model)
    this.right = new Way(mirrored)
    this.parts = new Uint8Array(model.count)
    this.keys = new Float64Array(model.count)
  }

  /**
   * Fixes the `first` activities that start first as a schedule pushed to the left has them; lets the `length` others that
   * end first in a schedule pushed to the right (`rightStarts` from its end) move; fixes the rest as that one has it.
   */
  cut(leftStarts: Int32Array, rightStarts: Int32Array, first: number, length: number): void {
    const { left, right, parts } = this
    const { rank } = left.model
    const byStart = Array.from(parts, (_, one) => one).sort(
      (a, b) => (leftStarts[a] ?? 0) - (leftStarts[b] ?? 0) || (rank[a] ?? 0) - (rank[b] ?? 0),
    )
    const byEnd = byStart
      .slice(first)
      .sort((a, b) => (rightStarts[b] ?? 0) - (rightStarts[a] ?? 0) || (rank[a] ?? 0) - (rank[b] ?? 0))
    parts.fill(after)
    for (const one of byStart.slice(0, first)) parts[one] = before
    for (const one of byEnd.slice(0, length)) parts[one] = inside
    this.middle = Int32Array.from(byStart.filter((one) => parts[one] === inside))
    this.shortest = Math.max(this.fix(left, leftStarts, before), this.fix(right, rightStarts, after), this.links())
    this.measure(left, right, after)
    this.measure(right, left, before)
  }

  /** One pass over the middle; null, with the places come to, once it is certain that the whole is longer than `limit`. */
  pass(forward: boolean, order: Int32Array, limit: number): { filling: Filling | null; placed: number } {
    const way = forward ? this.left : this.right
    const { model, board, starts, rest } = way
    const length = order.length
    board.restore()
    let span = this.shortest
    for (let place = 0; place < length; place++) {
      const one = order[place] ?? 0
      const start = board.earliest(one, readyAt(model, one, model.earliest, starts))
      span = Math.max(span, start + (rest[one] ?? 0))
      if (span > limit) return { filling: null, placed: place + 1 }
      starts[one] = start
      board.place(one, start)
    }
    const other = forward ? this.right.board : this.left.board
    while (!board.meets(other, span)) if (++span > limit) return { filling: null, placed: length }
    const opposite = new Int32Array(length)
    oppositeOrder(model, starts, order, opposite, this.keys)
    return { filling: { order: opposite, span }, placed: length }
  }

  /** The whole as the last pass in that direction made it: starts from the left. */
  joined(forward: boolean, span: number): Int32Array {
    const { left, right, parts } = this
    return Int32Array.from(parts, (part, one) =>
      part === before || (part === inside && forward)
        ? (left.starts[one] ?? 0)
        : span - (right.starts[one] ?? 0) - (left.model.duration[one] ?? 0),
    )
  }

  /** Puts a part on its board at given starts. Gives its last end. */
  private fix({ board, starts }: Way, given: Int32Array, part: number): number {
    board.clear()
    for (let one = 0; one < given.length; one++) {
      if (this.parts[one] !== part) continue
      starts[one] = given[one] ?? 0
      board.place(one, given[one] ?? 0)
    }
    return board.hold()
  }

  /** How long the whole is at least where something fixed after the window waits for something fixed before it. */
  private links(): number {
    const { left, right, parts } = this
    const { count, duration, next, nextLag } = left.model
    let span = 0
    for (let one = 0; one < count; one++) {
      if (parts[one] !== before) continue
      const end = (left.starts[one] ?? 0) + (duration[one] ?? 0)
      next[one]?.forEach((other, at) => {
        if (parts[other] !== after) return
        span = Math.max(span, end + (nextLag[one]?.[at] ?? 0) + (right.starts[other] ?? 0) + (duration[other] ?? 0))
      })
    }
    return span
  }

  private measure({ model, rest }: Way, other: Way, beyond: number): void {
    const { topological, next, nextLag, duration } = model
    for (let place = model.count - 1; place >= 0; place--) {
      const one = topological[place] ?? 0
      if (this.parts[one] !== inside) continue
      let most = 0
      next[one]?.forEach((follower, at) => {
        const own =
          this.parts[follower] === beyond ? (other.starts[follower] ?? 0) + (duration[follower] ?? 0) : rest[follower]
        most = Math.max(most, (nextLag[one]?.[at] ?? 0) + (own ?? 0))
      })
      rest[one] = most + (duration[one] ?? 0)
    }
  }
}
