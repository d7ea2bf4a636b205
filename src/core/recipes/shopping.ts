/** A supply as far as buying it matters. Amounts are in its own unit, prices in minor units of the currency. */
export type SupplyToBuy = {
  key: string
  name: string
  unit: string
  onHand: number
  packSize: number
  packPriceMinor: number
  /** How many packs can be had at most. */
  packsAtMost: number
}

/** One line of a shopping list. `toBuy` is what is missing, `packs` the whole packs that hold it. */
export type ShoppingLine = {
  key: string
  name: string
  unit: string
  need: number
  onHand: number
  toBuy: number
  packs: number
  costMinor: number
  /** What is still missing when all packs that can be had are bought; for a supply that nobody keeps, all of it. */
  short: number
}

/** Sums of fractions come out a little above the whole; a pack more for that would be a pack too many. */
const slack = 1e-9

/**
 * What must be bought for many recipes together. Each of `needs` is supplies by key in their own units, as
 * `scaleRecipe` gives them; they are added up before packs are counted. In the order of `onHand`, what is not kept
 * there behind it.
 *
 * @throws RangeError for an amount below 0 or none at all
 */
export function shoppingFor(
  needs: readonly Readonly<Record<string, number>>[],
  onHand: readonly SupplyToBuy[],
): ShoppingLine[] {
  const total = new Map<string, number>()
  for (const [key, amount] of needs.flatMap((need) => Object.entries(need))) {
    if (!(amount >= 0 && Number.isFinite(amount))) throw new RangeError(`an amount of ${key} is from 0 up`)
    total.set(key, (total.get(key) ?? 0) + amount)
  }
  const known = onHand.filter(({ key }) => (total.get(key) ?? 0) > 0)
  const missing = [...total.keys()].filter(
    (key) => (total.get(key) ?? 0) > 0 && !known.some((supply) => supply.key === key),
  )
  return [...known, ...missing.map(nobodyKeeps)].map((supply) => lineOf(supply, total.get(supply.key) ?? 0))
}

function nobodyKeeps(key: string): SupplyToBuy {
  return { key, name: key.replaceAll('-', ' '), unit: '', onHand: 0, packSize: 1, packPriceMinor: 0, packsAtMost: 0 }
}

function lineOf(supply: SupplyToBuy, need: number): ShoppingLine {
  const { key, name, unit, onHand, packSize, packPriceMinor, packsAtMost } = supply
  const lacking = need - onHand
  const toBuy = lacking > slack * Math.max(1, need) ? lacking : 0
  const wanted = toBuy > 0 && packSize > 0 ? Math.ceil(toBuy / packSize - slack) : 0
  const packs = Math.min(wanted, packsAtMost)
  const short = packs < wanted || packSize <= 0 ? Math.max(0, toBuy - packs * packSize) : 0
  return { key, name, unit, need, onHand, toBuy, packs, costMinor: packs * packPriceMinor, short }
}
