import { byText } from '../allocation/arrays.ts'

/** Somebody with a weight above 0, as a whole number in proportion to all others; `shown` is the weight as it came in. */
export type Claim = { id: string; weight: bigint; shown: number }

/** What a method gives to a claim; `tie` if an equal one got or missed the last seat by the rule for ties alone. */
export type Given = { id: string; seats: bigint; remainder: number | null; tie: 'won' | 'lost' | null }

/** The rule for ties: the larger weight first, then by id. */
export function ranked(claims: readonly Claim[]): Claim[] {
  const byId = byText((claim: Claim) => claim.id)
  return claims.toSorted((a, b) => (a.weight === b.weight ? byId(a, b) : a.weight > b.weight ? -1 : 1))
}
