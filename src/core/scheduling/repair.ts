import type { MinuteBoard } from './minute-board.ts'
import type { Model } from './model.ts'
import type { Chance } from './random.ts'

// From trial on the classical set of 30 activities.
const mostRepairs = 3
const farthest = 10

/**
 * Mends a serial pass where an activity comes too late: goes back along the chain of activities that each start when
 * the one before ends, to the one that waited for resources, moves it forward in the list by a few drawn places and lets the
 * pass go on from there. For problems without due times only.
 */
export class Repair {
  /** Starts that were worked out more than once since `begin`. */
  again = 0
  private left = 0
  private room = 0
  private readonly model: Model
  private readonly board: MinuteBoard
  private readonly chance: Chance

  constructor(model: Model, board: MinuteBoard, chance: Chance) {
    this.model = model
    this.board = board
    this.chance = chance
  }

  /** A new pass, which may work out so many starts more than once. */
  begin(room: number): void {
    this.again = 0
    this.left = mostRepairs
    this.room = Math.min(room, this.model.count)
  }

  /**
   * Changes the list where what stands at `place` has a start too late. Gives the place to go on from, everything from there
   * on taken off the board; -1 where nothing is to be done.
   */
  from(place: number, order: Int32Array, starts: Int32Array): number {
    if (this.left === 0) return -1
    this.left--
    const delayed = this.delayedBefore(order[place] ?? 0, starts)
    let at = place
    while (order[at] !== delayed) at--
    const before = this.model.before[delayed] ?? nothing
    let low = at
    while (low > 0 && !before.includes(order[low - 1] ?? 0)) low--
    if (low === at) return -1
    const to = at - 1 - this.chance.below(Math.min(farthest, at - low))
    const again = place + 1 - to
    if (this.again + again > this.room) return -1
    this.again += again
    for (let one = to; one < place; one++) this.board.remove(order[one] ?? 0, starts[order[one] ?? 0] ?? 0)
    order.copyWithin(to + 1, to, at)
    order[to] = delayed
    return to
  }

  /** The last of the chain that ends with `late` to start later than what it waits for lets it. */
  private delayedBefore(late: number, starts: Int32Array): number {
    const { model, chance } = this
    for (let one = late; ; ) {
      const before = model.before[one] ?? nothing
      const lags = model.beforeLag[one] ?? nothing
      let cause = -1
      for (let at = 0; at < before.length; at++) {
        const other = before[at] ?? 0
        const end = (starts[other] ?? 0) + (model.duration[other] ?? 0) + (lags[at] ?? 0)
        if (end === starts[one] && (cause < 0 || chance.share() < 0.5)) cause = other
      }
      if (cause < 0) return one
      one = cause
    }
  }
}

const nothing = new Int32Array(0)
