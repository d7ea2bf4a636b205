import { byText } from '../allocation/arrays.ts'
import type { Claim, Given } from './claim.ts'
import { byDivisor, divisorMethods } from './divisor-methods.ts'
import { dividedBy, type Fraction, fraction, fractionOf, inWholes, times, toNumber, total } from './fraction.ts'
import { byLargestRemainder } from './largest-remainder.ts'
import { plainNumberBetween } from './plain-number.ts'
import { refuseNegative, refuseTwice, refuseUnlessWhole } from './refuse.ts'

export const apportionmentMethods = ['largest-remainder', ...divisorMethods] as const
export type ApportionmentMethod = (typeof apportionmentMethods)[number]

export type ApportionmentOptions = {
  /** What everybody with a weight above 0 has at least; whole, 0 if absent. */
  minimum?: number | undefined
}

/** What one of those who share gets, with what a page needs to show the sum. Numbers are for eyes; the seats are exact. */
export type ApportionedShare = {
  id: string
  weight: number
  /** What would be due if it could be divided: seats x weight / sum of weights. */
  quota: number
  seats: number
  /** Largest remainder: the fraction left of what was divided, null for who is held at the minimum. Null by divisors. */
  remainder: number | null
  /** The last seat went by the rule for ties alone: to this one ("won"), or past it ("lost"). */
  tie: 'won' | 'lost' | null
}

export type Apportionment = {
  method: ApportionmentMethod
  seats: number
  /** In the order of ids. */
  shares: ApportionedShare[]
  /**
   * Methods by divisor: weights divided by `divisor` and rounded as the method does give the seats; so does any divisor
   * from above `above` to below `upTo` (Infinity: no end). With a tie the two are one number. Null by largest remainder, without
   * seats, and when Huntington-Hill has fewer seats than weights.
   */
  divisor: { divisor: number; above: number; upTo: number } | null
}

/**
 * Divides whole seats (here: jars, or cents) in proportion to weights. Exact: weights are the decimals they are written
 * as, and every comparison is of whole numbers. Ties go to the larger weight, then to the first id, and are named. A
 * weight of 0 gets nothing. Huntington-Hill gives everybody one if there are enough, or one each to the largest weights.
 *
 * Largest remainder never strays from the quota by a whole seat, but with one seat more somebody may get one less
 * (Alabama paradox). The divisor methods never do that, and may stray from the quota.
 *
 * @throws RangeError for seats or a minimum that are not whole from 0 up, weights that are not finite from 0 up, an id
 * given twice, seats that nobody has a weight for, and fewer seats than the minimum for everybody
 */
export function apportion(
  seats: number,
  weights: readonly { id: string; weight: number }[],
  method: ApportionmentMethod,
  options: ApportionmentOptions = {},
): Apportionment {
  for (const { id, weight } of weights) refuseNegative(weight, `the weight of ${id}`)
  const exact = weights.map(({ id, weight }) => ({ id, weight: fractionOf(weight) }))
  return apportionFractions(seats, exact, method, options)
}

/** As `apportion`, for weights that are fractions from 0 up. */
export function apportionFractions(
  seats: number,
  weights: readonly { id: string; weight: Fraction }[],
  method: ApportionmentMethod,
  options: ApportionmentOptions = {},
): Apportionment {
  const minimum = options.minimum ?? 0
  refuseUnlessWhole(seats, 'seats')
  refuseUnlessWhole(minimum, 'the minimum')
  refuseTwice(
    'weight',
    weights.map(({ id }) => id),
  )
  const claims = claimsOf(weights)
  if (seats > 0 && claims.length === 0) throw new RangeError('nobody has a weight above 0')
  if (seats < minimum * claims.length) throw new RangeError(`${seats} seats are fewer than ${minimum} for everybody`)

  const { given, divisors } = dividedAmong(claims, BigInt(seats), method, BigInt(minimum))
  const givenTo = new Map(given.map((one) => [one.id, one]))
  const weightOfAll = total(weights.map(({ weight }) => weight))
  const shares = weights.map(({ id, weight }): ApportionedShare => {
    const one = givenTo.get(id)
    return {
      id,
      weight: toNumber(weight),
      quota: one ? toNumber(times(fraction(BigInt(seats)), dividedBy(weight, weightOfAll))) : 0,
      seats: Number(one?.seats ?? 0n),
      remainder: one?.remainder ?? null,
      tie: one?.tie ?? null,
    }
  })
  return {
    method,
    seats,
    shares: shares.toSorted(byText((share) => share.id)),
    divisor: divisors && { divisor: plainNumberBetween(divisors.above, divisors.upTo), ...divisors },
  }
}

function dividedAmong(
  claims: readonly Claim[],
  seats: bigint,
  method: ApportionmentMethod,
  minimum: bigint,
): { given: Given[]; divisors: { above: number; upTo: number } | null } {
  if (seats === 0n)
    return { given: claims.map(({ id }) => ({ id, seats: 0n, remainder: null, tie: null })), divisors: null }
  if (method === 'largest-remainder') return { given: byLargestRemainder(seats, claims, minimum), divisors: null }
  return byDivisor(seats, claims, method, minimum)
}

function claimsOf(weights: readonly { id: string; weight: Fraction }[]): Claim[] {
  const wholes = inWholes(weights.map(({ weight }) => weight))
  return weights
    .map(({ id, weight }, index) => ({ id, weight: wholes[index] ?? 0n, shown: toNumber(weight) }))
    .filter(({ weight }) => weight > 0n)
}
