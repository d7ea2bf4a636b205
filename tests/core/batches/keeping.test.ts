import { describe, expect, test } from 'vitest'
import { bestByOf, keepingIn, storageLifeOf } from '../../../src/core/batches/index.ts'
import { methods } from '../../../src/core/produce/index.ts'
import { keepsIn, placeKinds } from '../../../src/core/shelf/index.ts'

describe('what a batch is kept in', () => {
  test('is nothing that its place does not keep, whatever the method', () => {
    for (const method of methods)
      for (const shelfStable of [true, false])
        for (const kind of placeKinds) {
          const keeping = keepingIn(method, shelfStable, kind)
          if (keeping !== null) expect(keepsIn(keeping, kind), `${method} in a ${kind}`).toBe(true)
        }
  })

  test.each(['water-bath-canned', 'pressure-canned'] as const)('%s that departs never stands on a shelf', (method) => {
    expect(placeKinds.map((kind) => keepingIn(method, false, kind))).toEqual([null, null, 'freezer', 'refrigerator'])
    expect(placeKinds.map((kind) => keepingIn(method, true, kind))).toEqual(['shelf', 'shelf', null, 'shelf'])
  })
})

describe('best by', () => {
  // Seen: USDA Complete Guide 2015, Guide 1 p. 1-12, use home-canned food within a year; FoodKeeper, opened canned food
  // 3 to 4 days of low and 5 to 7 of high acid, home-made apple juice 6 days; National Center, dried fruit from half a year.
  test.each([
    ['water-bath-canned', 'shelf', ['plum'], '2027-09-11'],
    ['water-bath-canned', 'refrigerator', ['plum'], '2026-09-16'],
    ['pressure-canned', 'refrigerator', ['green-bean'], '2026-09-14'],
    ['juiced', 'refrigerator', ['apple'], '2026-09-17'],
    ['dried', 'dry', ['plum'], '2027-03-10'],
    ['dried', 'dry', ['plum', 'tomato'], '2026-12-10'],
    ['frozen', 'freezer', ['plum'], '2027-09-11'],
  ] as const)('%s, %s, of %s made on 11 September 2026: %s', (method, keeping, crops, bestBy) => {
    expect(bestByOf({ method, keeping, crops }, '2026-09-11')).toBe(bestBy)
    expect(storageLifeOf({ method, keeping, crops })?.source).toBeDefined()
  })

  test('is not said where nothing is published', () => {
    expect(bestByOf({ method: 'juiced', keeping: 'refrigerator', crops: ['quince'] }, '2026-09-11')).toBeNull()
    expect(bestByOf({ method: 'fermented', keeping: 'refrigerator', crops: ['apple'] }, '2026-09-11')).toBeNull()
  })
})
