import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { crops, dateAfter, ripenessClasses, storages } from '../../../src/core/produce/index.ts'
import type { Sorting, SortingWay } from '../../../src/features/lots/lot.ts'
import {
  beforeLastSorting,
  doubtfulDifference,
  isUnsorted,
  setDown,
  sortLot,
  standingSortings,
  thereGrams,
} from '../../../src/features/lots/sorting.ts'
import { type Ageing, bySpoiling, comingDays, standingOn } from '../../../src/features/lots/standing.ts'

const seed = 20_260_911
const runs = 300
const sortedOn = '2026-09-11'

const grams = fc.integer({ min: 0, max: 2_000_000 })
const ageing: fc.Arbitrary<Ageing> = fc.record({
  crop: fc.constantFrom(...crops.map(({ key }) => key)),
  storage: fc.constantFrom(...storages),
  sorting: fc.record({
    sortedOn: fc.constant(sortedOn),
    grams: fc.record({ firm: grams, ripe: grams, soft: grams, damaged: grams }),
    setAsideGrams: grams,
    lostGrams: grams,
    usedGrams: grams,
  }),
})
const daysLater = fc.integer({ min: -3, max: 2_000 })

function wholeOf({ sorting }: Ageing): number {
  const classes = ripenessClasses.reduce((sum, name) => sum + sorting.grams[name], 0)
  return classes + sorting.setAsideGrams + sorting.lostGrams + sorting.usedGrams
}

describe('a lot on a morning', () => {
  test('accounts for every gram of its sorting, whatever the crop, the place and the day', () => {
    fc.assert(
      fc.property(ageing, daysLater, (lot, days) => {
        const standing = standingOn(lot, dateAfter(sortedOn, days))
        expect(standing.wholeGrams).toBe(wholeOf(lot))
        const classes = ripenessClasses.reduce((sum, name) => sum + standing.grams[name], 0)
        expect(standing.usableGrams).toBe(classes)
      }),
      { seed, numRuns: runs },
    )
  })

  test('what must be used by the last day of the first to spoil is gone on the next morning, and nothing else', () => {
    fc.assert(
      fc.property(ageing, fc.integer({ min: 0, max: 60 }), (lot, days) => {
        const standing = standingOn(lot, dateAfter(sortedOn, days))
        fc.pre(standing.first !== null)
        if (standing.first === null) return
        const { useBy, grams: first } = standing.first
        expect(useBy >= standing.on).toBe(true)
        expect(standingOn(lot, useBy).usableGrams).toBe(standing.usableGrams)
        expect(standingOn(lot, dateAfter(useBy, 1)).usableGrams).toBe(standing.usableGrams - first)
        expect(standingOn(lot, dateAfter(standing.on, 3)).usableGrams).toBe(standing.usableGrams - standing.soon.grams)
      }),
      { seed, numRuns: runs },
    )
  })

  test('the coming days are the same mornings', () => {
    const lot: Ageing = {
      crop: 'apple',
      storage: 'cool',
      sorting: {
        sortedOn,
        grams: { firm: 9_001, ripe: 500, soft: 7, damaged: 3 },
        setAsideGrams: 0,
        lostGrams: 0,
        usedGrams: 0,
      },
    }
    for (const { date, grams: of } of comingDays(lot, sortedOn, [0, 1, 5, 40])) {
      const { grams: classes, spoiledGrams } = standingOn(lot, date)
      expect(of).toEqual({ ...classes, lost: spoiledGrams })
    }
  })

  test('lots come in the order of their first loss, of the same day the greater, the empty last', () => {
    const at = (useBy: string, of: number) => ({ first: { useBy, grams: of } })
    const lots = [{ first: null }, at('2026-09-12', 5), at('2026-09-11', 1), at('2026-09-11', 2)]
    expect(lots.sort(bySpoiling)).toEqual([
      at('2026-09-11', 2),
      at('2026-09-11', 1),
      at('2026-09-12', 5),
      { first: null },
    ])
  })
})

describe('sorting', () => {
  test('by shares divides what is there to the gram', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 6, maxLength: 6 })
    fc.assert(
      fc.property(ageing, weights, (lot, [firm = 0, ripe = 0, soft = 0, damaged = 0, setAside = 0, lost = 0]) => {
        const before = standingOn(lot, dateAfter(sortedOn, 2))
        const sum = firm + ripe + soft + damaged + setAside + lost
        fc.pre(sum > 0 && thereGrams(before) > 0)
        const of = (share: number) => share / sum
        const parts = {
          ...{ firm: of(firm), ripe: of(ripe), soft: of(soft) },
          ...{ damaged: of(damaged), setAside: of(setAside), lost: of(lost) },
        }
        const found = sortLot(before, { how: 'shares', parts })
        expect(found.ok).toBe(true)
        if (!found.ok) return
        expect(wholeOf({ ...lot, sorting: found.sorting })).toBe(before.wholeGrams)
        expect(found.sorting.sortedOn).toBe(before.on)
        expect(found.sorting.lostGrams).toBeGreaterThanOrEqual(before.lostGrams)
      }),
      { seed, numRuns: runs },
    )
  })

  test('by weights takes the sum as the truth, and asks only beyond the doubtful difference', () => {
    fc.assert(
      fc.property(ageing, fc.integer({ min: 1, max: 10_000_000 }), (lot, ripe) => {
        const before = standingOn(lot, sortedOn)
        const parts = { firm: 0, ripe, soft: 0, damaged: 0, setAside: 0, lost: 0 }
        const there = thereGrams(before)
        const doubtful = Math.abs(ripe - there) > there * doubtfulDifference
        const unsure = sortLot(before, { how: 'weights', parts, sure: false })
        expect(unsure.ok).toBe(!doubtful)
        const sure = sortLot(before, { how: 'weights', parts, sure: true })
        expect(sure).toMatchObject({ ok: true, sorting: { grams: { ripe }, setAsideGrams: before.setAsideGrams } })
      }),
      { seed, numRuns: runs },
    )
  })

  test('setting a lot down changes nothing of it on that morning', () => {
    fc.assert(
      fc.property(ageing, daysLater, (lot, days) => {
        const date = dateAfter(sortedOn, days)
        const before = standingOn(lot, date)
        const after = standingOn({ ...lot, sorting: setDown(before) }, date)
        expect(after.grams).toEqual(before.grams)
        expect(after.wholeGrams).toBe(before.wholeGrams)
        expect([after.spoiledGrams, after.lostGrams]).toEqual([0, before.lostGrams + before.spoiledGrams])
      }),
      { seed, numRuns: runs },
    )
  })
})

describe('taking sortings back', () => {
  const history = (...ways: SortingWay[]): Sorting[] =>
    ways.map((how, i) => ({
      ...{ id: `${how}-${i}`, how, sortedOn, sortedBy: 'Bea', note: null, createdAt: `2026-09-11T09:00:0${i}.000Z` },
      ...{ grams: { firm: i, ripe: 0, soft: 0, damaged: 0 }, setAsideGrams: 0, lostGrams: 0, usedGrams: 0 },
    }))

  test.each([
    [['arrival'], ['arrival-0'], null],
    [['arrival', 'weights'], ['arrival-0', 'weights-1'], 'arrival-0'],
    [['arrival', 'weights', 'taken-back'], ['arrival-0'], null],
    [['arrival', 'weights', 'shares', 'taken-back'], ['arrival-0', 'weights-1'], 'arrival-0'],
    [['arrival', 'weights', 'shares', 'taken-back', 'taken-back'], ['arrival-0'], null],
    [['arrival', 'weights', 'moved'], ['arrival-0', 'weights-1', 'moved-2'], null],
    [['arrival', 'moved', 'shares'], ['arrival-0', 'moved-1', 'shares-2'], 'moved-1'],
    [['arrival', 'corrected'], ['arrival-0', 'corrected-1'], null],
  ] as [SortingWay[], string[], string | null][])(
    'of %j there stand %j, and before the last sorting was %s',
    (ways, stand, before) => {
      const sortings = history(...ways)
      expect(standingSortings(sortings).map(({ id }) => id)).toEqual(stand)
      expect(beforeLastSorting(sortings)?.id ?? null).toBe(before)
      expect(isUnsorted(sortings)).toBe(stand.every((id) => /^(arrival|corrected)/.test(id)))
    },
  )
})
