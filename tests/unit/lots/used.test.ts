import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { crops, dateAfter, ripenessClasses, storages } from '../../../src/core/produce/index.ts'
import { setDown, sortLot } from '../../../src/features/lots/sorting.ts'
import { type Ageing, standingOn } from '../../../src/features/lots/standing.ts'
import { lotAfterUse } from '../../../src/features/lots/used.ts'

const sortedOn = '2026-09-11'
const grams = fc.integer({ min: 0, max: 500_000 })
const byClass = fc.record({ firm: grams, ripe: grams, soft: grams, damaged: grams })
const ageing: fc.Arbitrary<Ageing> = fc.record({
  crop: fc.constantFrom(...crops.map(({ key }) => key)),
  storage: fc.constantFrom(...storages),
  sorting: fc.record({
    sortedOn: fc.constant(sortedOn),
    grams: byClass,
    setAsideGrams: grams,
    lostGrams: grams,
    usedGrams: grams,
  }),
})
const settings = { seed: 20_260_911, numRuns: 150 }

function sumOf(of: Record<(typeof ripenessClasses)[number], number>): number {
  return ripenessClasses.reduce((sum, name) => sum + of[name], 0)
}

const apples = (given: Partial<Ageing['sorting']['grams']>): Ageing => ({
  crop: 'apple',
  storage: 'cold',
  sorting: {
    sortedOn,
    grams: { firm: 0, ripe: 0, soft: 0, damaged: 0, ...given },
    setAsideGrams: 100,
    lostGrams: 20,
    usedGrams: 3,
  },
})
const none = { firm: 0, ripe: 0, soft: 0, damaged: 0 }

describe('a lot of which a batch took something', () => {
  test('lets nothing appear or vanish, as long as no more is taken than lies there', () => {
    fc.assert(
      fc.property(ageing, fc.integer({ min: 0, max: 60 }), byClass, (lot, days, wanted) => {
        const before = standingOn(lot, dateAfter(sortedOn, days))
        const there = before.usableGrams + before.spoiledGrams
        const taken = sumOf(wanted) <= there ? wanted : none
        const after = lotAfterUse(before, taken, true)
        expect(after.ok).toBe(true)
        if (!after.ok) return
        const standing = standingOn({ ...lot, sorting: after.sorting }, before.on)
        expect(standing.wholeGrams).toBe(before.wholeGrams)
        expect(standing.usedGrams).toBe(before.usedGrams + sumOf(taken))
        expect(Object.values(standing.grams).every((left) => left >= 0)).toBe(true)
        // whatever is sorted or moved later keeps what was used
        const moved = setDown(standing)
        expect(moved.usedGrams).toBe(standing.usedGrams)
      }),
      settings,
    )
  })

  test('was heavier than noted by what was taken beyond all that lay there', () => {
    fc.assert(
      fc.property(ageing, byClass, (lot, taken) => {
        const before = standingOn(lot, sortedOn)
        const after = lotAfterUse(before, taken, true)
        if (!after.ok) return expect.fail('it was refused')
        const whole = standingOn({ ...lot, sorting: after.sorting }, sortedOn).wholeGrams
        expect(whole - before.wholeGrams).toBe(Math.max(0, sumOf(taken) - before.usableGrams - before.spoiledGrams))
      }),
      settings,
    )
  })

  test('gives from its own class first, and is asked for again beyond it', () => {
    const before = standingOn(apples({ ripe: 2_000, soft: 500, firm: 700 }), sortedOn)
    const exact = lotAfterUse(before, { ...none, ripe: 2_000 }, false)
    expect(exact).toMatchObject({ ok: true, sorting: { grams: { firm: 700, ripe: 0, soft: 500 }, usedGrams: 2_003 } })
    const more = { ...none, ripe: 2_600, soft: 200 }
    expect(lotAfterUse(before, more, false)).toEqual({ ok: false, short: { ripe: 2_000 } })
    // 200 soft were taken as such; of the 600 that are missing 300 are left soft, the other 300 are firm
    expect(lotAfterUse(before, more, true)).toMatchObject({
      ok: true,
      sorting: { grams: { firm: 400, ripe: 0, soft: 0, damaged: 0 }, setAsideGrams: 100, lostGrams: 20 },
    })
  })

  test('keeps what was used when it is sorted again', () => {
    const before = standingOn(apples({ ripe: 1_000 }), sortedOn)
    const parts = { ...none, ripe: 900, setAside: 50, lost: 50 }
    expect(sortLot(before, { how: 'weights', parts, sure: false })).toMatchObject({
      ok: true,
      sorting: { usedGrams: 3, setAsideGrams: 150, lostGrams: 70 },
    })
  })
})
