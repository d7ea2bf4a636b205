import { type Board, boardFor } from './board.ts'
import type { Model } from './model.ts'
import { isBetter, oppositeOrder, serialPass, type Value, worthOf } from './passes.ts'

/** A schedule of one direction, seen from the other: the list that justifies it, and the times there. */
export type Member = Value & {
  /** A list for the other direction. */
  order: Int32Array
  /** Starts in the other direction's time, to within a constant. */
  times: Int32Array
  /** Starts in its own. */
  starts: Int32Array
  /** Who was asked first. */
  people: Int32Array
}

/** One direction of time: the problem, its board and the present population of schedules. */
export class Side {
  readonly model: Model
  readonly board: Board
  members: Member[] = []
  private readonly starts: Int32Array
  private readonly keys: Float64Array

  constructor(model: Model) {
    this.model = model
    this.board = boardFor(model)
    this.starts = new Int32Array(model.count)
    this.keys = new Float64Array(model.count)
  }

  /** One serial pass. */
  pass(order: Int32Array, release: Int32Array, people: Int32Array): Member {
    serialPass(this.model, this.board, order, release, this.starts, people)
    return this.memberOf(this.starts, order, people)
  }

  memberOf(starts: Int32Array, hint: Int32Array, people: Int32Array): Member {
    const { model } = this
    const order = new Int32Array(model.count)
    oppositeOrder(model, starts, hint, order, this.keys)
    const value = worthOf(model, starts)
    const times = new Int32Array(model.count)
    for (let one = 0; one < model.count; one++)
      times[one] = value.span - (starts[one] ?? 0) - (model.duration[one] ?? 0)
    return { ...value, order, times, starts: starts.slice(), people }
  }
}

export function bestOf(members: readonly Member[]): Member | undefined {
  let best: Member | undefined
  for (const member of members) if (!best || isBetter(member, best)) best = member
  return best
}
