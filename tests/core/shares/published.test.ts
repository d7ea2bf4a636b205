import { describe, expect, test } from 'vitest'
import { type ApportionmentMethod, apportion } from '../../../src/core/shares/index.ts'
import { usHouse } from './us-house.ts'

/** Seats in the order in which the weights are given. */
function seatsOf(seats: number, weights: readonly number[], method: ApportionmentMethod, minimum = 0): number[] {
  const named = weights.map((weight, index) => ({ id: String(index).padStart(3, '0'), weight }))
  return apportion(seats, named, method, { minimum }).shares.map((share) => share.seats)
}

describe('the House of Representatives by Huntington-Hill', () => {
  test.each([
    { census: 2000, people: 281_424_177, rows: usHouse.map(([id, weight, seats]) => ({ id, weight, seats })) },
    { census: 2010, people: 309_183_463, rows: usHouse.map(([id, , , weight, seats]) => ({ id, weight, seats })) },
    { census: 2020, people: 331_108_434, rows: usHouse.map(([id, , , , , weight, seats]) => ({ id, weight, seats })) },
  ])('gives the 435 seats that were given after $census', ({ people, rows }) => {
    expect(rows.reduce((sum, { weight }) => sum + weight, 0)).toBe(people)
    expect(rows.reduce((sum, { seats }) => sum + seats, 0)).toBe(435)
    const { shares, divisor } = apportion(435, rows, 'huntington-hill')
    expect(shares.map(({ id, seats }) => [id, seats])).toEqual(rows.map(({ id, seats }) => [id, seats]))
    expect(shares.filter(({ tie }) => tie !== null)).toEqual([])
    // The geometric mean, done once more as on paper.
    const byHand = rows.map(({ weight }) => roundedAtGeometricMean(weight / (divisor?.divisor ?? 0)))
    expect(byHand).toEqual(rows.map(({ seats }) => seats))
  })

  // The Census Bureau at its press conference of 26 April 2021: New York was 89 people short of its 27th seat, and the
  // 435th went to Minnesota, which would have missed it with 26 people fewer (both seen, in newspapers).
  const after2020 = (change: Record<string, number>) => {
    const weights = usHouse.map(([id, , , , , population]) => ({ id, weight: population + (change[id] ?? 0) }))
    const { shares } = apportion(435, weights, 'huntington-hill')
    return ['Minnesota', 'New York'].map((state) => shares.find(({ id }) => id === state)?.seats)
  }
  test('is decided by 89 people in New York and 26 in Minnesota', () => {
    expect(after2020({ 'New York': 88 })).toEqual([8, 26])
    expect(after2020({ 'New York': 89 })).toEqual([7, 27])
    expect(after2020({ Minnesota: -25 })).toEqual([8, 26])
    expect(after2020({ Minnesota: -26 })).toEqual([7, 27])
  })

  // For All Practical Purposes, 10th edition, chapter 14, example 22 (seen): by Webster the only difference in 2010 is
  // that North Carolina has the last seat instead of Rhode Island, and 708,000 is a divisor.
  test('differs from Webster in one seat in 2010', () => {
    const weights = usHouse.map(([id, , , weight]) => ({ id, weight }))
    const webster = apportion(435, weights, 'webster')
    const others = apportion(435, weights, 'huntington-hill').shares
    const different = webster.shares.filter(({ seats }, index) => seats !== others[index]?.seats)
    expect(different.map(({ id, seats }) => [id, seats])).toEqual([
      ['North Carolina', 14],
      ['Rhode Island', 1],
    ])
    expect(webster.divisor?.above).toBeLessThan(708_000)
    expect(webster.divisor?.upTo).toBeGreaterThan(708_000)
  })
})

describe('largest remainder', () => {
  // For All Practical Purposes, 10th edition, exercise 14.45 with its answer (seen).
  test.each([
    [89, [27, 7, 16, 37, 2]],
    [90, [28, 7, 17, 37, 1]],
    [91, [28, 7, 17, 38, 1]],
  ])('shows the Alabama paradox at %d seats', (seats, expected) => {
    const votes = [5_576_330, 1_387_342, 3_334_241, 7_512_860, 310_968]
    expect(seatsOf(seats, votes, 'largest-remainder')).toEqual(expected)
  })

  // Electowiki, "Alabama paradox" (seen), with its quotas.
  test.each([
    [323, [183, 124, 14, 2], [183.141, 124.355, 13.566, 1.938]],
    [324, [184, 125, 13, 2], [183.708, 124.74, 13.608, 1.944]],
  ])('and again from 323 to 324: %d', (seats, expected, quotas) => {
    const parties = [56.7, 38.5, 4.2, 0.6].map((weight, index) => ({ id: 'ABCD'.charAt(index), weight }))
    const { shares } = apportion(seats, parties, 'largest-remainder')
    expect(shares.map((share) => share.seats)).toEqual(expected)
    expect(shares.map((share) => share.quota)).toEqual(quotas)
  })
})

describe('Webster (Sainte-Laguë)', () => {
  // Election to the 17th Bundestag, 27 September 2009: second votes of CDU, SPD, FDP, Linke, Grüne, CSU and the 598 seats
  // before overhang (seen in the tests of an R package for apportionment; the seats known from memory as well).
  test('the Bundestag of 2009', () => {
    const votes = [11_828_277, 9_990_488, 6_316_080, 5_155_933, 4_643_272, 2_830_238]
    expect(seatsOf(598, votes, 'webster')).toEqual([173, 146, 93, 76, 68, 42])
  })

  // General election of New Zealand 2014 (seen in an R package about these elections): National, Labour, Green, New
  // Zealand First, Māori, ACT and United Future. The last has no seat by votes; it kept the one it won, as the 121st.
  test('the New Zealand Parliament of 2014', () => {
    const votes = [1_131_501, 604_535, 257_359, 208_300, 31_849, 16_689, 5286]
    expect(seatsOf(120, votes, 'webster')).toEqual([60, 32, 14, 11, 2, 1, 0])
  })

  // Wikipedia, "Webster/Sainte-Laguë method" (seen as quoted in that package): 53, 24 and 23 thousand votes.
  test('seven seats among three', () => {
    expect(seatsOf(7, [53_000, 24_000, 23_000], 'webster')).toEqual([3, 2, 2])
  })
})

describe('worked examples for several methods', () => {
  // A textbook's answers, as an online homework helper gives them (seen): six states, 200 and 250 seats.
  const small = [3411, 2421, 11_586, 4494, 3126, 4962]
  const large = [82_500, 84_600, 96_000, 98_000, 356_500, 382_500]
  test.each<[number, number[], ApportionmentMethod, number[]]>([
    [200, small, 'largest-remainder', [23, 16, 77, 30, 21, 33]],
    [200, small, 'jefferson', [22, 16, 78, 30, 21, 33]],
    [200, small, 'webster', [23, 16, 77, 30, 21, 33]],
    [200, small, 'huntington-hill', [23, 16, 77, 30, 21, 33]],
    [250, large, 'largest-remainder', [19, 19, 22, 22, 81, 87]],
    [250, large, 'jefferson', [18, 19, 22, 22, 82, 87]],
    [250, large, 'webster', [19, 19, 22, 22, 81, 87]],
    [250, large, 'huntington-hill', [19, 19, 22, 22, 81, 87]],
    // A German course in constitutional law, "Berechnungsbeispiele" (seen).
    [10, [6100, 5000, 900], 'webster', [5, 4, 1]],
    [10, [6100, 5000, 900], 'largest-remainder', [5, 4, 1]],
    [10, [6100, 5000, 900], 'jefferson', [6, 4, 0]],
  ])('%d seats among %j by %s', (seats, weights, method, expected) => {
    expect(seatsOf(seats, weights, method)).toEqual(expected)
  })
})

/** Rounded at the geometric mean of the whole numbers around it, at least 1. */
function roundedAtGeometricMean(quotient: number): number {
  const below = Math.floor(quotient)
  return Math.max(1, quotient > Math.sqrt(below * (below + 1)) ? below + 1 : below)
}
