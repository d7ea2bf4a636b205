import { DateTime } from 'luxon'
import { describe, expect, test } from 'vitest'
import { movingWith, stagesFor, templateOf, wayOf, ways } from '../../../src/core/slow/index.ts'

const celsius = (fahrenheit: number) => ((fahrenheit - 32) * 5) / 9

function dated(way: string, startedOn: string, temperatureC?: number) {
  const found = stagesFor(way, { startedOn, ...(temperatureC === undefined ? {} : { temperatureC }) })
  if (!found.ok) throw new Error(found.says)
  return found.stages
}
const dates = (way: string, startedOn: string, temperatureC?: number) =>
  dated(way, startedOn, temperatureC).map(({ number, dueOn }) => [number, dueOn])

describe('the stages of every way', () => {
  test.each(ways.map((way) => [way.id, way] as const))(
    '%s: in order, each from the start or from one before',
    (id, way) => {
      const stages = dated(id, '2026-09-12')
      expect(stages.length).toBeGreaterThan(1)
      const numbers = stages.map(({ number }) => number)
      expect(numbers).toEqual([...numbers].sort((a, b) => a - b))
      const dues = stages.map(({ dueOn }) => dueOn)
      expect(dues).toEqual([...dues].sort())
      for (const { number, after, dueOn, days, says, source, measure, target } of stages) {
        if (after !== 'start') expect(numbers.indexOf(after)).toBeLessThan(numbers.indexOf(number))
        const from = stages.find((one) => one.number === after)?.dueOn ?? '2026-09-12'
        expect(
          DateTime.fromISO(dueOn, { zone: 'utc' }).diff(DateTime.fromISO(from, { zone: 'utc' }), 'days').days,
        ).toBe(days)
        expect(says).toMatch(/^[A-Z].*[.?]$/)
        // what is no common practice names where it is printed
        expect(source.confidence === 'practice' ? source.note : source.document).toBeTruthy()
        if (target !== null) expect(measure).not.toBeNull()
        expect(templateOf(way.kind, number)).not.toBeNull()
        expect(wayOf(way.kind, [number])?.id).toBe(id)
      }
      expect(way.cautions.length).toBeGreaterThan(0)
    },
  )

  test('of one kind never share a number', () => {
    for (const kind of new Set(ways.map((way) => way.kind))) {
      const numbers = ways
        .filter((way) => way.kind === kind)
        .flatMap(({ id }) => dated(id, '2026-09-12').map(({ number }) => number))
      expect(new Set(numbers).size).toBe(numbers.length)
    }
  })

  test('are not known for another way or a date that does not exist', () => {
    expect(() => stagesFor('cheese', { startedOn: '2026-09-12' })).toThrow(RangeError)
    expect(() => stagesFor('sauerkraut', { startedOn: '2027-02-29' })).toThrow(RangeError)
    expect(templateOf('vinegar', 1000)).toBeNull()
    expect(wayOf('vinegar', [1000])).toBeNull()
  })
})

describe('dates', () => {
  // weeks of 70 to 75 °F: 3 to 4 (Guide 6 p. 6-8, seen in a copy); three months cold, counted as 90 days
  test('of sauerkraut run over month ends', () => {
    expect(dates('sauerkraut', '2026-09-12')).toEqual([
      [1, '2026-09-12'],
      [2, '2026-09-14'],
      [3, '2026-09-19'],
      [4, '2026-10-03'],
      [5, '2026-10-10'],
      [6, '2027-01-08'],
    ])
  })

  test('run over the end of a year and the leap day, which only leap years have', () => {
    // three weeks, four weeks (HYG-5346, seen in a copy), and the day after
    expect(dates('vinegar-juice', '2028-02-01').slice(3)).toEqual([
      [4, '2028-02-22'],
      [5, '2028-02-29'],
      [6, '2028-03-01'],
    ])
    expect(dates('vinegar-juice', '2027-02-01').slice(4)).toEqual([
      [5, '2027-03-01'],
      [6, '2027-03-02'],
    ])
    expect(dates('quick-pickles', '2027-12-25')).toEqual([
      [1, '2028-01-22'],
      [2, '2028-01-29'],
      [3, '2028-12-24'],
    ])
  })

  test('of peels and cores: out after three to seven days, then four weeks', () => {
    expect(dates('vinegar-scraps', '2026-01-30')).toEqual([
      [11, '2026-01-30'],
      [12, '2026-02-02'],
      [13, '2026-02-06'],
      [14, '2026-03-06'],
      [15, '2026-03-07'],
    ])
  })

  test('of dried fruit: a week to ten days of conditioning, half a year where it is warm', () => {
    expect(dates('dried-fruit', '2026-08-30')).toEqual([
      [1, '2026-08-30'],
      [2, '2026-08-31'],
      [3, '2026-08-31'],
      [4, '2026-09-07'],
      [5, '2026-09-10'],
      [6, '2027-03-09'],
    ])
  })

  test.each([
    // Guide 6 p. 6-7 and 6-8: weeks by temperature
    ['sauerkraut', 72, [21, 28]],
    ['sauerkraut', 62, [35, 42]],
    ['dill-pickles', 60, [35, 42]],
    ['dill-pickles', 75, [21, 28]],
    // between two printed bands: the quicker one's least, the slower one's most
    ['sauerkraut', 67, [21, 42]],
  ])('of %s at %d °F follow the printed weeks', (way, fahrenheit, days) => {
    const stages = dated(way, '2026-09-12', celsius(fahrenheit))
    expect(stages.filter(({ measure }) => measure === 'ph').map((one) => one.days)).toEqual(days)
  })

  test.each([
    ['sauerkraut', 80, 'Too warm'],
    ['sauerkraut', 50, 'Too cold'],
    ['dill-pickles', 82, 'Too warm'],
    ['dill-pickles', 50, 'Too cold'],
  ])('of %s are not given at %d °F', (way, fahrenheit, words) => {
    const found = stagesFor(way, { startedOn: '2026-09-12', temperatureC: celsius(fahrenheit) })
    expect(found.ok).toBe(false)
    expect(found).toMatchObject({ says: expect.stringContaining(words) })
  })
})

describe('what moves with a stage that is late', () => {
  const open = (way: string) => dated(way, '2026-09-12').map(({ number }) => number)

  test('is what is counted from it, and from that in turn', () => {
    expect(movingWith('vinegar', 13, open('vinegar-scraps'))).toEqual([14, 15])
    expect(movingWith('drying', 2, open('dried-fruit'))).toEqual([3, 4, 5, 6])
    expect(movingWith('drying', 3, open('dried-fruit'))).toEqual([4, 5, 6])
  })

  test('is nothing that is counted from the start', () => {
    expect(movingWith('ferment', 2, open('sauerkraut'))).toEqual([])
    expect(movingWith('ferment', 5, open('sauerkraut'))).toEqual([6])
    expect(movingWith('vinegar', 12, open('vinegar-scraps'))).toEqual([])
  })

  test('is nothing that is done, nor what hangs on it, and nothing with a stage of one’s own', () => {
    expect(movingWith('drying', 2, [4, 5, 6])).toEqual([])
    expect(movingWith('drying', 2, [3, 5, 6])).toEqual([3, 5, 6])
    expect(movingWith('drying', 1000, open('dried-fruit'))).toEqual([])
  })
})
