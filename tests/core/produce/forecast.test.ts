import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  ageLot,
  classOn,
  crop,
  crops,
  dateAfter,
  daysBetween,
  dwellDays,
  forecast,
  lastDay,
  mergeBySignature,
  ripenessClasses,
  type SortedLot,
  storages,
} from '../../../src/core/produce/index.ts'

const order = ['firm', 'ripe', 'soft', 'lost']

const anyLot: fc.Arbitrary<SortedLot> = fc.record({
  crop: fc.constantFrom(...crops),
  storage: fc.constantFrom(...storages),
  sortedOn: fc.constantFrom('2026-09-18', '2028-02-27', '2026-10-24'),
  grams: fc.record({ firm: grams(), ripe: grams(), soft: grams(), damaged: grams() }),
  cohorts: fc.integer({ min: 1, max: 12 }),
})

function grams() {
  return fc.integer({ min: 0, max: 50_000_000 })
}

function total(parts: Record<string, number>): number {
  return Object.values(parts).reduce((sum, one) => sum + one, 0)
}

function damsons(storage: SortedLot['storage']): SortedLot {
  const damson = crop('damson')
  if (damson === undefined) throw new Error('no damson')
  return {
    crop: damson,
    storage,
    sortedOn: '2026-09-18',
    grams: { firm: 4001, ripe: 0, soft: 0, damaged: 3 },
    cohorts: 4,
  }
}

describe('a lot in cohorts', () => {
  test('leaves its first class in even steps and stays the whole time in each next', () => {
    const lot = damsons('room')
    const days = dwellDays(lot.crop, 'room')
    const firm = ageLot(lot).filter((cohort) => cohort.startClass === 'firm')
    expect(firm.map((cohort) => cohort.grams)).toEqual([1001, 1000, 1000, 1000])
    expect(firm.map((cohort) => (cohort.leaves[0]?.untilDay ?? 0) / days.firm)).toEqual([1 / 8, 3 / 8, 5 / 8, 7 / 8])
    for (const { leaves } of firm) {
      expect(leaves.map((stay) => stay.class)).toEqual(['firm', 'ripe', 'soft'])
      const [first = 0, second = 0, third = 0] = leaves.map((stay) => stay.untilDay)
      expect(second - first).toBeCloseTo(days.ripe, 9)
      expect(third - second).toBeCloseTo(days.soft, 9)
    }
  })

  test('keeps few grams in few cohorts and sends damaged pieces straight to lost', () => {
    const damaged = ageLot(damsons('room')).filter((cohort) => cohort.startClass === 'damaged')
    expect(damaged.map((cohort) => cohort.grams)).toEqual([1, 1, 1])
    expect(damaged.map((cohort) => classOn(cohort, 0))).toEqual(['damaged', 'damaged', 'damaged'])
    expect(damaged.map((cohort) => classOn(cohort, 30))).toEqual(['lost', 'lost', 'lost'])
  })

  test('is in the next class on the very morning on which it leaves one', () => {
    const cohort = {
      id: 'a',
      startClass: 'ripe' as const,
      grams: 1,
      leaves: [
        { class: 'ripe' as const, untilDay: 2 },
        { class: 'soft' as const, untilDay: 3.5 },
      ],
    }
    expect([0, 1, 2, 3, 4].map((day) => classOn(cohort, day))).toEqual(['ripe', 'ripe', 'soft', 'soft', 'lost'])
    expect(lastDay(cohort)).toBe(3)
    expect(lastDay({ ...cohort, leaves: [{ class: 'ripe', untilDay: 3 }] })).toBe(2)
  })

  test('refuses parts of grams, negative grams and parts of cohorts', () => {
    const lot = damsons('cool')
    expect(() => ageLot({ ...lot, grams: { ...lot.grams, ripe: 0.5 } })).toThrow(RangeError)
    expect(() => ageLot({ ...lot, grams: { ...lot.grams, ripe: -1 } })).toThrow(RangeError)
    expect(() => ageLot({ ...lot, cohorts: 0 })).toThrow(RangeError)
    expect(() => ageLot({ ...lot, cohorts: 1.5 })).toThrow(RangeError)
    for (const days of [-1, 0.5, Number.NaN, 1e9]) expect(() => forecast(lot, days)).toThrow(RangeError)
    expect(() => forecast({ ...lot, sortedOn: 'tomorrow' }, 1)).toThrow(RangeError)
  })
})

describe('a forecast', () => {
  test('carries the date of each morning over the end of a month and of summer time', () => {
    expect(forecast({ ...damsons('cold'), sortedOn: '2026-10-24' }, 9).map((day) => day.date)).toEqual([
      '2026-10-24',
      '2026-10-25',
      '2026-10-26',
      '2026-10-27',
      '2026-10-28',
      '2026-10-29',
      '2026-10-30',
      '2026-10-31',
      '2026-11-01',
      '2026-11-02',
    ])
  })

  test('begins with what was sorted, and on every morning holds every gram', () => {
    fc.assert(
      fc.property(anyLot, (lot) => {
        const days = forecast(lot, 40)
        expect(days[0]?.grams).toEqual({ ...lot.grams, lost: 0 })
        expect(days.map((day) => total(day.grams))).toEqual(days.map(() => total(lot.grams)))
      }),
    )
  })

  test('only moves forward', () => {
    fc.assert(
      fc.property(anyLot, (lot) => {
        for (const cohort of ageLot(lot)) {
          const seen = Array.from({ length: 60 }, (_, day) => classOn(cohort, day))
          const ranks = seen.map((one) => (one === 'damaged' ? 0 : order.indexOf(one)))
          expect(ranks).toEqual([...ranks].sort((a, b) => a - b))
          if (cohort.startClass === 'damaged') expect(new Set([...seen, 'damaged', 'lost']).size).toBe(2)
        }
      }),
    )
  })

  test('never loses sooner in a colder place', () => {
    fc.assert(
      fc.property(anyLot, (lot) => {
        const [room = [], cool = [], cold = []] = storages.map((storage) => forecast({ ...lot, storage }, 30))
        for (const [day, warm] of room.entries()) {
          const mild = cool[day]?.grams.lost ?? Number.NaN
          expect(mild).toBeLessThanOrEqual(warm.grams.lost)
          expect(cold[day]?.grams.lost).toBeLessThanOrEqual(mild)
        }
      }),
    )
  })

  test('loses everything in the end', () => {
    for (const row of crops) {
      const lot = { ...damsons('room'), crop: row }
      const days = dwellDays(row, 'room')
      const end = Math.ceil(days.firm + days.ripe + days.soft)
      expect(forecast(lot, end).at(-1)?.grams.lost).toBe(4004)
    }
  })
})

describe('merging cohorts', () => {
  const offsets = fc.uniqueArray(fc.integer({ min: 0, max: 30 }), { minLength: 1, maxLength: 4 })

  test('keeps every gram, and each one looks like all its cohorts on every asked day', () => {
    fc.assert(
      fc.property(anyLot, offsets, (lot, days) => {
        const cohorts = ageLot(lot)
        const merged = mergeBySignature(cohorts, days)
        expect(merged.reduce((sum, one) => sum + one.grams, 0)).toBe(total(lot.grams))
        expect(merged.flatMap((one) => one.cohortIds).sort()).toEqual(cohorts.map((one) => one.id).sort())
        for (const one of merged) {
          const own = cohorts.filter((cohort) => one.cohortIds.includes(cohort.id))
          for (const cohort of own) {
            expect(days.map((day) => classOn(cohort, day))).toEqual(one.classByDay.map((shown) => shown ?? 'lost'))
          }
          expect(one.lastDay).toBe(Math.min(...own.map(lastDay)))
        }
        expect(new Set(merged.map((one) => one.classByDay.join())).size).toBe(merged.length)
      }),
    )
  })

  test('asked about the first morning alone, leaves one for each class that has grams', () => {
    const merged = mergeBySignature(
      ageLot({ ...damsons('room'), grams: { firm: 9, ripe: 9, soft: 9, damaged: 9 } }),
      [0],
    )
    expect(merged.map((one) => one.classByDay)).toEqual(ripenessClasses.map((one) => [one]))
    expect(merged.map((one) => one.grams)).toEqual([9, 9, 9, 9])
  })
})

describe('dates', () => {
  test('count whole days both ways', () => {
    expect(dateAfter('2028-02-28', 2)).toBe('2028-03-01')
    expect(dateAfter('2026-09-18', -18)).toBe('2026-08-31')
    expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2)
    expect(daysBetween('2026-09-18', '2026-09-11')).toBe(-7)
  })

  test.each(['', '2026-02-30', '18.09.2026', '2026-9-18', '2026-09-18T00:00:00Z'])('%j is no date', (text) => {
    expect(() => dateAfter(text, 1)).toThrow(RangeError)
  })
})
