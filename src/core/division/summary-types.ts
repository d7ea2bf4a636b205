import type { RipenessClass } from '../produce/vocabulary.ts'

/** Where weight comes from, passes through and ends. `made` is what stays in products: jars, bags, trays. */
export type FlowNode =
  | `lot:${string}`
  | `product:${string}`
  | `material:${string}`
  | `outlet:${string}`
  | 'made'
  | 'set-aside'
  | 'kept'
  | 'lost'

/** Whole grams, above 0, that go from one node to the next. */
export type FlowLink = { from: FlowNode; to: FlowNode; grams: number }

/** Where a leftover goes, as in the answer. */
export type Destination = { outletId: string } | 'kept' | 'lost'

export type ProductTotal = {
  productId: string
  units: number
  /** What went in: produce and materials. */
  rawGrams: number
  trimGrams: number
  /** Intermediate products that it gave to others. */
  passedOnGrams: number
  /** What stays in it: raw less trim less what was passed on. */
  netGrams: number
  /** Days (numbers) on which it is made, in order. */
  byDay: { day: number; units: number; rawGrams: number; runs: number[] }[]
}

export type LotTotal = {
  lotId: string
  /** All that came in: divided, set aside and thrown out while sorting. */
  cameInGrams: number
  setAsideGrams: number
  lostInSortingGrams: number
  /** By day, then product, then class. */
  uses: { day: number; productId: string; ripeness: RipenessClass; grams: number }[]
  /** What no product took, by where it goes and by which date to act. */
  leftovers: { to: Destination; actBy: string; grams: number }[]
}

export type MaterialTotal = {
  materialId: string
  madeGrams: number
  usedGrams: number
  leftovers: { to: Destination; actBy: string; grams: number }[]
}

export type EndTotal = { to: Destination; grams: number; fromLotsGrams: number; fromMaterialsGrams: number }

/** A division added up. Whole grams, whole units; every gram that came in is in exactly one of the parts. */
export type DivisionSummary = {
  cameInGrams: number
  setAsideGrams: number
  /** Thrown out while sorting: came in, and was not divided. */
  lostInSortingGrams: number
  /** Stays in products. */
  madeGrams: number
  /** In the question's order, those of which nothing is made included. */
  products: ProductTotal[]
  lots: LotTotal[]
  materials: MaterialTotal[]
  /** Outlets in their order of use, then kept, then lost: only those that get something. */
  ends: EndTotal[]
  links: FlowLink[]
  /** Minor units. */
  spent: number
}
