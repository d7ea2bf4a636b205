import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { lastsDays, lowDays, runningLow } from '../../../src/core/shelf/index.ts'

const whole = (max: number) => fc.integer({ min: 0, max })

describe('how long stock lasts', () => {
  test.each([
    [{ stock: 36, used: 36, overDays: 365 }, 365],
    [{ stock: 3, used: 36, overDays: 365 }, 30],
    [{ stock: 0, used: 1, overDays: 365 }, 0],
    // older days than a year do not stretch the use, and a first week is not taken for a habit
    [{ stock: 36, used: 36, overDays: 900 }, 365],
    [{ stock: 10, used: 5, overDays: 7 }, 60],
    [{ stock: 10, used: 0, overDays: 365 }, null],
  ])('%o: %s days', (use, days) => {
    expect(lastsDays(use)).toBe(days)
  })

  test.each([{ stock: -1 }, { used: 1.5 }, { overDays: Number.NaN }])('refuses %o', (wrong) => {
    expect(() => lastsDays({ stock: 1, used: 1, overDays: 365, ...wrong })).toThrow(RangeError)
  })

  test('used day by day at that rate it lasts so long and no day longer', () => {
    fc.assert(
      fc.property(whole(10_000), whole(5_000), fc.integer({ min: 30, max: 365 }), (stock, used, overDays) => {
        const days = lastsDays({ stock, used, overDays })
        if (days === null) return used === 0
        return days * used <= stock * overDays && (days + 1) * used > stock * overDays
      }),
    )
  })
})

describe('what runs low', () => {
  test('lasts for less than three months, the shortest first', () => {
    const of = (name: string, stock: number, used: number) => ({ name, stock, used, overDays: 365 })
    const low = runningLow([
      of('jam', 90, 365),
      of('juice', 10, 365),
      of('none', 0, 0),
      of('gone', 0, 4),
      of('kraut', 89, 365),
    ])
    expect(low.map(({ name, lasts }) => [name, lasts])).toEqual([
      ['gone', 0],
      ['juice', 10],
      ['kraut', 89],
    ])
  })

  test('more stock never makes it low', () => {
    fc.assert(
      fc.property(whole(10_000), whole(5_000), whole(400), whole(100), (stock, used, overDays, more) => {
        const before = runningLow([{ stock, used, overDays }]).length
        return runningLow([{ stock: stock + more, used, overDays }]).length <= before
      }),
    )
    expect(lowDays).toBe(90)
  })
})
