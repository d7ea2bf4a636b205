import { suitsMinutes } from './board.ts'
import type { Budget } from './budget.ts'
import { Crossover } from './crossover.ts'
import { mirrorOf } from './mirror.ts'
import { type Model, never } from './model.ts'
import { moveSome } from './mutation.ts'
import { byStart, isBetter, parallelPass } from './passes.ts'
import { polish } from './polish.ts'
import type { Chance } from './random.ts'
import { drawnList, latestEnds } from './sampling.ts'
import { type Member, Side } from './side.ts'

export type Found = { starts: Int32Array; crews: Int32Array[][]; lateness: number; span: number }

/** What the search may begin with: lists for forward passes, and a schedule that is known to be good. */
export type Start = { lists: Int32Array[]; found: Found | null }

/**
 * A genetic algorithm with two populations, schedules pushed to the left and schedules pushed to the right, each bred
 * from the other (after Debels, Vanhoucke 2005, from memory): every pass justifies what it recombines. Answers are taken
 * from the left only. Where times and boards allow, the last part of the budget goes to windows of the shortest schedules.
 * Ends with the budget, or when nothing is late and the bound is met.
 */
export function search(model: Model, budget: Budget, chance: Chance, bound: number, start: Start): Found | null {
  return new Search(model, budget, chance, bound, start).run(start.lists)
}

// Set by trial on the classical sets of 30 and 60 activities.
const fewActivities = 45
/** Moves tried on each child, and how many more when all children repeat what is there. */
const fewestMoves = 3
const mostMoves = 10
const forgetting = 0.02
/** Share of the budget before windows are searched, and the fewest activities that have any. */
const shareOfWhole = { few: 0.8, many: 0.7 }
const fewestForWindows = 12

class Search {
  private readonly model: Model
  private readonly budget: Budget
  private readonly chance: Chance
  private readonly bound: number
  private readonly left: Side
  private right: Side
  private rightEnd: number
  /** Share of the last children, about fifty, that were no different from the schedule they might have replaced. */
  private sameness = 0
  private best: Found | null
  private readonly crossover: Crossover
  private readonly release: Int32Array
  private readonly list: Int32Array
  private readonly gainsByWaiting: boolean
  private readonly dependsOnEnd: boolean
  private readonly hasWindows: boolean

  constructor(model: Model, budget: Budget, chance: Chance, bound: number, start: Start) {
    this.model = model
    this.budget = budget
    this.chance = chance
    this.bound = bound
    this.best = start.found
    this.crossover = new Crossover(model, chance)
    this.release = new Int32Array(model.count)
    this.list = new Int32Array(model.count)
    this.dependsOnEnd =
      model.hasDue || model.earliest.some((time) => time > 0) || model.calendars.some((calendar) => calendar !== null)
    this.hasWindows = !this.dependsOnEnd && suitsMinutes(model)
    this.left = this.sideFor(model)
    this.rightEnd = start.found?.span ?? 0
    this.right = this.sideFor(mirrorOf(model, this.rightEnd))
    this.gainsByWaiting = model.people.length > 0 || model.phases.some((phases) => phases.length > 1)
  }

  run(lists: Int32Array[]): Found | null {
    const size = this.populationSize()
    this.begin(size, lists)
    const { few, many } = shareOfWhole
    const windows = this.hasWindows && this.model.count >= fewestForWindows
    const end = windows ? this.budget.most * (this.model.count < fewActivities ? few : many) : Number.POSITIVE_INFINITY
    while (!this.isDone() && this.budget.spent < end) {
      this.breed(this.left, this.right, false)
      if (this.budget.spent < end) this.breed(this.right, this.left, true)
    }
    if (windows && !this.isDone()) this.polishBest()
    return this.best
  }

  /** Repairs are worth their starts in short lists only. */
  private sideFor(model: Model): Side {
    return new Side(model, this.hasWindows && model.count < fewActivities ? this.chance : null)
  }

  private polishBest(): void {
    const { model, left, right, budget, chance, crossover, best } = this
    if (!best) return
    const shortest = left.members.filter(({ span }) => span <= best.span)
    if (shortest.length === 0) shortest.push(left.memberOf(best.starts, byStart(model, best.starts), model.people))
    const keep = (starts: Int32Array, span: number) => this.keep(starts, 0, span)
    polish(shortest, { left, right, budget, chance, crossover, keep, isDone: () => this.isDone() })
  }

  private isDone(): boolean {
    return this.budget.left === 0 || this.isOptimal()
  }

  private isOptimal(): boolean {
    return this.best !== null && this.best.lateness === 0 && this.best.span <= this.bound
  }

  private begin(size: number, lists: Int32Array[]): void {
    const { model, left, list } = this
    const keys = latestEnds(model)
    // Its effort grows with the square of what is ready at once.
    const parallelOnceIn = model.count <= 150 ? 2 : 16
    for (const given of lists) {
      if (this.isDone() || !this.budget.take()) return
      this.welcome(left.pass(given, model.earliest, model.people), left)
    }
    for (let made = 0; left.members.length < size && made < 2 * size; made++) {
      if (this.isDone() || !this.budget.take()) return
      const key = model.hasDue && made % 4 < 2 ? keys.due : keys.span
      const people = made < 2 ? model.people : this.shuffled(model.people)
      if (made % parallelOnceIn === 1)
        this.welcome(this.parallel(made === 1 ? key : noisy(key, this.chance), people), left)
      else {
        drawnList(model, key, this.chance, list)
        this.welcome(left.pass(list, model.earliest, people), left)
      }
    }
  }

  /** From trial: grows with the root of the budget, and is smaller where each needs more generations. */
  private populationSize(): number {
    const { count } = this.model
    const mostUseful = Math.min(200, Math.max(10, 6_000 / Math.max(1, count)))
    const factor = count >= fewActivities ? 0.6 : this.hasWindows ? 0.7 : 0.9
    return Math.max(4, Math.round(Math.min(mostUseful, Math.sqrt(this.budget.most) * factor)))
  }

  private parallel(key: Float64Array, people: Int32Array): Member {
    const starts = new Int32Array(this.model.count)
    parallelPass(this.model, this.left.board, key, this.model.earliest, starts, people)
    return this.left.memberOf(starts, byStart(this.model, starts), people)
  }

  private welcome(member: Member, side: Side): void {
    this.keep(member.starts, member.lateness, member.span)
    side.members.push(member)
  }

  /** One child of every member, on the other side. */
  private breed(from: Side, to: Side, forward: boolean): void {
    const parents = from.members
    const previous = to.members
    const children: Member[] = []
    for (let at = 0; at < parents.length; at++) {
      const father = parents[at]
      const mother = this.mateFor(parents, at)
      if (!father || !mother || this.isDone() || !this.budget.take()) break
      this.cross(father, mother)
      moveSome(to.model, this.chance, this.list, fewestMoves + Math.round(mostMoves * this.sameness))
      const old = previous[at]
      const child = to.passAgainst(
        old,
        this.budget,
        this.list,
        forward ? this.delayed(father) : this.releaseFrom(father),
        this.crewsLike(father),
      )
      if (forward && child) this.keep(child.starts, child.lateness, child.span)
      if (old) this.sameness += (Number(child !== null && isSame(old, child)) - this.sameness) * forgetting
      // A line of descent never gets worse on its side, which keeps many good ones apart.
      const heir = old && (!child || isBetter(old, child)) ? old : child
      if (heir) children.push(heir)
    }
    for (let at = children.length; at < parents.length && at < previous.length; at++) {
      const old = previous[at]
      if (old) children.push(old)
    }
    to.members = children
  }

  /** Short lists do better when some children have one parent only, long ones when some keep another stretch. */
  private cross(father: Member, mother: Member): void {
    const { list, crossover } = this
    const drawn = this.chance.share()
    if (this.model.count < fewActivities && drawn < 0.25) list.set(father.order)
    else if (this.model.count >= fewActivities && drawn < 0.3) crossover.anywhere(father, mother, list)
    else crossover.peak(father, mother, list)
  }

  /** The better of two drawn ones. */
  private mateFor(parents: Member[], self: number): Member | undefined {
    const draw = () => {
      const at = this.chance.below(Math.max(1, parents.length - 1))
      return parents[at >= self && parents.length > 1 ? at + 1 : at]
    }
    const one = draw()
    const other = draw()
    return one && other && isBetter(other, one) ? other : one
  }

  /** To the right no further than the whole, nor beyond what is due unless the schedule it comes from was. */
  private releaseFrom({ starts }: Member): Int32Array {
    const { model, release, rightEnd } = this
    if (!model.hasDue) return release
    for (let one = 0; one < model.count; one++) {
      const end = (starts[one] ?? 0) + (model.duration[one] ?? 0)
      const due = model.due[one] ?? never
      release[one] = due >= never ? 0 : Math.max(0, rightEnd - Math.max(due, end))
    }
    return release
  }

  /** Mostly whom the father asked first; now and then two of them change places. */
  private crewsLike({ people }: Member): Int32Array {
    if (people.length < 2 || this.chance.share() < 0.7) return people
    return swapped(people, this.chance.below(people.length), this.chance.below(people.length))
  }

  private shuffled(people: Int32Array): Int32Array {
    let order = people
    for (let at = people.length - 1; at > 0; at--) order = swapped(order, at, this.chance.below(at + 1))
    return order
  }

  /**
   * No best schedule is missed by starting everything as early as it can, unless there are several phases or people:
   * then one activity is now and then held back, at most to where the right side had it.
   */
  private delayed({ starts }: Member): Int32Array {
    const { model, chance } = this
    if (!this.gainsByWaiting || chance.share() < 0.7) return model.earliest
    const one = chance.below(model.count)
    const latest = this.rightEnd - (starts[one] ?? 0) - (model.duration[one] ?? 0)
    const room = latest - (model.earliest[one] ?? 0)
    if (room <= 0) return model.earliest
    const release = model.earliest.slice()
    release[one] = (release[one] ?? 0) + 1 + chance.below(room)
    return release
  }

  private keep(starts: Int32Array, lateness: number, span: number): void {
    if (this.best && !isBetter({ lateness, span }, this.best)) return
    const { board } = this.left
    this.best = {
      starts: starts.slice(),
      crews: Array.from(starts, (_, activity) => board.crew(activity).map((crew) => crew.slice())),
      lateness,
      span,
    }
    if (span < never) this.endAt(span)
  }

  /** Windows and what is due lie differently from a new end, so there the right side begins anew. */
  private endAt(end: number): void {
    this.rightEnd = end
    if (this.dependsOnEnd) this.right = this.sideFor(mirrorOf(this.model, end))
  }
}

/** A key with up to a fifth of its range on top, drawn for each. */
function noisy(key: Float64Array, chance: Chance): Float64Array {
  const range = key.reduce((most, value) => Math.max(most, value), 0)
  return key.map((value) => value + chance.share() * 0.2 * range)
}

function isSame(one: Member, other: Member): boolean {
  return one.span === other.span && one.starts.every((start, activity) => start === other.starts[activity])
}

function swapped(people: Int32Array, one: number, other: number): Int32Array {
  const order = people.slice()
  order[one] = people[other] ?? 0
  order[other] = people[one] ?? 0
  return order
}
