import { describe, expect, test } from 'vitest'
import { checkSchedule, type SchedulingProblem, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { madeProblem } from '../../benchmarks/scheduling-made.ts'
import { shortestMakespan } from './bounds-brute-force.ts'
import { randomKitchen, tinyProblem } from './random-problems.ts'

describe('problems drawn at random', () => {
  test('tiny ones: the makespan is the shortest there is, and where there is none it is refused', () => {
    let solvedOnes = 0
    for (let seed = 1; seed <= 150; seed++) {
      // What is due comes before the makespan, so it would not be comparable.
      const problem = withoutDue(tinyProblem(seed))
      const shortest = shortestMakespan(problem, 70)
      if (shortest === null) {
        expect(() => solveSchedule(problem, { maxSchedules: 3_000 }), `seed ${seed}`).toThrow(RangeError)
        continue
      }
      const answer = solveSchedule(problem, { maxSchedules: 3_000 })
      expect(checkSchedule(problem, answer), `seed ${seed}`).toEqual([])
      expect(answer.makespan, `seed ${seed}`).toBe(shortest)
      solvedOnes++
    }
    expect(solvedOnes).toBeGreaterThan(100)
  }, 60_000)

  test('kitchens over days: the checker finds nothing', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const problem = randomKitchen(seed, 5 + (seed % 4) * 8)
      const answer = solveSchedule(problem, { maxSchedules: 100, seed })
      expect(checkSchedule(problem, answer), `seed ${seed}`).toEqual([])
      expect(answer.schedulesTried).toBeLessThanOrEqual(100)
    }
  }, 60_000)

  test('classical ones: the checker finds nothing, and the bound is held', () => {
    for (const factor of [0.25, 0.5, 1])
      for (const strength of [0, 0.2, 0.7]) {
        const problem = madeProblem({ activities: 30, complexity: 1.8, factor, strength }, 1)
        const answer = solveSchedule(problem, { maxSchedules: 300 })
        expect(checkSchedule(problem, answer)).toEqual([])
      }
  })
})

describe('the same again', () => {
  const kitchen = randomKitchen(7, 20)

  test('for the same seed and budget', () => {
    expect(solveSchedule(kitchen, { seed: 3, maxSchedules: 400 })).toEqual(
      solveSchedule(kitchen, { seed: 3, maxSchedules: 400 }),
    )
  })

  test('a time limit that does not cut changes nothing; one that does still gives a schedule', () => {
    const free = solveSchedule(kitchen, { seed: 3, maxSchedules: 50 })
    expect(solveSchedule(kitchen, { seed: 3, maxSchedules: 50, timeLimitMs: 600_000 })).toEqual(free)
    const cut = solveSchedule(kitchen, { maxSchedules: 1e9, timeLimitMs: 50 })
    expect(checkSchedule(kitchen, cut)).toEqual([])
  })

  test('a stop is heard', () => {
    const answer = solveSchedule(hardProblem(), { maxSchedules: 1e9, stop: () => true })
    expect(answer.schedulesTried).toBeLessThanOrEqual(4)
  })
})

describe('more than before', () => {
  test('people, units or hours never make the answer worse than the schedule it begins with', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = randomKitchen(seed, 16)
      const old = solveSchedule(problem, { maxSchedules: 200 })
      const richer: SchedulingProblem = {
        ...problem,
        resources: problem.resources.map((resource) => ({ ...resource, capacity: resource.capacity + 1 })),
        people: [...(problem.people ?? []), { id: 'one more', skills: ['cut', 'stove', 'pressure', 'carry'] }],
      }
      const answer = solveSchedule(richer, { maxSchedules: 5, from: old })
      expect(checkSchedule(richer, answer)).toEqual([])
      expect(answer.lateness).toBeLessThanOrEqual(old.lateness)
      if (answer.lateness === old.lateness) expect(answer.makespan).toBeLessThanOrEqual(old.makespan)
    }
  })

  test('a schedule that no longer holds is only a hint', () => {
    const problem = randomKitchen(4, 16)
    const old = solveSchedule(problem, { maxSchedules: 200 })
    const wrong = { ...old, start: Object.fromEntries(Object.keys(old.start).map((id) => [id, 0])), makespan: 0 }
    const answer = solveSchedule(problem, { maxSchedules: 20, from: wrong })
    expect(checkSchedule(problem, answer)).toEqual([])
  })
})

const hardProblem = () => madeProblem({ activities: 60, complexity: 1.5, factor: 1, strength: 0.2 }, 5)

function withoutDue(problem: SchedulingProblem): SchedulingProblem {
  return { ...problem, activities: problem.activities.map(({ due: _due, weight: _weight, ...rest }) => rest) }
}
