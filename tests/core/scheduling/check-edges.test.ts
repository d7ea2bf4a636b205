import { describe, expect, test } from 'vitest'
import { checkSchedule } from '../../../src/core/scheduling/check.ts'
import type { Schedule, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'
import { good, kitchen } from './check-damages.ts'

const rulesOf = (problem: SchedulingProblem, schedule: Schedule) =>
  checkSchedule(problem, schedule).map(({ rule }) => rule)

/** Two loads of ten minutes, by one person, in one canner that is there from minute 5 to 25. */
const loads: SchedulingProblem = {
  resources: [{ id: 'canner', capacity: 1, calendar: [{ from: 5, to: 25 }] }],
  people: [{ id: 'ada', skills: ['can'], calendar: [{ from: 5, to: 25 }] }],
  activities: ['first', 'second'].map((id) => ({
    id,
    phases: [{ minutes: 10, resources: { canner: 1 }, people: [{ skill: 'can', count: 1 }] }],
    earliest: 5,
    due: 20,
  })),
}

function startedAt(first: number, second: number): Schedule {
  const makespan = Math.max(first, second) + 10
  const lateness = Math.max(0, first - 10) + Math.max(0, second - 10)
  const people = { first: [['ada']], second: [['ada']] }
  return { start: { first, second }, people, makespan, lowerBound: makespan, lateness, schedulesTried: 0 }
}

describe('at the edge', () => {
  test('what just fits is no fault: the earliest minute, a window to its end, one right after the other', () => {
    expect(checkSchedule(loads, startedAt(5, 15))).toEqual([])
    expect(checkSchedule(loads, startedAt(15, 5))).toEqual([])
  })

  test('a minute too soon, too late, or too close is a fault of each rule that it breaks', () => {
    expect(new Set(rulesOf(loads, startedAt(4, 15)))).toEqual(new Set(['earliest', 'calendar', 'person-calendar']))
    expect(new Set(rulesOf(loads, startedAt(5, 16)))).toEqual(new Set(['calendar', 'person-calendar']))
    expect(new Set(rulesOf(loads, startedAt(5, 14)))).toEqual(new Set(['capacity', 'two-places']))
    // It overlaps only in part, with either of the two listed first.
    expect(new Set(rulesOf(loads, startedAt(14, 5)))).toEqual(new Set(['capacity', 'two-places']))
  })

  test.each<[string, Partial<Schedule>, string]>([
    ['a makespan longer than it is', { makespan: 241 }, 'makespan'],
    ['a bound below nothing', { lowerBound: -1 }, 'bound'],
    ['fewer passes than none', { schedulesTried: -1 }, 'tried'],
    ['lateness below what it is, by a hair', { lateness: 10 - 1e-6 }, 'lateness'],
    ['more lateness than there is', { lateness: 11 }, 'lateness'],
  ])('%s', (_, change, rule) => {
    expect(rulesOf(kitchen, { ...good, ...change })).toEqual([rule])
  })

  test('the bound may be as low as 0', () => {
    expect(checkSchedule(kitchen, { ...good, lowerBound: 0 })).toEqual([])
  })
})
