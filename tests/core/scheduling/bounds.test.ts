import { describe, expect, it } from 'vitest'
import { lowerBound } from '../../../src/core/scheduling/bounds.ts'
import type { Activity, Person, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'
import { shortestMakespan } from './bounds-brute-force.ts'
import { randomKitchen, tinyProblem } from './random-problems.ts'

// Worked out by hand; each case says what makes its bound.
const one = (id: string, minutes: number, more: Partial<Activity> = {}, resources = {}): Activity => ({
  id,
  phases: [{ minutes, resources }],
  ...more,
})
const work = (id: string, minutes: number, people: Record<string, number>): Activity => ({
  id,
  phases: [{ minutes, people: Object.entries(people).map(([skill, count]) => ({ skill, count })) }],
})
const of = (activities: Activity[], canners = 1, people: Person[] = []): SchedulingProblem => ({
  resources: [{ id: 'canner', capacity: canners }],
  people,
  activities,
})
const canner = { canner: 1 }
const times = (count: number, make: (index: number) => Activity) => Array.from({ length: count }, (_, i) => make(i))

describe('lowerBound', () => {
  it('is 0 for nothing to do', () => {
    expect(lowerBound(of([]))).toBe(0)
  })

  it('is the critical path with its lags and earliest starts', () => {
    const chain = [
      one('soak', 20, { earliest: 5 }),
      one('cook', 30, { after: [{ id: 'soak', lag: 60 }] }),
      one('rest', 10, { after: [{ id: 'soak' }, { id: 'cook' }] }),
    ]
    expect(lowerBound(of(chain))).toBe(5 + 20 + 60 + 30 + 10)
  })

  it('takes activities in any order of the list', () => {
    expect(lowerBound(of([one('last', 10, { after: [{ id: 'first' }] }), one('first', 7)]))).toBe(17)
  })

  it('adds up what cannot run at one time', () => {
    expect(lowerBound(of(times(3, (i) => one(`batch-${i}`, 40, {}, canner))))).toBe(120)
  })

  it('spreads work over all there is', () => {
    // 5 x 30 canner minutes on two canners: 75 minutes, and whole batches make 90 of it; the work alone says 75.
    const bound = lowerBound(
      of(
        times(5, (i) => one(`batch-${i}`, 30, {}, canner)),
        2,
      ),
    )
    expect(bound).toBeGreaterThanOrEqual(75)
    expect(bound).toBeLessThanOrEqual(90)
  })

  it('sets the work between what must come before it and after it', () => {
    const kinds = times(3, (i) => one(`can-${i}`, 40, { after: [{ id: 'cut' }] }, canner))
    const label = one('label', 15, { after: kinds.map(({ id }) => ({ id })) })
    expect(lowerBound(of([one('cut', 25), ...kinds, label]))).toBe(25 + 3 * 40 + 15)
  })

  it('waits for a window that holds the whole phase', () => {
    const problem = of([one('can', 40, { earliest: 30 }, canner)])
    const closed = [
      { from: 0, to: 60 },
      { from: 100, to: 130 },
      { from: 200, to: 240 },
    ]
    problem.resources = [{ id: 'canner', capacity: 1, calendar: closed }]
    expect(lowerBound(problem)).toBe(240)
  })

  it('knows that phases run back to back, across calendars', () => {
    // Heat 20 within the stove's hours, then the canner for 30 within its own: 50 to 70, then 70 to 100.
    const problem: SchedulingProblem = {
      resources: [
        {
          id: 'stove',
          capacity: 1,
          calendar: [
            { from: 0, to: 45 },
            { from: 50, to: 90 },
          ],
        },
        { id: 'canner', capacity: 1, calendar: [{ from: 66, to: 200 }] },
      ],
      activities: [
        {
          id: 'jam',
          phases: [
            { minutes: 20, resources: { stove: 1 } },
            { minutes: 30, resources: { canner: 1 } },
          ],
        },
      ],
    }
    expect(lowerBound(problem)).toBe(100)
  })

  it('counts people once: two skills of one person are one pair of hands', () => {
    const ada = { id: 'ada', skills: ['cut', 'stove'] }
    expect(lowerBound(of([work('cut', 30, { cut: 1 }), work('stir', 40, { stove: 1 })], 1, [ada]))).toBe(70)
  })

  it('sees that three skills have but two people between them', () => {
    const people = [
      { id: 'ada', skills: ['cut', 'stove', 'carry'] },
      { id: 'ben', skills: ['cut', 'stove', 'carry'] },
    ]
    const jobs = ['cut', 'stove', 'carry'].map((skill) => work(skill, 40, { [skill]: 1 }))
    // Each skill alone has enough people for all its work at once; together 120 minutes for two are 60.
    expect(lowerBound(of(jobs, 1, people))).toBeGreaterThanOrEqual(60)
  })

  it('waits for the hours in which enough people are there together', () => {
    const people = [
      { id: 'ada', skills: ['cut'], calendar: [{ from: 0, to: 100 }] },
      { id: 'ben', skills: ['cut'], calendar: [{ from: 70, to: 300 }] },
      { id: 'cy', skills: ['cut'], calendar: [{ from: 120, to: 300 }] },
    ]
    expect(lowerBound(of([work('peel', 40, { cut: 2 })], 1, people))).toBe(160)
  })

  it('fits nothing into the night', () => {
    // Two batches of 50 in windows of 80: one today, one tomorrow.
    const problem = of(times(2, (i) => one(`batch-${i}`, 50, {}, canner)))
    problem.resources = [
      {
        id: 'canner',
        capacity: 1,
        calendar: [
          { from: 0, to: 80 },
          { from: 1000, to: 1080 },
        ],
      },
    ]
    expect(lowerBound(problem)).toBe(1050)
  })

  it('is Infinity where nothing can help', () => {
    expect(lowerBound(of([one('can', 10, {}, { canner: 2 })]))).toBe(Number.POSITIVE_INFINITY)
    expect(lowerBound(of([work('cut', 10, { cut: 1 })]))).toBe(Number.POSITIVE_INFINITY)
    const short = of([one('can', 50, {}, canner)])
    short.resources = [
      {
        id: 'canner',
        capacity: 1,
        calendar: [
          { from: 0, to: 40 },
          { from: 40, to: 80 },
        ],
      },
    ]
    expect(lowerBound(short)).toBe(Number.POSITIVE_INFINITY)
    const full = of(times(3, (i) => one(`batch-${i}`, 40, {}, canner)))
    full.resources = [{ id: 'canner', capacity: 1, calendar: [{ from: 0, to: 100 }] }]
    expect(lowerBound(full)).toBe(Number.POSITIVE_INFINITY)
  })

  it('refuses circles and names that lead nowhere', () => {
    const circle = [one('a', 1, { after: [{ id: 'b' }] }), one('b', 1, { after: [{ id: 'a' }] })]
    expect(() => lowerBound(of(circle))).toThrow(RangeError)
    expect(() => lowerBound(of([one('a', 1, { after: [{ id: 'z' }] })]))).toThrow(RangeError)
  })

  it('is the same number each time, in bounded time, for 120 activities', () => {
    const large = randomKitchen(7, 120)
    const before = structuredClone(large)
    const bound = lowerBound(large)
    expect(lowerBound(large)).toBe(bound)
    expect(large).toEqual(before)
  })
})

describe('lowerBound against all schedules of tiny problems', () => {
  const most = 22
  it('is never above the shortest, and most often is it', () => {
    let tried = 0
    let met = 0
    let metShaved = 0
    let without = 0
    for (let seed = 1; seed <= 400; seed++) {
      const problem = tinyProblem(seed)
      const shortest = shortestMakespan(problem, most)
      const bound = lowerBound(problem, { shavingSteps: 0 })
      if (shortest === null) {
        without++
        continue
      }
      expect(bound, `seed ${seed}`).toBeLessThanOrEqual(shortest)
      const shaved = lowerBound(problem, { shavingSteps: 1_000_000 })
      expect(shaved, `seed ${seed}, shaved`).toBeLessThanOrEqual(shortest)
      expect(shaved, `seed ${seed}, shaved`).toBeGreaterThanOrEqual(bound)
      if (shaved === shortest) metShaved++
      tried++
      if (bound === shortest) met++
    }
    expect(tried).toBeGreaterThan(350)
    expect(without).toBeGreaterThan(5)
    // Common sense, no source: on problems this small the rules together should nearly always find the optimum.
    expect(met / tried).toBeGreaterThan(0.9)
    expect(metShaved / tried).toBeGreaterThan(0.97)
  })
})
