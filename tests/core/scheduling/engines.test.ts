import { describe, expect, test } from 'vitest'
import { Budget } from '../../../src/core/scheduling/budget.ts'
import { Crossover } from '../../../src/core/scheduling/crossover.ts'
import { crewFor } from '../../../src/core/scheduling/match.ts'
import { MinuteBoard } from '../../../src/core/scheduling/minute-board.ts'
import { mirrorOf } from '../../../src/core/scheduling/mirror.ts'
import { type Model, modelOf } from '../../../src/core/scheduling/model.ts'
import { moveSome } from '../../../src/core/scheduling/mutation.ts'
import { isBetter, oppositeOrder, parallelPass, serialPass, worthOf } from '../../../src/core/scheduling/passes.ts'
import { chanceFrom } from '../../../src/core/scheduling/random.ts'
import { drawnList, latestEnds } from '../../../src/core/scheduling/sampling.ts'
import { Side } from '../../../src/core/scheduling/side.ts'
import { StepBoard } from '../../../src/core/scheduling/step-board.ts'
import { madeProblem } from '../../benchmarks/scheduling-made.ts'

const kinds = [
  { activities: 30, complexity: 1.5, factor: 0.25, strength: 0.5 },
  { activities: 30, complexity: 1.8, factor: 1, strength: 0.2 },
  { activities: 60, complexity: 2.1, factor: 0.75, strength: 0 },
  { activities: 60, complexity: 1.5, factor: 0.5, strength: 1 },
]

/** Classical problems with lags and earliest starts, also with capacities that need two words in the minute board. */
function models(): Model[] {
  return kinds.flatMap((kind, index) =>
    [1, 2, 3].map((seed) => {
      const problem = madeProblem(kind, seed)
      const chance = chanceFrom(seed + index)
      return modelOf({
        resources: problem.resources.map((resource) => ({
          ...resource,
          capacity: resource.capacity * (seed === 3 ? 1000 : 1),
        })),
        activities: problem.activities.map((activity) => ({
          ...activity,
          phases: activity.phases.map(({ minutes, resources = {} }) => ({
            minutes: chance.share() < 0.1 ? 0 : minutes,
            resources: Object.fromEntries(
              Object.entries(resources).map(([id, units]) => [
                id,
                seed === 3 ? units * 1000 - chance.below(2) * Math.min(units, 1) : units,
              ]),
            ),
          })),
          after: (activity.after ?? []).map(({ id }) => ({ id, lag: chance.share() < 0.3 ? chance.below(6) : 0 })),
          earliest: chance.share() < 0.2 ? chance.below(20) : 0,
        })),
      })
    }),
  )
}

describe('the two boards', () => {
  test('give the same starts for the same lists, forwards, backwards and in parallel generation', () => {
    for (const model of models()) {
      const boards = [new MinuteBoard(model), new StepBoard(model)] as const
      const chance = chanceFrom(11)
      const keys = latestEnds(model)
      const list = new Int32Array(model.count)
      for (let draw = 0; draw < 20; draw++) {
        drawnList(model, keys.span, chance, list)
        const [one, other] = boards.map((board) => {
          const starts = new Int32Array(model.count)
          serialPass(model, board, list, model.earliest, starts)
          return starts
        })
        expect(one).toEqual(other)
      }
      const [one, other] = boards.map((board) => {
        const starts = new Int32Array(model.count)
        parallelPass(model, board, keys.span, model.earliest, starts)
        return starts
      })
      expect(one).toEqual(other)
    }
  })
})

describe('justification', () => {
  test('to the right and to the left again never ends later', () => {
    for (const model of models()) {
      const board = new MinuteBoard(model)
      const chance = chanceFrom(5)
      const list = new Int32Array(model.count)
      const opposite = new Int32Array(model.count)
      const starts = new Int32Array(model.count)
      const turned = new Int32Array(model.count)
      for (let draw = 0; draw < 20; draw++) {
        drawnList(model, latestEnds(model).span, chance, list)
        serialPass(model, board, list, model.earliest, starts)
        const before = worthOf(model, starts).span
        const mirror = mirrorOf(model, before)
        oppositeOrder(model, starts, list, opposite)
        serialPass(mirror, new MinuteBoard(mirror), opposite, mirror.earliest, turned)
        expect(worthOf(mirror, turned).span).toBeLessThanOrEqual(before)
        oppositeOrder(mirror, turned, opposite, list)
        serialPass(model, board, list, model.earliest, starts)
        expect(worthOf(model, starts).span).toBeLessThanOrEqual(before)
      }
    }
  })
})

describe('parallel generation', () => {
  test('starts whatever is ready and fits, by key', () => {
    // Two burners. By key b, c, a: b and c start at 0, a (both burners) when they are done.
    const model = modelOf({
      resources: [{ id: 'burner', capacity: 2 }],
      activities: [
        { id: 'a', phases: [{ minutes: 3, resources: { burner: 2 } }] },
        { id: 'b', phases: [{ minutes: 2, resources: { burner: 1 } }] },
        { id: 'c', phases: [{ minutes: 4, resources: { burner: 1 } }] },
      ],
    })
    const starts = new Int32Array(3)
    parallelPass(model, new StepBoard(model), [2, 0, 1], model.earliest, starts)
    expect([...starts]).toEqual([4, 0, 0])
    parallelPass(model, new StepBoard(model), [0, 1, 2], model.earliest, starts)
    expect([...starts]).toEqual([0, 3, 3])
  })
})

describe('a pass that is given up', () => {
  test('would have ended worse than what it was held against, and counts in part; any other is the same and no worse', () => {
    let givenUp = 0
    for (const own of [...models(), ...models().map(withDue)]) {
      const chance = chanceFrom(9)
      const side = new Side(own)
      const list = new Int32Array(own.count)
      const drawn = () => {
        drawnList(own, latestEnds(own).span, chance, list)
        return side.pass(list, own.earliest, own.people)
      }
      for (let draw = 0; draw < 20; draw++) {
        const old = drawn()
        const whole = drawn()
        const budget = new Budget(5, () => false)
        budget.take()
        const within = side.passAgainst(old, budget, list, own.earliest, own.people)
        expect(budget.spent).toBeGreaterThan(0)
        if (within) {
          expect(within).toEqual(whole)
          expect(within.lateness).toBeLessThanOrEqual(old.lateness)
          expect(budget.spent).toBe(1)
          continue
        }
        givenUp++
        expect(isBetter(old, whole)).toBe(true)
        expect(budget.spent).toBeLessThanOrEqual(1)
      }
    }
    expect(givenUp).toBeGreaterThan(100)
  })
})

/** Every third activity due so soon that some are late. */
function withDue(model: Model): Model {
  return {
    ...model,
    hasDue: true,
    due: model.due.map((due, activity) => (activity % 3 === 0 ? 20 + activity : due)),
  }
}

describe('lists that are bred', () => {
  test('hold every activity once, after all it waits for', () => {
    for (const model of models()) {
      const chance = chanceFrom(3)
      const left = new Side(model)
      const right = mirrorOf(model, 0)
      const crossover = new Crossover(model, chance)
      const list = new Int32Array(model.count)
      const members = Array.from({ length: 6 }, () => {
        drawnList(model, latestEnds(model).span, chance, list)
        return left.pass(list, model.earliest, model.people)
      })
      for (const father of members)
        for (const mother of members) {
          crossover.peak(father, mother, list)
          expect(strays(right, list)).toEqual([])
          crossover.anywhere(father, mother, list)
          expect(strays(right, list)).toEqual([])
          moveSome(right, chance, list, 10)
          expect(strays(right, list)).toEqual([])
        }
    }
  })
})

describe('a crew', () => {
  const slots = [Int32Array.of(1, 2), Int32Array.of(1), Int32Array.of(2, 3)]

  test('gives way to whoever can do nothing else, and names the first asked where it may', () => {
    expect(crewFor(slots, Int32Array.of(1, 2, 3))).toEqual(Int32Array.of(2, 1, 3))
    expect(crewFor(slots.slice(0, 2), Int32Array.of(3, 2, 1))).toEqual(Int32Array.of(2, 1))
    expect(crewFor([Int32Array.of(1, 2, 3)], Int32Array.of(3, 1, 2))).toEqual(Int32Array.of(3))
  })

  test('is nobody if one is missing', () => {
    expect(crewFor(slots, Int32Array.of(2, 3))).toBeNull()
    expect(crewFor(slots, Int32Array.of(1, 2))).toBeNull()
  })
})

/** Activities that are missing, or stand before something they wait for. */
function strays(model: Model, list: Int32Array): number[] {
  const place = new Map(Array.from(list, (activity, at) => [activity, at]))
  return Array.from(model.before, (_, activity) => activity).filter((activity) => {
    const own = place.get(activity)
    return own === undefined || (model.before[activity] ?? []).some((other) => (place.get(other) ?? own) >= own)
  })
}
