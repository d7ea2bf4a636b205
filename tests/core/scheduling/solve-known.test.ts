import { describe, expect, test } from 'vitest'
import { checkSchedule, type SchedulingProblem, solveSchedule } from '../../../src/core/scheduling/index.ts'

/** Solves, holds the answer against the checker, and gives it back. */
function solved(problem: SchedulingProblem, maxSchedules = 2_000) {
  const answer = solveSchedule(problem, { maxSchedules })
  expect(checkSchedule(problem, answer)).toEqual([])
  expect(answer.lowerBound).toBeLessThanOrEqual(answer.makespan)
  return answer
}

/** A job shop: each job visits machines one after the other for so many minutes. */
function jobShop(jobs: [machine: number, minutes: number][][]): SchedulingProblem {
  const machines = Math.max(...jobs.flat().map(([machine]) => machine)) + 1
  return {
    resources: Array.from({ length: machines }, (_, machine) => ({ id: `M${machine}`, capacity: 1 })),
    activities: jobs.flatMap((steps, job) =>
      steps.map(([machine, minutes], step) => ({
        id: `J${job}.${step}`,
        phases: [{ minutes, resources: { [`M${machine}`]: 1 } }],
        after: step > 0 ? [{ id: `J${job}.${step - 1}` }] : [],
      })),
    ),
  }
}

describe('examples whose optimum is published', () => {
  test('the job shop ft06 of Fisher and Thompson 1963 takes 55 (instance and optimum from memory)', () => {
    const answer = solved(
      jobShop([
        [
          [2, 1],
          [0, 3],
          [1, 6],
          [3, 7],
          [5, 3],
          [4, 6],
        ],
        [
          [1, 8],
          [2, 5],
          [4, 10],
          [5, 10],
          [0, 10],
          [3, 4],
        ],
        [
          [2, 5],
          [3, 4],
          [5, 8],
          [0, 9],
          [1, 1],
          [4, 7],
        ],
        [
          [1, 5],
          [0, 5],
          [2, 5],
          [3, 3],
          [4, 8],
          [5, 9],
        ],
        [
          [2, 9],
          [1, 3],
          [4, 5],
          [5, 4],
          [0, 3],
          [3, 1],
        ],
        [
          [1, 3],
          [3, 3],
          [5, 9],
          [0, 10],
          [4, 4],
          [2, 1],
        ],
      ]),
      20_000,
    )
    expect(answer.makespan).toBe(55)
  })

  test("Johnson's two-machine example of 1954 takes 28 (five jobs, from memory; the optimum by his rule)", () => {
    // Johnson's rule: jobs shorter on the first machine by that time ascending, the others by the second descending.
    const jobs: [number, number][] = [
      [3, 6],
      [7, 2],
      [4, 7],
      [5, 3],
      [7, 4],
    ]
    let first = 0
    let second = 0
    for (const [a, b] of johnson(jobs)) {
      first += a
      second = Math.max(first, second) + b
    }
    expect(second).toBe(28)
    expect(
      solved(
        jobShop(
          jobs.map(([a, b]) => [
            [0, a],
            [1, b],
          ]),
        ),
      ).makespan,
    ).toBe(28)
  })

  test("Graham's nine tasks on three machines take 12, and 12 again with a fourth (1969, from memory)", () => {
    // List scheduling gets worse with a fourth machine in his anomaly (15); the best does not.
    const times = [3, 2, 2, 2, 4, 4, 4, 4, 9]
    const before: Record<number, number[]> = { 4: [3], 5: [3], 6: [3], 7: [3], 8: [0] }
    const graham = (machines: number): SchedulingProblem => ({
      resources: [{ id: 'machine', capacity: machines }],
      activities: times.map((minutes, task) => ({
        id: `T${task + 1}`,
        phases: [{ minutes, resources: { machine: 1 } }],
        after: (before[task] ?? []).map((other) => ({ id: `T${other + 1}` })),
      })),
    })
    expect(solved(graham(3)).makespan).toBe(12)
    expect(solved(graham(4)).makespan).toBe(12)
  })
})

function johnson(jobs: [number, number][]): [number, number][] {
  const early = jobs.filter(([a, b]) => a < b).sort((one, other) => one[0] - other[0])
  const late = jobs.filter(([a, b]) => a >= b).sort((one, other) => other[1] - one[1])
  return [...early, ...late]
}

describe('a kitchen day, worked out on paper', () => {
  // Two canner loads of 90 minutes with one canner (each 30 in hand, 60 alone), packed before by someone who can pack
  // (40 each), peeled before that by anyone (60 each). Ana packs and peels, Ben peels. Hours 9:00 to 13:00 for both.
  // Both loads of work: the second load cannot enter the canner before the first leaves it. The earliest first load:
  // one is peeled by 60, Ana packs it until 100, it is in the canner from 100 to 190, the other from 190 to 280.
  // No load is packed before 60 + 40 = 100, and the canner then has 180 to run, so 280 is the best.
  const day: SchedulingProblem = {
    resources: [{ id: 'canner', capacity: 1 }],
    people: [
      { id: 'Ana', skills: ['peel', 'pack'], calendar: [{ from: 0, to: 240 }] },
      { id: 'Ben', skills: ['peel', 'watch'], calendar: [{ from: 0, to: 240 }] },
    ],
    activities: ['pears', 'plums'].flatMap((fruit) => [
      { id: `peel ${fruit}`, phases: [{ minutes: 60, people: [{ skill: 'peel', count: 1 }] }] },
      {
        id: `pack ${fruit}`,
        phases: [{ minutes: 40, people: [{ skill: 'pack', count: 1 }] }],
        after: [{ id: `peel ${fruit}` }],
      },
      {
        id: `can ${fruit}`,
        phases: [
          { minutes: 30, resources: { canner: 1 }, people: [{ skill: 'watch', count: 1 }] },
          { minutes: 60, resources: { canner: 1 } },
        ],
        after: [{ id: `pack ${fruit}` }],
      },
    ]),
  }

  test('ends after 280 minutes, the last hour with nobody there', () => {
    const answer = solved(day)
    expect(answer.makespan).toBe(280)
    expect(answer.lateness).toBe(0)
  })

  test('with jars that cool for an hour before they are wiped, the wiping waits for the next day', () => {
    const wiped: SchedulingProblem = {
      ...day,
      people: (day.people ?? []).map((person) => ({
        ...person,
        calendar: [
          { from: 0, to: 240 },
          { from: 1440, to: 1680 },
        ],
      })),
      activities: [
        ...day.activities,
        {
          id: 'wipe',
          phases: [{ minutes: 20, people: [{ skill: 'peel', count: 2 }] }],
          after: [
            { id: 'can pears', lag: 60 },
            { id: 'can plums', lag: 60 },
          ],
        },
      ],
    }
    // 280 + 60 lies after 240: both are there again from 1440.
    const answer = solved(wiped)
    expect(answer.makespan).toBe(1460)
    expect(answer.people['wipe']?.[0]?.toSorted()).toEqual(['Ana', 'Ben'])
  })

  test('what is due goes first, although the other is longer', () => {
    // One canner: 50 minutes due at 50, and 60 minutes, due at 60 with a tenth of the weight.
    const due: SchedulingProblem = {
      resources: [{ id: 'canner', capacity: 1 }],
      activities: [
        { id: 'long', phases: [{ minutes: 60, resources: { canner: 1 } }], due: 60, weight: 0.1 },
        { id: 'short', phases: [{ minutes: 50, resources: { canner: 1 } }], due: 50 },
      ],
    }
    // Short first: long ends at 110, 50 late, 5 weighted. Long first: short ends 60 late, 60 weighted.
    const answer = solved(due)
    expect(answer.lateness).toBeCloseTo(5, 9)
    expect(answer.start).toEqual({ short: 0, long: 50 })
  })

  test('a matching finds a crew where taking the first who can would not', () => {
    // Only Cleo can press, she and Dag can carry: whoever takes Cleo to carry has nobody to press.
    const crew: SchedulingProblem = {
      resources: [],
      people: [
        { id: 'Cleo', skills: ['carry', 'press'] },
        { id: 'Dag', skills: ['carry'] },
      ],
      activities: [
        {
          id: 'juice',
          phases: [
            {
              minutes: 15,
              people: [
                { skill: 'carry', count: 1 },
                { skill: 'press', count: 1 },
              ],
            },
          ],
        },
      ],
    }
    expect(solved(crew).people).toEqual({ juice: [expect.arrayContaining(['Cleo', 'Dag'])] })
  })
})
