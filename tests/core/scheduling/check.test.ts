import { describe, expect, it } from 'vitest'
import { checkSchedule, scheduleRules } from '../../../src/core/scheduling/check.ts'
import type { Schedule, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'
import { damages, good, kitchen } from './check-damages.ts'

/** The rules that break once a good schedule, or its problem, has been damaged. */
function broken(damage: (schedule: Schedule, problem: SchedulingProblem) => void): string[] {
  const problem = structuredClone(kitchen)
  const schedule = structuredClone(good)
  damage(schedule, problem)
  return [...new Set(checkSchedule(problem, schedule).map(({ rule }) => rule))].sort()
}

describe('checkSchedule', () => {
  it('accepts a schedule worked out by hand', () => {
    expect(checkSchedule(kitchen, good)).toEqual([])
  })

  it('accepts any order of the people, and a phase that ends where a window ends', () => {
    const schedule = structuredClone(good)
    schedule.people['jam'] = [['ada', 'ben'], ['cy'], []]
    schedule.people['beans'] = [['cy', 'ada']]
    schedule.start['beans'] = 260
    schedule.start['done'] = 300
    schedule.makespan = 300
    expect(checkSchedule(kitchen, schedule)).toEqual([])
  })

  it('finds a place for each, where who comes first must leave hers to another', () => {
    const problem: SchedulingProblem = {
      resources: [],
      people: [
        { id: 'ada', skills: ['cut', 'pressure'] },
        { id: 'ben', skills: ['cut'] },
      ],
      activities: [
        {
          id: 'can',
          phases: [
            {
              minutes: 5,
              people: [
                { skill: 'cut', count: 1 },
                { skill: 'pressure', count: 1 },
              ],
            },
          ],
        },
      ],
    }
    const schedule: Schedule = {
      start: { can: 0 },
      people: { can: [['ada', 'ben']] },
      makespan: 5,
      lowerBound: 5,
      lateness: 0,
      schedulesTried: 1,
    }
    expect(checkSchedule(problem, schedule)).toEqual([])
  })

  it('asks for nobody in a phase of no minutes', () => {
    const problem = structuredClone(kitchen)
    const done = problem.activities.at(-1)
    done?.phases.splice(0, 1, { minutes: 0, people: [{ skill: 'cut', count: 1 }], resources: { canner: 5 } })
    expect(checkSchedule(problem, good)).toEqual([])
  })

  it('accepts nothing to do', () => {
    const nothing = { start: {}, people: {}, makespan: 0, lowerBound: 0, lateness: 0, schedulesTried: 0 }
    expect(checkSchedule({ resources: [], activities: [] }, nothing)).toEqual([])
  })

  it.each(damages)('%s: %s', (rule, _, damage, ...others) => {
    expect(broken(damage)).toEqual([rule, ...others].sort())
  })

  it('has a damage for each rule', () => {
    expect(new Set(damages.map(([rule]) => rule))).toEqual(new Set(scheduleRules))
  })
})
