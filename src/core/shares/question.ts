import { sum } from '../allocation/arrays.ts'
import type { ApportionmentMethod } from './apportion.ts'
import { refuseNegative, refuseTwice, refuseUnlessWhole } from './refuse.ts'

/** Who shares in the part that goes by need: every household, or those without points. */
export type NeedFor = 'everybody' | 'brought-nothing'

/** Jars of one kind to share: how many, and what one counts for, in cents (the currency's smallest unit), whole. */
export type SharedProduct = { id: string; units: number; worth: number }

export type SharingHousehold = {
  id: string
  /** From `contribution`, or any other count that the co-op keeps; from 0 up. */
  points: number
  /** People who live in it, whole. */
  people: number
  /** Cents still due to it from before; below 0 if it had more than its share. Whole. */
  owed: number
  /** Products that it does not want; it gets its share in others. */
  declines?: readonly string[] | undefined
}

export type ShareOutQuestion = {
  products: readonly SharedProduct[]
  households: readonly SharingHousehold[]
  method: ApportionmentMethod
  /** The part of everything that goes by people in the household instead of by points; percent, 0 to 100. */
  byNeedPercent: number
  /** Who shares in that part; everybody if absent. */
  needFor?: NeedFor | undefined
}

/** Cents that all jars of a product count for. */
export function worthOf({ units, worth }: SharedProduct): number {
  return units * worth
}

/** Throws a RangeError that names the first number, id or decline that cannot be worked with. */
export function checkQuestion({ products, households, byNeedPercent }: ShareOutQuestion): void {
  refuseTwice(
    'product',
    products.map(({ id }) => id),
  )
  refuseTwice(
    'household',
    households.map(({ id }) => id),
  )
  const known = new Set(products.map(({ id }) => id))
  for (const { id, units, worth } of products) {
    refuseUnlessWhole(units, `jars of ${id}`)
    refuseUnlessWhole(worth, `worth of ${id}`)
  }
  for (const { id, points, people, owed, declines } of households) {
    refuseNegative(points, `points of ${id}`)
    refuseUnlessWhole(people, `people of ${id}`)
    refuseUnlessWhole(Math.abs(owed), `owed to ${id}`)
    const stray = declines?.find((product) => !known.has(product))
    if (stray !== undefined) throw new RangeError(`household ${id} declines ${stray}, which is not there`)
  }
  if (!(byNeedPercent >= 0 && byNeedPercent <= 100)) throw new RangeError('by need: not a percentage from 0 to 100')
  refuseUnlessWhole(
    sum(products.map(worthOf)) + sum(households.map(({ owed }) => Math.abs(owed))),
    'all worth together',
  )
  if (households.length === 0 && products.some(({ units }) => units > 0)) throw new RangeError('there is no household')
}
