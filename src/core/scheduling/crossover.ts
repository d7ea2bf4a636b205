import type { Model } from './model.ts'
import type { Chance } from './random.ts'
import type { Member } from './side.ts'

type Listed = { order: Int32Array }

/** Draws lists from pairs of schedules. Holds what it needs between calls, so that a draw allocates nothing. */
export class Crossover {
  private readonly count: number
  private readonly work: Float64Array
  private readonly sums: Float64Array
  private readonly part: Uint8Array
  private readonly chance: Chance

  constructor(model: Model, chance: Chance) {
    this.count = model.count
    this.work = workOf(model)
    this.sums = new Float64Array(model.count + 1)
    this.part = new Uint8Array(model.count)
    this.chance = chance
  }

  /**
   * Keeps the father's busiest stretch as it is and orders what lies before and after it as the mother does (the peak
   * crossover of Valls, Ballestin, Quintanilla 2008 in Debels and Vanhoucke's form; from memory). The stretch is from a tenth to
   * six tenths of the whole. Respects what comes before, as both parents do.
   */
  peak(father: Member, mother: Member, into: Int32Array): void {
    const { first, end } = this.busiest(father)
    this.keep(father, first, end, mother, into)
  }

  /** The same with a stretch between two drawn places of the list. Lists of the same few activities will do as well. */
  anywhere(father: Listed, mother: Listed, into: Int32Array): void {
    const one = this.chance.below(father.order.length + 1)
    const other = this.chance.below(father.order.length + 1)
    this.keep(father, Math.min(one, other), Math.max(one, other), mother, into)
  }

  private keep(father: Listed, first: number, end: number, mother: Listed, into: Int32Array): void {
    const { part } = this
    const count = father.order.length
    for (let place = 0; place < count; place++) part[father.order[place] ?? 0] = place < first ? 0 : place < end ? 1 : 2
    let before = 0
    let after = end
    for (let place = 0; place < count; place++) {
      const activity = mother.order[place] ?? 0
      const where = part[activity]
      if (where === 0) into[before++] = activity
      else if (where === 2) into[after++] = activity
    }
    for (let place = first; place < end; place++) into[place] = father.order[place] ?? 0
  }

  /** The places of the list that start within the stretch of drawn length with most work in it. */
  private busiest({ order, times, span }: Member): { first: number; end: number } {
    const { count, sums } = this
    for (let place = 0; place < count; place++)
      sums[place + 1] = (sums[place] ?? 0) + (this.work[order[place] ?? 0] ?? 0)
    const length = span * (0.1 + 0.5 * this.chance.share())
    let first = 0
    let bestFirst = 0
    let bestEnd = 0
    let most = -1
    for (let end = 1; end <= count; end++) {
      const last = times[order[end - 1] ?? 0] ?? 0
      while (last - (times[order[first] ?? 0] ?? 0) > length) first++
      const work = (sums[end] ?? 0) - (sums[first] ?? 0)
      if (work > most) {
        most = work
        bestFirst = first
        bestEnd = end
      }
    }
    return { first: bestFirst, end: bestEnd }
  }
}

/** Share of all resources that an activity needs, minutes times units, people as one resource. */
function workOf(model: Model): Float64Array {
  const work = new Float64Array(model.count)
  model.phases.forEach((phases, activity) => {
    for (const { minutes, lanes, units, slots } of phases) {
      let load = slots.length / Math.max(1, model.people.length)
      lanes.forEach((lane, at) => {
        load += (units[at] ?? 0) / Math.max(1, model.capacity[lane] ?? 1)
      })
      work[activity] = (work[activity] ?? 0) + minutes * load
    }
  })
  return work
}
