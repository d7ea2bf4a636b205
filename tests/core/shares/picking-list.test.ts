import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pickingList, type StockLine } from '../../../src/core/shares/index.ts'

const line = (
  jarBatchId: string,
  placeId: string,
  bestBy: string | null,
  units: number,
  productId = 'jam',
): StockLine => ({
  jarBatchId,
  productId,
  placeId,
  bestBy,
  units,
})

const stock = [
  line('b3', 'cellar', null, 4),
  line('b2', 'cellar', '2027-09-01', 3),
  line('b1', 'pantry', '2027-08-20', 2),
  line('b1', 'cellar', '2027-08-20', 1),
  line('s1', 'cellar', '2028-01-01', 5, 'sauce'),
]

describe('the jars to take', () => {
  test('oldest first, from every place, without a date last', () => {
    const { households, missing, left } = pickingList(
      [
        { householdId: 'birch', units: { jam: 4, sauce: 1 } },
        { householdId: 'ash', units: { jam: 4 } },
      ],
      stock,
    )
    const said = households.map(({ householdId, picks }) => [
      householdId,
      ...picks.map(({ units, productId, jarBatchId, placeId }) => `${units} ${productId} ${jarBatchId} ${placeId}`),
    ])
    expect(said).toEqual([
      ['ash', '1 jam b1 cellar', '2 jam b1 pantry', '1 jam b2 cellar'],
      ['birch', '2 jam b2 cellar', '2 jam b3 cellar', '1 sauce s1 cellar'],
    ])
    expect(missing).toEqual([])
    expect(left).toEqual(
      [line('b3', 'cellar', null, 2), line('s1', 'cellar', '2028-01-01', 4, 'sauce')].toSorted(byDate),
    )
  })

  test('starts with another household in turn', () => {
    const due = ['ash', 'birch', 'cedar'].map((householdId) => ({ householdId, units: { jam: 2 } }))
    const { households } = pickingList(due, stock, 'birch')
    expect(households.map(({ householdId }) => householdId)).toEqual(['birch', 'cedar', 'ash'])
    expect(households[0]?.picks.map(({ jarBatchId }) => jarBatchId)).toEqual(['b1', 'b1'])
  })

  test('names what stands nowhere', () => {
    const { missing } = pickingList([{ householdId: 'ash', units: { jam: 12, pickles: 1 } }], stock)
    expect(missing).toEqual([
      { householdId: 'ash', productId: 'jam', units: 2 },
      { householdId: 'ash', productId: 'pickles', units: 1 },
    ])
  })

  test('every jar is taken once, none twice, and the order of input does not matter', () => {
    const lines = fc.uniqueArray(
      fc.record({
        jarBatchId: fc.constantFrom('b1', 'b2', 'b3', 'b4'),
        productId: fc.constantFrom('jam', 'sauce'),
        placeId: fc.constantFrom('cellar', 'pantry'),
        bestBy: fc.constantFrom(null, '2027-08-20', '2027-09-01', '2028-01-01'),
        units: fc.nat(6),
      }),
      { selector: ({ jarBatchId, placeId }) => `${jarBatchId} ${placeId}` },
    )
    const dues = fc.uniqueArray(
      fc.record({
        householdId: fc.constantFrom('ash', 'birch', 'cedar'),
        units: fc.record({ jam: fc.nat(8), sauce: fc.nat(8) }),
      }),
      { selector: ({ householdId }) => householdId },
    )
    fc.assert(
      fc.property(lines, dues, (standing, due) => {
        const list = pickingList(due, standing)
        expect(pickingList(due.toReversed(), standing.toReversed())).toEqual(list)
        const picks = list.households.flatMap((one) => one.picks)
        for (const one of standing) {
          const same = (other: { jarBatchId: string; placeId: string }) =>
            other.jarBatchId === one.jarBatchId && other.placeId === one.placeId
          expect(count(picks.filter(same)) + count(list.left.filter(same))).toBe(one.units)
          expect(picks.filter(same).every(({ productId, units }) => productId === one.productId && units > 0)).toBe(
            true,
          )
        }
        for (const { householdId, units } of due) {
          const own = list.households.find((one) => one.householdId === householdId)?.picks ?? []
          for (const productId of ['jam', 'sauce'] as const) {
            const of = (one: { productId: string }) => one.productId === productId
            const short = list.missing.filter((one) => of(one) && one.householdId === householdId)
            expect(count(own.filter(of)) + count(short)).toBe(units[productId])
            const dates = own.filter(of).map(({ bestBy }) => bestBy ?? '9999')
            expect(dates).toEqual(dates.toSorted())
            // Nothing younger is taken, and nothing is missing, while something older stands there.
            const oldestLeft = list.left
              .filter(of)
              .map(({ bestBy }) => bestBy ?? '9999')
              .toSorted()[0]
            if (oldestLeft !== undefined) {
              expect(dates.every((date) => date <= oldestLeft)).toBe(true)
              expect(short).toEqual([])
            }
          }
        }
      }),
      { numRuns: 500 },
    )
  })

  test.each([
    [[{ householdId: 'ash', units: { jam: 1.5 } }], stock, undefined, /jam for ash/],
    [[{ householdId: 'ash', units: { jam: -1 } }], stock, undefined, /jam for ash/],
    [
      [
        { householdId: 'ash', units: {} },
        { householdId: 'ash', units: {} },
      ],
      stock,
      undefined,
      /ash is given twice/,
    ],
    [[], [line('b1', 'cellar', null, -1)], undefined, /units of batch b1/],
    [[], [line('b1', 'cellar', null, 1), line('b1', 'cellar', null, 2)], undefined, /is given twice/],
    [[], stock, 'ash', /household ash is not there/],
  ])('refuses %j', (due, lines, startWith, message) => {
    expect(() => pickingList(due, lines, startWith)).toThrow(RangeError)
    expect(() => pickingList(due, lines, startWith)).toThrow(message)
  })
})

function count(things: { units: number }[]): number {
  return things.reduce((sum, { units }) => sum + units, 0)
}

/** As lines stand in the answer: by date, none last. */
function byDate(a: StockLine, b: StockLine): number {
  return (a.bestBy ?? '9999') < (b.bestBy ?? '9999') ? -1 : 1
}
