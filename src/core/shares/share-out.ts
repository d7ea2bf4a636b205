import { byText, sum } from '../allocation/arrays.ts'
import { type Apportionment, apportionFractions } from './apportion.ts'
import { dividedBy, type Fraction, fraction, plus, times, total, zero } from './fraction.ts'
import { checkQuestion, type SharedProduct, type ShareOutQuestion, type SharingHousehold, worthOf } from './question.ts'
import { type Standing, standings } from './standing.ts'

/** What a household gets. In cents: owedBefore + entitled - received = owed. */
export type HouseholdShare = {
  id: string
  units: Record<string, number>
  /** Its part of everything, of 1: by points and by need, for eyes. */
  partByPoints: number
  partByNeed: number
  entitled: number
  received: number
  owedBefore: number
  owed: number
}

export type ShareOut = {
  /** In the order of ids. */
  households: HouseholdShare[]
  /** In the order in which they were divided, each with its sum; none for a product that every household declines. */
  products: { id: string; apportionment: Apportionment | null; left: number }[]
}

/**
 * Divides whole jars of several products among households, so that what each gets in worth follows what is due to it as
 * nearly as whole jars allow. What is missing or too much is owed, to the cent, and enters the next sharing.
 *
 * Method. The worth of all jars is divided in whole cents by each household's part (points and need); with what it was
 * owed that is its claim. Then one product after the other is apportioned in proportion to what is left of the claims.
 * So everybody gets some of everything as far as it goes round, and whoever came off badly in one product has the larger
 * claim in the next. Products that somebody declines go first, those that fewest want before all, since who declines can
 * be made up from the rest; then dear ones before cheap ones, so that the last to even things out are small. A claim
 * that is used up counts 0. Where those who want a product have claims for less than it is worth, the difference is
 * shared by their parts: every jar is given out.
 *
 * Fair, since nobody's luck in rounding lasts: by largest remainder, where nobody declines and what is owed adds up to 0
 * or more, nobody with a claim gets above it by as much as one jar of the dearest product. The sum of all that is owed
 * is the same before and after. The order of input changes nothing.
 *
 * @throws RangeError for numbers outside what is said at each, ids given twice, declined products that are not there,
 * jars without households, and (see `standings`) nobody to share by
 */
export function shareOut(question: ShareOutQuestion): ShareOut {
  checkQuestion(question)
  const households = question.households.toSorted(byText(({ id }) => id))
  const wanted = new Map(question.products.map(({ id }) => [id, households.filter((one) => !declined(one, id))]))
  const takersOf = (id: string) => wanted.get(id) ?? []
  const worthGiven = sum(question.products.map((product) => (takersOf(product.id).length > 0 ? worthOf(product) : 0)))
  const parts = standings(households, question.byNeedPercent, question.needFor ?? 'everybody')
  const entitled = inCents(worthGiven, parts)
  const claims = new Map(households.map(({ id, owed }) => [id, owed + (entitled.get(id) ?? 0)]))
  const received = new Map<string, Record<string, number>>(households.map(({ id }) => [id, {}]))

  const products = inTurn(question.products, (id) => takersOf(id).length).map((product) => {
    const takers = takersOf(product.id)
    if (takers.length === 0) return { id: product.id, apportionment: null, left: product.units }
    const weights = weightsFor(product, takers, claims, parts)
    const apportionment = apportionFractions(product.units, weights, question.method)
    for (const { id, seats } of apportionment.shares) {
      claims.set(id, (claims.get(id) ?? 0) - seats * product.worth)
      const units = received.get(id)
      if (units && seats > 0) units[product.id] = seats
    }
    return { id: product.id, apportionment, left: 0 }
  })

  return {
    households: households.map(({ id, owed: owedBefore }) => {
      const owed = claims.get(id) ?? 0
      const due = entitled.get(id) ?? 0
      return {
        id,
        units: received.get(id) ?? {},
        partByPoints: parts.get(id)?.byPoints ?? 0,
        partByNeed: parts.get(id)?.byNeed ?? 0,
        entitled: due,
        received: owedBefore + due - owed,
        owedBefore,
        owed,
      }
    }),
    products,
  }
}

/** Fewest takers first, then the dearest, then by id. */
function inTurn(products: readonly SharedProduct[], takers: (id: string) => number): SharedProduct[] {
  const byId = byText(({ id }: SharedProduct) => id)
  return products.toSorted((a, b) => takers(a.id) - takers(b.id) || b.worth - a.worth || byId(a, b))
}

function declined(household: SharingHousehold, productId: string): boolean {
  return household.declines?.includes(productId) ?? false
}

/** Whole cents by parts, so that they add up: by largest remainder, whatever divides the jars. */
function inCents(cents: number, parts: ReadonlyMap<string, Standing>): Map<string, number> {
  const weights = Array.from(parts, ([id, { due }]) => ({ id, weight: due }))
  const { shares } = apportionFractions(cents, weights, 'largest-remainder')
  return new Map(shares.map(({ id, seats }) => [id, seats]))
}

/** What is left of each claim, and each one's part of what the claims do not cover; all alike if nobody has any of it. */
function weightsFor(
  product: SharedProduct,
  takers: readonly SharingHousehold[],
  claims: ReadonlyMap<string, number>,
  parts: ReadonlyMap<string, Standing>,
): { id: string; weight: Fraction }[] {
  const left = takers.map(({ id }) => Math.max(0, claims.get(id) ?? 0))
  const dues = takers.map(({ id }) => parts.get(id)?.due ?? zero)
  const due = total(dues)
  const uncovered = fraction(BigInt(Math.max(0, worthOf(product) - sum(left))))
  const weights = takers.map(({ id }, index) => {
    const part = dues[index] ?? zero
    const extra = due.whole === 0n ? zero : times(uncovered, dividedBy(part, due))
    return { id, weight: plus(fraction(BigInt(left[index] ?? 0)), extra) }
  })
  if (weights.some(({ weight }) => weight.whole > 0n)) return weights
  return takers.map(({ id }, index) => ({ id, weight: due.whole === 0n ? fraction(1n) : (dues[index] ?? zero) }))
}
