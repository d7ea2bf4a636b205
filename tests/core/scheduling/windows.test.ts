import { describe, expect, test, vi } from 'vitest'
import { Budget } from '../../../src/core/scheduling/budget.ts'
import { Crossover } from '../../../src/core/scheduling/crossover.ts'
import { checkSchedule, type SchedulingProblem, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { MinuteBoard } from '../../../src/core/scheduling/minute-board.ts'
import { mirrorOf } from '../../../src/core/scheduling/mirror.ts'
import { type Model, modelOf } from '../../../src/core/scheduling/model.ts'
import { moveSome } from '../../../src/core/scheduling/mutation.ts'
import { chanceFrom } from '../../../src/core/scheduling/random.ts'
import { type Member, Side } from '../../../src/core/scheduling/side.ts'
import { Window } from '../../../src/core/scheduling/window.ts'
import { WindowSearch } from '../../../src/core/scheduling/window-search.ts'
import { madeProblem } from '../../benchmarks/scheduling-made.ts'

const cases = Array.from({ length: 24 }, (_, at) => ({
  seed: at + 1,
  problem: withLags(
    madeProblem(
      { activities: 20 + at, complexity: 1.5 + 0.3 * (at % 3), factor: 0.5 + 0.25 * (at % 3), strength: 0.2 },
      at,
    ),
  ),
}))

/** Some of what waits waits longer. */
function withLags(problem: SchedulingProblem): SchedulingProblem {
  return {
    ...problem,
    activities: problem.activities.map((activity, at) => ({
      ...activity,
      after: (activity.after ?? []).map(({ id }) => ({ id, lag: at % 4 === 0 ? 3 : 0 })),
    })),
  }
}

/** A schedule pushed to the left and one pushed to the right. */
function justified(model: Model): { left: Side; right: Side; early: Member; late: Member } {
  const left = new Side(model)
  const right = new Side(mirrorOf(model, 0))
  const first = left.pass(model.topological, model.earliest, model.people)
  const late = right.pass(first.order, right.model.earliest, model.people)
  return { left, right, early: left.pass(late.order, model.earliest, model.people), late }
}

function faultsOf(problem: SchedulingProblem, starts: Int32Array, makespan: number) {
  const start = Object.fromEntries(problem.activities.map(({ id }, at) => [id, starts[at] ?? 0]))
  const people = Object.fromEntries(problem.activities.map(({ id }) => [id, [[]]]))
  return checkSchedule(problem, { start, people, makespan, lowerBound: 0, lateness: 0, schedulesTried: 1 })
}

function respects(model: Model, order: Int32Array): boolean {
  const place = new Map(Array.from(order, (one, at) => [one, at]))
  return (
    place.size === model.count &&
    model.before.every((list, one) => list.every((other) => (place.get(other) ?? 0) < (place.get(one) ?? 0)))
  )
}

// Seconds when the machine is free; it need not be.
const patience = { timeout: 120_000 }

describe('a window of a schedule', patience, () => {
  test('joined again is a schedule of the makespan that the pass said, in either direction', () => {
    let shorter = 0
    for (const { seed, problem } of cases) {
      const model = modelOf(problem)
      const { right, early, late } = justified(model)
      const chance = chanceFrom(seed)
      const window = new Window(model, right.model)
      for (let turn = 0; turn < 20; turn++) {
        const length = 2 + chance.below(model.count - 2)
        window.cut(early.starts, late.starts, chance.below(model.count - length + 1), length)
        expect(window.middle.length).toBe(length)
        let list: Int32Array = window.middle.slice()
        for (const forward of [true, false, true]) {
          const { filling, placed } = window.pass(forward, list, Number.POSITIVE_INFINITY)
          expect(placed).toBe(length)
          if (!filling) throw new Error('a pass without a limit gave up')
          const starts = window.joined(forward, filling.span)
          const end = Math.max(...starts.map((start, one) => start + (model.duration[one] ?? 0)))
          expect(end, `seed ${seed}`).toBeLessThanOrEqual(filling.span)
          expect(faultsOf(problem, starts, end), `seed ${seed}`).toEqual([])
          if (end < early.span) shorter++
          list = filling.order
          moveSome(forward ? right.model : model, chance, list, 2)
        }
      }
    }
    expect(shorter).toBeGreaterThan(20)
  })

  test('gives up exactly what would be longer than the limit', () => {
    for (const { problem } of cases) {
      const model = modelOf(problem)
      const { right, early, late } = justified(model)
      const window = new Window(model, right.model)
      window.cut(early.starts, late.starts, model.count >> 2, model.count >> 1)
      const span = window.pass(true, window.middle, Number.POSITIVE_INFINITY).filling?.span ?? 0
      expect(window.pass(true, window.middle, span).filling?.span).toBe(span)
      expect(window.pass(true, window.middle, span - 1).filling).toBeNull()
    }
  })
})

describe('schedules are counted by the starts that are worked out', patience, () => {
  test('in windows', () => {
    const asked = vi.spyOn(MinuteBoard.prototype, 'earliest')
    for (const { seed, problem } of cases) {
      const model = modelOf(problem)
      const { right, early, late } = justified(model)
      const budget = new Budget(30, () => false)
      const chance = chanceFrom(seed)
      const search = new WindowSearch(model, right.model, budget, chance, new Crossover(model, chance))
      asked.mockClear()
      const joined = search.run(early.starts, late.starts, early.span)
      expect(asked.mock.calls.length, `seed ${seed}`).toBeCloseTo(budget.spent * model.count, 6)
      expect(budget.spent).toBeGreaterThan(0)
      if (joined) expect(joined.span).toBeLessThanOrEqual(early.span)
    }
    asked.mockRestore()
  })

  test('in repairs, which leave the list in order and the board as a pass of that list does', () => {
    const asked = vi.spyOn(MinuteBoard.prototype, 'earliest')
    let repaired = 0
    for (const { seed, problem } of cases) {
      const model = modelOf(problem)
      const { early } = justified(model)
      const chance = chanceFrom(seed)
      const side = new Side(model, chance)
      for (let turn = 0; turn < 20; turn++) {
        const budget = new Budget(2, () => false)
        budget.take()
        const list = model.topological.slice()
        moveSome(model, chance, list, 10)
        const given = list.slice()
        asked.mockClear()
        const child = side.passAgainst(early, budget, list, model.earliest, model.people)
        expect(asked.mock.calls.length, `seed ${seed}`).toBeCloseTo(budget.spent * model.count, 6)
        expect(budget.spent).toBeLessThanOrEqual(2)
        expect(respects(model, list), `seed ${seed}`).toBe(true)
        if (!child) continue
        expect(child.span).toBeLessThanOrEqual(early.span)
        expect(child.starts).toEqual(new Side(model).pass(list, model.earliest, model.people).starts)
        if (list.some((one, at) => one !== given[at])) repaired++
      }
    }
    asked.mockRestore()
    expect(repaired).toBeGreaterThan(20)
  })

  test('and never more than may be tried', () => {
    for (const { seed, problem } of cases)
      for (const maxSchedules of [1, 7, 60]) {
        const answer = solveSchedule(problem, { seed, maxSchedules })
        expect(checkSchedule(problem, answer), `seed ${seed}`).toEqual([])
        expect(answer.schedulesTried).toBeLessThanOrEqual(maxSchedules)
        expect(solveSchedule(problem, { seed, maxSchedules })).toEqual(answer)
      }
  })
})
