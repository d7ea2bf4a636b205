import { type Claim, type Given, ranked } from './claim.ts'
import { fraction, toNumber } from './fraction.ts'

/**
 * Largest remainder with the Hare quota (Hamilton): everybody has the whole part of the quota, and what is left goes one
 * each to the largest remainders; among equal remainders to the larger weight, then to the first id.
 *
 * With a minimum, whoever's quota is below it has the minimum, and the others share what is left in the same way, until
 * nobody is below. Takes claims with weights above 0 and no more minimum seats than there are.
 */
export function byLargestRemainder(seats: bigint, claims: readonly Claim[], minimum: bigint): Given[] {
  const held: Given[] = []
  let free = ranked(claims)
  let left = seats
  for (;;) {
    const weights = totalWeight(free)
    const below = free.filter(({ weight }) => weight * left < minimum * weights)
    if (below.length === 0) break
    held.push(...below.map(({ id }): Given => ({ id, seats: minimum, remainder: null, tie: null })))
    left -= minimum * BigInt(below.length)
    free = free.filter((claim) => !below.includes(claim))
  }

  const weights = totalWeight(free)
  const parts = free.map(({ id, weight }) => ({
    id,
    floor: (weight * left) / weights,
    rest: (weight * left) % weights,
  }))
  const over = Number(left - parts.reduce((sum, { floor }) => sum + floor, 0n))
  // Equal remainders stay in the order of the rule for ties.
  const byRest = parts.toSorted((a, b) => (a.rest === b.rest ? 0 : a.rest > b.rest ? -1 : 1))
  const lastIn = byRest[over - 1]?.rest
  const tied = lastIn !== undefined && byRest[over]?.rest === lastIn
  const shared = byRest.map(({ id, floor, rest }, place): Given => {
    const wins = place < over
    return {
      id,
      seats: floor + (wins ? 1n : 0n),
      remainder: toNumber(fraction(rest, weights)),
      tie: tied && rest === lastIn ? (wins ? 'won' : 'lost') : null,
    }
  })
  return [...held, ...shared]
}

function totalWeight(claims: readonly Claim[]): bigint {
  return claims.reduce((sum, { weight }) => sum + weight, 0n)
}
