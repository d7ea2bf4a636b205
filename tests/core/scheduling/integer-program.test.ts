import { describe, expect, test } from 'vitest'
import {
  type Activity,
  checkSchedule,
  lowerBound,
  type SchedulingProblem,
  solveSchedule,
} from '../../../src/core/scheduling/index.ts'
import { leastMakespan } from './integer-program.ts'
import { diceFrom } from './random-problems.ts'

/** Six to eight activities of one phase on two resources, after each other by chance: a project of the classical kind. */
function project(seed: number): SchedulingProblem {
  const dice = diceFrom(seed)
  const resources = ['burner', 'hands'].map((id) => ({ id, capacity: dice.whole(3, 4) }))
  const activities = Array.from({ length: dice.whole(6, 8) }, (_, index): Activity => {
    const units = resources.map(({ id }): [string, number] => [id, dice.yes(0.8) ? dice.whole(1, 3) : 0])
    const earlier = Array.from({ length: index }, (_, other) => other).filter(() => dice.yes(0.2))
    return {
      id: `task-${index}`,
      phases: [{ minutes: dice.whole(1, 4), resources: Object.fromEntries(units) }],
      after: earlier.map((other) => ({ id: `task-${other}` })),
    }
  })
  return { resources, activities }
}

/** The same with waits, two phases that run back to back, earliest starts and a resource that is shut for a while. */
function harder(seed: number): SchedulingProblem {
  const dice = diceFrom(seed)
  const { resources, activities } = project(seed)
  const shut = dice.whole(4, 8)
  return {
    resources: resources.map((one, index) =>
      index === 0 && dice.yes(0.6)
        ? {
            ...one,
            calendar: [
              { from: 0, to: shut },
              { from: shut + dice.whole(1, 4), to: 200 },
            ],
          }
        : one,
    ),
    activities: activities.map((activity) => ({
      ...activity,
      phases: dice.yes(0.4)
        ? [...activity.phases, { minutes: dice.whole(1, 3), resources: { hands: dice.whole(1, 2) } }]
        : activity.phases,
      after: (activity.after ?? []).map(({ id }) => ({ id, lag: dice.yes(0.5) ? dice.whole(1, 4) : 0 })),
      ...(dice.yes(0.2) ? { earliest: dice.whole(1, 6) } : {}),
    })),
  }
}

const patience = { timeout: 120_000 }

describe('against an integer program and GLPK', patience, () => {
  test.each([
    ['projects of the classical kind', project, 40],
    ['with waits, phases back to back, earliest starts and a shut resource', harder, 20],
  ] as const)('%s: the makespan is the least there is', async (_, made, many) => {
    let scarce = 0
    for (let seed = 1; seed <= many; seed++) {
      const problem = made(seed)
      const answer = solveSchedule(problem, { seed, maxSchedules: 2_000 })
      expect(checkSchedule(problem, answer), `seed ${seed}`).toEqual([])
      // Among all schedules that are as short or shorter; none, if the engine's were too short to be true.
      const least = await leastMakespan(problem, answer.makespan)
      expect(answer.makespan, `seed ${seed}`).toBe(least)
      expect(lowerBound(problem), `seed ${seed}`).toBeLessThanOrEqual(least ?? Number.NaN)
      const unlimited = { ...problem, resources: problem.resources.map(({ id }) => ({ id, capacity: 100 })) }
      if ((least ?? 0) > solveSchedule(unlimited, { seed, maxSchedules: 2_000 }).makespan) scarce++
    }
    // In most of them the resources are what makes it long, so that there is something to decide.
    expect(scarce).toBeGreaterThan(many * 0.7)
  })

  test('the program itself finds what can be seen on paper, and says when there is nothing', async () => {
    const load = (id: string, after: string[] = []): Activity => ({
      id,
      phases: [{ minutes: 3, resources: { canner: 1 } }],
      after: after.map((before) => ({ id: before, lag: 2 })),
    })
    // Three loads in one canner; and two of which the second waits for two minutes.
    const three = { resources: [{ id: 'canner', capacity: 1 }], activities: [load('a'), load('b'), load('c')] }
    expect(await leastMakespan(three, 20)).toBe(9)
    expect(await leastMakespan({ ...three, activities: [load('a'), load('b', ['a'])] }, 20)).toBe(8)
    expect(await leastMakespan(three, 8)).toBeNull()
  })
})
