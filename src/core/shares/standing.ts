import { type Fraction, fraction, fractionOf, plus, times, toNumber, total, zero } from './fraction.ts'
import type { NeedFor, SharingHousehold } from './question.ts'

/** The part of everything that is due to a household, as fractions of 1 that add up to 1 over all households. */
export type Standing = { due: Fraction; byPoints: number; byNeed: number }

/**
 * What part is due to each household: `byNeedPercent` of everything goes by the people in it, the rest by points. Where
 * nobody has points (or nobody in need has people), the other rule takes all.
 *
 * @throws RangeError if neither rule finds anybody among the households
 */
export function standings(
  households: readonly SharingHousehold[],
  byNeedPercent: number,
  needFor: NeedFor,
): Map<string, Standing> {
  const points = households.map((household) => fractionOf(household.points))
  const people = households.map((household) =>
    needFor === 'everybody' || household.points === 0 ? fraction(BigInt(household.people)) : zero,
  )
  const allPoints = total(points)
  const allPeople = total(people)
  if (households.length > 0 && allPoints.whole === 0n && allPeople.whole === 0n) {
    throw new RangeError('no household has points, or people who share by need')
  }
  const asked = times(fractionOf(byNeedPercent), fraction(1n, 100n))
  const byNeed = allPoints.whole === 0n ? fraction(1n) : allPeople.whole === 0n ? zero : asked
  const byPoints = plus(fraction(1n), fraction(-byNeed.whole, byNeed.over))
  const entries = households.map(({ id }, index): [string, Standing] => {
    const worked = times(byPoints, partOf(points[index] ?? zero, allPoints))
    const needed = times(byNeed, partOf(people[index] ?? zero, allPeople))
    return [id, { due: plus(worked, needed), byPoints: toNumber(worked), byNeed: toNumber(needed) }]
  })
  return new Map(entries)
}

function partOf(value: Fraction, all: Fraction): Fraction {
  return all.whole === 0n ? zero : fraction(value.whole * all.over, value.over * all.whole)
}
