import { describe, expect, test } from 'vitest'
import { homeCannedMonths, jarShelf, keepingOf, keepings } from '../../../src/core/practice/index.ts'

describe('how long it keeps', () => {
  // FoodKeeper, the guide and the national center, as printed; days.
  test.each([
    ['home-canned food', 'shelf', false, [365, 365]],
    ['home-canned salsa', 'shelf', false, [270, 365]],
    ['jam, jelly or preserves', 'shelf', false, [180, 540]],
    ['jam, jelly or preserves', 'refrigerator', true, [180, 365]],
    ['pickles', 'refrigerator', true, [30, 90]],
    ['applesauce', 'refrigerator', false, [21, 21]],
    ['fresh apple juice', 'refrigerator', false, [6, 6]],
    ['spread set with gelatin', 'refrigerator', false, [28, 28]],
    ['fermented dill pickles', 'refrigerator', false, [120, 180]],
    ['canned food of low acid', 'refrigerator', true, [3, 4]],
    ['dried fruit', 'shelf', false, [180, 365]],
    ['dried vegetables', 'shelf', false, [90, 180]],
    ['frozen fruit', 'freezer', false, [365, 365]],
  ] as const)('%s, %s, opened %s: %o days', (what, place, opened, days) => {
    expect(keepingOf(what, place, opened)?.days).toEqual(days)
  })

  test('is twelve months for what is home-canned, whatever bought cans last', () => {
    expect(homeCannedMonths.months).toBe(12)
    expect(keepingOf('home-canned food', 'shelf')?.days[1]).toBe(365)
    expect(jarShelf).toMatchObject({ bestC: [10, 21], mostC: 35 })
  })

  test('of something opened is not that of something closed', () => {
    expect(keepingOf('canned food of high acid', 'refrigerator')).toBeNull()
    expect(keepingOf('applesauce', 'refrigerator', true)).toBeNull()
    expect(keepingOf('canned food of high acid', 'refrigerator', true)?.days).toEqual([5, 7])
  })

  test('is not made up where nothing is published', () => {
    expect(keepingOf('spread set with gelatin', 'shelf')).toBeNull()
    expect(keepingOf('fresh apple juice', 'shelf')).toBeNull()
    expect(keepingOf('anything', 'freezer')).toBeNull()
  })

  test('has each line once, and shorter opened than closed', () => {
    const names = keepings.map(({ what, place, opened }) => `${what}/${place}/${opened}`)
    expect(new Set(names).size).toBe(names.length)
    for (const { what, days, opened } of keepings) {
      expect(days[0], what).toBeGreaterThan(0)
      expect(days[1], what).toBeGreaterThanOrEqual(days[0])
      const closed = keepingOf(what, 'shelf')
      if (opened && closed !== null) expect(days[1], what).toBeLessThan(closed.days[1])
    }
  })
})
