import { at } from '../allocation/arrays.ts'
import { type Claim, type Given, ranked } from './claim.ts'

/**
 * Divisor methods: a weight is divided by one number for all and rounded. They differ in where they round up:
 * Webster (Sainte-Laguë) at the half, Huntington-Hill at the geometric mean of the two whole numbers, Jefferson (D'Hondt)
 * only at the next whole number.
 */
export const divisorMethods = ['webster', 'huntington-hill', 'jefferson'] as const
export type DivisorMethod = (typeof divisorMethods)[number]

/**
 * Four times the square of where a method rounds up from so many seats: whole for all three methods, though the
 * geometric mean is a root. 0 stands for Huntington-Hill's first seat, which comes before all others.
 */
const roundsUpAt: Readonly<Record<DivisorMethod, (seats: bigint) => bigint>> = {
  webster: (seats) => (2n * seats + 1n) ** 2n,
  'huntington-hill': (seats) => 4n * seats * (seats + 1n),
  jefferson: (seats) => 4n * (seats + 1n) ** 2n,
}

/** What a claim bids for a seat: its weight divided by where the method rounds up, kept as squares so that it is exact. */
type Bid = { claim: Claim; at: bigint }

/** Positive if a bids more. The first seats of Huntington-Hill come before all others, the heavier before the lighter. */
function compareBids(a: Bid, b: Bid): number {
  if (a.at === 0n && b.at === 0n) return sign(a.claim.weight - b.claim.weight)
  return sign(a.claim.weight ** 2n * b.at - b.claim.weight ** 2n * a.at)
}

/**
 * Gives one seat after the other to the highest bid; among equal bids to the larger weight, then to the first id. Takes
 * claims with weights above 0 and no more minimum seats than there are. Returns what each has, and the divisors from
 * above `above` to `upTo` that give just this; null if there are none (fewer seats than claims by Huntington-Hill).
 */
export function byDivisor(
  seats: bigint,
  claims: readonly Claim[],
  method: DivisorMethod,
  minimum: bigint,
): { given: Given[]; divisors: { above: number; upTo: number } | null } {
  const roundUp = roundsUpAt[method]
  const inOrder = ranked(claims)
  const has = sureSeats(seats, inOrder, minimum)
  const bidOf = (index: number, seatsBefore: bigint): Bid => ({ claim: at(inOrder, index), at: roundUp(seatsBefore) })
  let left = seats - has.reduce((sum, count) => sum + count, 0n)
  for (; left > 0n; left--) {
    let best = 0
    for (let index = 1; index < has.length; index++) {
      if (compareBids(bidOf(index, at(has, index)), bidOf(best, at(has, best))) > 0) best = index
    }
    has[best] = at(has, best) + 1n
  }

  const next = inOrder.map((_, index) => bidOf(index, at(has, index)))
  const last = inOrder.map((_, index) => (at(has, index) > minimum ? bidOf(index, at(has, index) - 1n) : null))
  const highestNext = next.reduce((a, b) => (compareBids(b, a) > 0 ? b : a))
  const lowestLast = last.reduce((a, b) => (a === null || (b !== null && compareBids(b, a) < 0) ? b : a), null)
  const tied = lowestLast !== null && compareBids(lowestLast, highestNext) === 0
  const given = inOrder.map(({ id }, index): Given => {
    const own = last[index] ?? null
    const won = tied && own !== null && compareBids(own, highestNext) === 0
    const lost = tied && compareBids(at(next, index), highestNext) === 0
    return { id, seats: at(has, index), remainder: null, tie: won ? 'won' : lost ? 'lost' : null }
  })
  const above = divisorOf(highestNext)
  if (above === null) return { given, divisors: null }
  // Equal bids may come to roots that differ in their last digit.
  const upTo = tied ? above : ((lowestLast && divisorOf(lowestLast)) ?? Number.POSITIVE_INFINITY)
  return { given, divisors: { above, upTo } }
}

/**
 * Seats that every divisor method gives at least, so that the bidding is about the last few only. Rounding raises a
 * weight by less than one seat and the minimum by no more than itself; what is left without both is safe to divide.
 */
function sureSeats(seats: bigint, claims: readonly Claim[], minimum: bigint): bigint[] {
  const sure = seats - BigInt(claims.length) * (minimum + 1n)
  const weights = claims.reduce((sum, { weight }) => sum + weight, 0n)
  return claims.map(({ weight }) => {
    const start = sure > 0n ? (weight * sure) / weights : 0n
    return start > minimum ? start : minimum
  })
}

/** The divisor at which a bid just wins, in the unit in which weights came; null for a first seat, which any divisor gives. */
function divisorOf({ claim, at: rounds }: Bid): number | null {
  return rounds === 0n ? null : (2 * claim.shown) / Math.sqrt(Number(rounds))
}

function sign(value: bigint): number {
  return value > 0n ? 1 : value < 0n ? -1 : 0
}
