import { describe, expect, test } from 'vitest'
import { type Activity, type SchedulingProblem, solveSchedule } from '../../../src/core/scheduling/index.ts'

const resources = [
  { id: 'canner', capacity: 1 },
  { id: 'oven', capacity: 2, calendar: [{ from: 60, to: 120 }] },
]
const people = [{ id: 'Ana', skills: ['cut'], calendar: [{ from: 0, to: 100 }] }]
const withActivities = (...activities: Activity[]): SchedulingProblem => ({ resources, people, activities })
const task = (id: string, rest: Partial<Activity> = {}): Activity => ({ id, phases: [{ minutes: 10 }], ...rest })

describe('what cannot be meant is refused with its place', () => {
  const cases: [string, SchedulingProblem, RegExp][] = [
    ['an unknown predecessor', withActivities(task('jam', { after: [{ id: 'pulp' }] })), /"jam".*"pulp"/],
    [
      'an unknown resource',
      withActivities(task('jam', { phases: [{ minutes: 1, resources: { pot: 1 } }] })),
      /"jam", phase 1.*"pot"/,
    ],
    [
      'a circle',
      withActivities(task('a', { after: [{ id: 'b' }] }), task('b', { after: [{ id: 'a' }] })),
      /"a" waits in a circle/,
    ],
    ['itself', withActivities(task('a', { after: [{ id: 'a' }] })), /circle/],
    ['the same name twice', withActivities(task('a'), task('a')), /"a" is there twice/],
    [
      'negative minutes',
      withActivities(task('jam', { phases: [{ minutes: 5 }, { minutes: -1 }] })),
      /"jam", phase 2: minutes -1/,
    ],
    ['half a minute', withActivities(task('jam', { phases: [{ minutes: 0.5 }] })), /minutes 0.5/],
    [
      'a negative lag',
      withActivities(task('a'), task('b', { after: [{ id: 'a', lag: -5 }] })),
      /"b": lag after "a" -5/,
    ],
    [
      'more units than there are',
      withActivities(task('jam', { phases: [{ minutes: 1, resources: { canner: 2 } }] })),
      /needs 2 of "canner", there are 1/,
    ],
    [
      'a skill that nobody has',
      withActivities(task('jam', { phases: [{ minutes: 1, people: [{ skill: 'weld', count: 1 }] }] })),
      /"jam", phase 1: nobody has the skill "weld"/,
    ],
    [
      'more people than have it',
      withActivities(task('jam', { phases: [{ minutes: 1, people: [{ skill: 'cut', count: 2 }] }] })),
      /needs 2 people for "cut", 1/,
    ],
    [
      'one person for two places',
      withActivities(
        task('jam', {
          phases: [
            {
              minutes: 1,
              people: [
                { skill: 'cut', count: 1 },
                { skill: 'cut', count: 1 },
              ],
            },
          ],
        }),
      ),
      /needs 2 people/,
    ],
    [
      'a window too short for a machine',
      withActivities(task('dry', { phases: [{ minutes: 61, resources: { oven: 1 } }] })),
      /"dry", phase 1: "oven" has no window that is 61/,
    ],
    [
      'a window too short for people',
      withActivities(task('cut', { phases: [{ minutes: 101, people: [{ skill: 'cut', count: 1 }] }] })),
      /"cut", phase 1: no window of its people is 101/,
    ],
    ['a weight below nothing', withActivities(task('a', { due: 5, weight: -1 })), /"a": weight -1/],
    [
      'windows out of order',
      {
        resources: [
          {
            id: 'r',
            capacity: 1,
            calendar: [
              { from: 5, to: 9 },
              { from: 8, to: 12 },
            ],
          },
        ],
        activities: [],
      },
      /"r": window 2/,
    ],
    [
      'hours that are too few for all',
      withActivities(
        ...['a', 'b', 'c'].map((id) => task(id, { phases: [{ minutes: 40, people: [{ skill: 'cut', count: 1 }] }] })),
      ),
      /calendars/,
    ],
  ]
  test.each(cases)('%s', (_, problem, message) => {
    expect(() => solveSchedule(problem)).toThrow(RangeError)
    expect(() => solveSchedule(problem)).toThrow(message)
  })

  test('a budget of nothing', () => {
    expect(() => solveSchedule(withActivities(task('a')), { maxSchedules: 0 })).toThrow(RangeError)
  })

  test('nothing to do is no mistake', () => {
    expect(solveSchedule({ resources: [], activities: [] })).toMatchObject({ start: {}, makespan: 0, lateness: 0 })
  })
})
