import { type Board, boardFor } from './board.ts'
import type { Budget } from './budget.ts'
import { MinuteBoard } from './minute-board.ts'
import type { Model } from './model.ts'
import { isBetter, oppositeOrder, serialPass, type Value, worthOf } from './passes.ts'
import type { Chance } from './random.ts'
import { Repair } from './repair.ts'
import { tailsOf } from './sampling.ts'

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
  /** Minutes from each activity's start to the end of all, at the least. */
  private readonly rest: Int32Array
  private readonly repair: Repair | null

  /** With `chance` passes that come out worse are repaired on the way, where the board lets them. */
  constructor(model: Model, chance: Chance | null = null) {
    this.model = model
    this.board = boardFor(model)
    this.repair = chance && this.board instanceof MinuteBoard ? new Repair(model, this.board, chance) : null
    this.starts = new Int32Array(model.count)
    this.keys = new Float64Array(model.count)
    this.rest = tailsOf(model).map((tail, activity) => tail + (model.duration[activity] ?? 0))
  }

  /** One serial pass. */
  pass(order: Int32Array, release: Int32Array, people: Int32Array): Member {
    serialPass(this.model, this.board, order, release, this.starts, people)
    return this.memberOf(this.starts, order, people)
  }

  /**
   * The same, given up (null) as soon as it is certain to be worse than `old`: the budget gets back the share of the
   * activities that got no start, as effort is counted in starts that are worked out (Kolisch and Hartmann 2006, from memory).
   */
  passAgainst(
    old: Value | undefined,
    budget: Budget,
    order: Int32Array,
    release: Int32Array,
    people: Int32Array,
  ): Member | null {
    const { model, board, starts, rest, repair } = this
    repair?.begin((budget.most - budget.spent) * model.count)
    const placed = serialPass(
      model,
      board,
      order,
      release,
      starts,
      people,
      old ? { lateness: old.lateness, span: old.span, rest, repair } : null,
    )
    if (repair) budget.add(repair.again / model.count)
    if (placed === model.count) return this.memberOf(starts, order, people)
    budget.giveBack(1 - (placed + 1) / model.count)
    return null
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
