import type { Budget } from './budget.ts'
import type { Crossover } from './crossover.ts'
import type { Model } from './model.ts'
import { moveSome } from './mutation.ts'
import type { Chance } from './random.ts'
import { type Filling, Window } from './window.ts'

export type Joined = { starts: Int32Array; span: number }

// From trial on the classical set of 60 activities: two lines of descent do as well as ten, and leave more for other windows.
const lines = 2
const generations = 10
const moves = 3
const share = 1 / 3

/** A small search of the kind that `Search` is over windows, where a pass counts as its share of all activities. */
export class WindowSearch {
  private readonly window: Window
  private readonly models: [left: Model, right: Model]
  private readonly budget: Budget
  private readonly chance: Chance
  private readonly crossover: Crossover
  private readonly length: number

  constructor(model: Model, mirrored: Model, budget: Budget, chance: Chance, crossover: Crossover) {
    this.window = new Window(model, mirrored)
    this.models = [model, mirrored]
    this.budget = budget
    this.chance = chance
    this.crossover = crossover
    this.length = Math.round(model.count * share)
  }

  /**
   * Tries a third of the activities, anywhere in a schedule of makespan `span` given pushed to the left and pushed to
   * the right, in other orders. Gives a shorter whole as soon as there is one, or in the end another one as long; null
   * if there is neither.
   */
  run(leftStarts: Int32Array, rightStarts: Int32Array, span: number): Joined | null {
    const { window, chance, length } = this
    window.cut(leftStarts, rightStarts, chance.below(leftStarts.length - length + 1), length)
    const populations: [left: Filling[], right: Filling[]] = [[], []]
    let best: Joined | null = null
    const tried = (forward: boolean, list: Int32Array, old: Filling | undefined) => {
      const filling = this.pass(forward, list, old ? old.span : Number.POSITIVE_INFINITY)
      if (filling && filling.span <= (best ? best.span - 1 : span))
        best = { starts: window.joined(forward, filling.span), span: filling.span }
      return filling
    }
    const done = () => best !== null && best.span < span
    for (let line = 0; line < lines; line++) {
      if (done() || !this.take()) return best
      const list = window.middle.slice()
      moveSome(this.models[0], chance, list, moves)
      const filling = tried(true, list, undefined)
      if (filling) populations[0].push(filling)
    }
    for (let generation = 0; generation < generations; generation++) {
      const forward = generation % 2 === 1
      const [from, to] = forward ? [populations[1], populations[0]] : populations
      for (let line = 0; line < lines; line++) {
        if (done() || !this.take()) return best
        const child = tried(forward, this.bred(from, line, this.models[forward ? 0 : 1]), to[line])
        if (child) to[line] = child
      }
    }
    return best
  }

  private take(): boolean {
    return this.budget.take(this.length / this.models[0].count)
  }

  private pass(forward: boolean, list: Int32Array, limit: number): Filling | null {
    const { filling, placed } = this.window.pass(forward, list, limit)
    this.budget.giveBack((this.length - placed) / this.models[0].count)
    return filling
  }

  private bred(parents: Filling[], line: number, model: Model): Int32Array {
    const list = new Int32Array(this.length)
    const mother = parents[this.chance.below(parents.length)]
    const father = parents[line]
    if (father && mother) this.crossover.anywhere(father, mother, list)
    moveSome(model, this.chance, list, moves)
    return list
  }
}
