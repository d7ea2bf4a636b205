import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type ApportionmentMethod, apportion, apportionmentMethods } from '../../../src/core/shares/index.ts'

type Weight = { id: string; weight: number }
type DivisorMethod = Exclude<ApportionmentMethod, 'largest-remainder'>

const byDivisor: DivisorMethod[] = ['webster', 'huntington-hill', 'jefferson']
const runs = { numRuns: 500 }

/** Weights from 0 up, small so that ties are common, at least one above 0; ids in any order. */
const weightsOf = fc
  .uniqueArray(fc.constantFrom(...'ABCDEFGH'), { minLength: 1 })
  .chain((ids) => fc.tuple(...ids.map((id) => fc.nat(20).map((weight) => ({ id, weight })))))
  .filter((weights) => weights.some(({ weight }) => weight > 0))
const seatsOf = fc.nat(60)

describe('what every method keeps', () => {
  test('all seats are given, to nobody without weight, whatever the order of input', () => {
    const question = fc
      .tuple(seatsOf, weightsOf, fc.constantFrom(...apportionmentMethods))
      .chain(([seats, weights, method]) =>
        fc.record({
          seats: fc.constant(seats),
          weights: fc.constant(weights),
          shuffled: fc.shuffledSubarray(weights, { minLength: weights.length }),
          method: fc.constant(method),
        }),
      )
    fc.assert(
      fc.property(question, ({ seats, weights, shuffled, method }) => {
        const { shares, ...rest } = apportion(seats, weights, method)
        expect(shares.reduce((sum, share) => sum + share.seats, 0)).toBe(seats)
        expect(shares.filter((share) => share.weight === 0 && share.seats > 0)).toEqual([])
        expect(shares.map(({ id }) => id)).toEqual(weights.map(({ id }) => id).toSorted())
        expect(apportion(seats, shuffled, method)).toEqual({ shares, ...rest })
        // Who weighs more never has less.
        for (const a of shares) for (const b of shares) if (a.weight > b.weight) expect(a.seats >= b.seats).toBe(true)
      }),
      runs,
    )
  })

  test('weights count by their proportions, as the decimals that they are written as', () => {
    fc.assert(
      fc.property(seatsOf, weightsOf, fc.constantFrom(...apportionmentMethods), (seats, weights, method) => {
        const tenths = weights.map(({ id, weight }) => ({ id, weight: Number(`${weight}e-1`) }))
        const seatsAndTies = (of: Weight[]) => apportion(seats, of, method).shares.map((one) => [one.seats, one.tie])
        expect(seatsAndTies(tenths)).toEqual(seatsAndTies(weights))
      }),
      runs,
    )
  })

  test('with a minimum nobody is below it, and who is above it has what the others leave', () => {
    fc.assert(
      fc.property(
        seatsOf,
        weightsOf,
        fc.constantFrom(...apportionmentMethods),
        fc.integer({ min: 1, max: 3 }),
        (spare, weights, method, minimum) => {
          const sharing = weights.filter(({ weight }) => weight > 0)
          const seats = spare + minimum * sharing.length
          const { shares } = apportion(seats, weights, method, { minimum })
          expect(shares.reduce((sum, share) => sum + share.seats, 0)).toBe(seats)
          expect(shares.filter((share) => share.weight > 0 && share.seats < minimum)).toEqual([])
          if (method !== 'largest-remainder')
            expect(shares.map(seatsAndTie)).toEqual(highestBids(seats, weights, method, minimum))
        },
      ),
      runs,
    )
  })
})

describe('largest remainder', () => {
  test('gives the whole part of the quota or one more, and one more only to the largest remainders', () => {
    fc.assert(
      fc.property(seatsOf, weightsOf, (seats, weights) => {
        const all = weights.reduce((sum, { weight }) => sum + weight, 0)
        const rows = apportion(seats, weights, 'largest-remainder').shares.map((share) => ({
          ...share,
          floor: Math.floor((seats * share.weight) / all),
          rest: (seats * share.weight) % all,
        }))
        const up = rows.filter(({ seats: has, floor }) => has === floor + 1)
        const down = rows.filter(({ seats: has, floor }) => has === floor)
        expect(up.length + down.length).toBe(rows.length)
        const lastUp = Math.min(...up.map(({ rest }) => rest))
        const firstDown = Math.max(...down.map(({ rest }) => rest))
        expect(lastUp >= firstDown).toBe(true)
        const tied = up.length > 0 && lastUp === firstDown
        for (const one of up) {
          expect(one.tie).toBe(tied && one.rest === lastUp ? 'won' : null)
          const passed = down.filter(({ rest }) => rest === one.rest)
          expect(passed.every((other) => comesBefore(one, other))).toBe(true)
        }
        for (const one of down) expect(one.tie).toBe(tied && one.rest === lastUp ? 'lost' : null)
      }),
      runs,
    )
  })

  test('shows quota and remainder', () => {
    const { shares, divisor } = apportion(10, named(6100, 5000, 900), 'largest-remainder')
    expect(shares).toMatchObject([
      { id: 'A', weight: 6100, seats: 5, tie: null },
      { id: 'B', weight: 5000, seats: 4, tie: null },
      { id: 'C', weight: 900, quota: 0.75, remainder: 0.75, seats: 1, tie: null },
    ])
    expect(shares[0]?.quota).toBeCloseTo(5.0833, 4)
    expect(divisor).toBeNull()
  })

  test('with a minimum the others share what is left', () => {
    const { shares } = apportion(10, named(900, 90, 10), 'largest-remainder', { minimum: 1 })
    // C is held at 1; 9 seats by 900 : 90 leave B with 0.8, so it is held as well.
    expect(shares.map(({ seats, remainder }) => [seats, remainder])).toEqual([
      [8, 0],
      [1, null],
      [1, null],
    ])
  })
})

describe.each(byDivisor)('%s', (method) => {
  test('gives each seat to the highest bid', () => {
    fc.assert(
      fc.property(seatsOf, weightsOf, (seats, weights) => {
        expect(apportion(seats, weights, method).shares.map(seatsAndTie)).toEqual(
          highestBids(seats, weights, method, 0),
        )
      }),
      runs,
    )
  })

  test('takes nothing from anybody when there is one seat more', () => {
    fc.assert(
      fc.property(seatsOf, weightsOf, (seats, weights) => {
        const before = apportion(seats, weights, method).shares
        const after = apportion(seats + 1, weights, method).shares
        expect(after.filter((share, index) => share.seats < (before[index]?.seats ?? 0))).toEqual([])
      }),
      runs,
    )
  })

  test('gives a divisor with which the sum comes out on paper', () => {
    fc.assert(
      fc.property(seatsOf, weightsOf, (seats, weights) => {
        const { shares, divisor } = apportion(seats, weights, method)
        const few = method === 'huntington-hill' && seats < weights.filter(({ weight }) => weight > 0).length
        expect(divisor === null).toBe(seats === 0 || few)
        if (divisor === null) return
        expect(divisor.above <= divisor.upTo).toBe(true)
        if (shares.some(({ tie }) => tie !== null)) return
        expect(divisor.divisor > divisor.above && divisor.divisor < divisor.upTo).toBe(true)
        expect(shares.map(({ weight }) => rounded(weight / divisor.divisor, method))).toEqual(
          shares.map((share) => share.seats),
        )
      }),
      runs,
    )
  })
})

describe('ties', () => {
  test('leave one divisor, though the roots of equal bids differ in their last digit', () => {
    // 2 / √6 = 20 / √600: Huntington-Hill's third seat of the one and 25th of the other.
    const { divisor } = apportion(45, named(2, 20, 15), 'huntington-hill')
    expect(divisor?.upTo).toBe(divisor?.above)
  })

  test.each(apportionmentMethods)('by %s go to the first id among equals, and are named', (method) => {
    const { shares } = apportion(4, named(7, 7, 7), method)
    expect(shares.map(({ seats, tie }) => [seats, tie])).toEqual([
      [2, 'won'],
      [1, 'lost'],
      [1, 'lost'],
    ])
  })

  test('go to the larger weight first', () => {
    // Quotas 1.5 and 0.5; by Webster 3/3 = 1/1.
    for (const method of ['largest-remainder', 'webster'] as const) {
      const { shares } = apportion(2, [...named(1), { id: 'B', weight: 3 }], method)
      expect(shares.map(({ seats, tie }) => [seats, tie])).toEqual([
        [0, 'lost'],
        [2, 'won'],
      ])
    }
  })

  test('are not made by binary fractions', () => {
    // Quotas 0.5, 1 and 1.5. In binary 0.1 + 0.2 + 0.3 is above 0.6, and the remainders would differ.
    const { shares } = apportion(3, named(0.1, 0.2, 0.3), 'largest-remainder')
    expect(shares.map(({ seats, tie }) => [seats, tie])).toEqual([
      [0, 'lost'],
      [1, null],
      [2, 'won'],
    ])
    // And a little more is no tie, however large the weights.
    const close = apportion(1, named(1e20, 1e20 + 16_384), 'webster').shares
    expect(close.map(({ seats, tie }) => [seats, tie])).toEqual([
      [0, null],
      [1, null],
    ])
  })

  test('leave no room between the divisors', () => {
    expect(apportion(4, named(7, 7, 7), 'webster').divisor).toEqual({ divisor: 14 / 3, above: 14 / 3, upTo: 14 / 3 })
  })
})

test('Huntington-Hill gives everybody one, or one each to the largest', () => {
  expect(apportion(3, named(1000, 1, 1), 'huntington-hill').shares.map(({ seats }) => seats)).toEqual([1, 1, 1])
  const few = apportion(2, named(5, 9, 5, 0), 'huntington-hill')
  expect(few.shares.map(({ seats, tie }) => [seats, tie])).toEqual([
    [1, 'won'],
    [1, null],
    [0, 'lost'],
    [0, null],
  ])
  expect(few.divisor).toBeNull()
})

test('a divisor has few digits', () => {
  expect(apportion(10, named(6100, 5000, 900), 'webster').divisor?.divisor).toBe(1300)
})

test('many seats and wide weights', () => {
  const { shares } = apportion(1_000_000_007, named(1e-12, 5e15, 0), 'webster')
  expect(shares.map(({ seats }) => seats)).toEqual([0, 1_000_000_007, 0])
  expect(apportion(11, named(1e-7, 1e-6), 'webster').shares.map(({ seats }) => seats)).toEqual([1, 10])
  expect(apportion(11, named(1e21, 1e20), 'webster').shares.map(({ seats }) => seats)).toEqual([10, 1])
  expect(apportion(0, [], 'webster').shares).toEqual([])
})

describe('refusals', () => {
  test.each<[string, number, Weight[], number, RegExp]>([
    ['part of a seat', 1.5, named(1), 0, /^seats/],
    ['less than none', -1, named(1), 0, /^seats/],
    ['a negative weight', 1, named(1, -1), 0, /the weight of B/],
    ['no number', 1, named(Number.NaN), 0, /the weight of A/],
    ['no end', 1, named(Number.POSITIVE_INFINITY), 0, /the weight of A/],
    ['an id twice', 1, [...named(1), ...named(2)], 0, /weight A is given twice/],
    ['nobody', 1, [], 0, /nobody has a weight above 0/],
    ['only weights of 0', 1, named(0, 0), 0, /nobody has a weight above 0/],
    ['too few for the minimum', 3, named(1, 1), 2, /fewer than 2 for everybody/],
    ['half a minimum', 3, named(1, 1), 0.5, /the minimum/],
  ])('%s', (_, seats, weights, minimum, message) => {
    for (const method of apportionmentMethods) {
      expect(() => apportion(seats, weights, method, { minimum })).toThrow(RangeError)
      expect(() => apportion(seats, weights, method, { minimum })).toThrow(message)
    }
  })
})

function named(...weights: number[]): Weight[] {
  return weights.map((weight, index) => ({ id: 'ABCDEFGH'.charAt(index), weight }))
}

function seatsAndTie({ seats, tie }: { seats: number; tie: 'won' | 'lost' | null }): [number, string | null] {
  return [seats, tie]
}

function comesBefore(a: Weight, b: Weight): boolean {
  return a.weight > b.weight || (a.weight === b.weight && a.id < b.id)
}

/**
 * Another way to the same: writes down every bid for every seat, sorts them and takes the first. Bids are fractions of
 * small whole numbers, so that products are exact; Huntington-Hill's are squares, its first ones over 0.
 */
function highestBids(
  seats: number,
  weights: Weight[],
  method: DivisorMethod,
  minimum: number,
): [number, string | null][] {
  const inOrder = weights.toSorted((a, b) => (a.id < b.id ? -1 : 1))
  const sharing = inOrder.filter(({ weight }) => weight > 0)
  const bids = sharing.flatMap(({ id, weight }) =>
    Array.from({ length: seats + 1 }, (_, count) => minimum + count).map((has) => {
      if (method === 'webster') return { id, weight, over: 2 * has + 1, bid: weight }
      if (method === 'jefferson') return { id, weight, over: has + 1, bid: weight }
      return { id, weight, over: has * (has + 1), bid: weight * weight }
    }),
  )
  const compare = (a: (typeof bids)[number], b: (typeof bids)[number]) =>
    a.over === 0 && b.over === 0 ? b.weight - a.weight : b.bid * a.over - a.bid * b.over
  bids.sort((a, b) => compare(a, b) || b.weight - a.weight || (a.id < b.id ? -1 : 1))
  const free = seats - minimum * sharing.length
  const won = bids.slice(0, free)
  const [last, next] = [bids[free - 1], bids[free]]
  const same = (a: (typeof bids)[number]) =>
    last !== undefined && next !== undefined && compare(a, last) === 0 && compare(last, next) === 0
  return inOrder.map(({ id, weight }) => [
    weight > 0 ? minimum + won.filter((bid) => bid.id === id).length : 0,
    won.some((bid) => bid.id === id && same(bid))
      ? 'won'
      : bids.slice(free).some((bid) => bid.id === id && same(bid))
        ? 'lost'
        : null,
  ])
}

function rounded(quotient: number, method: DivisorMethod): number {
  const below = Math.floor(quotient)
  if (method === 'jefferson') return below
  const limit = method === 'webster' ? below + 0.5 : Math.sqrt(below * (below + 1))
  return quotient > limit ? below + 1 : below
}
