import type { LotSource, RipenessClass, Storage } from '../../core/produce/index.ts'

/**
 * How a sorting came about. `arrival`: all of it in the class named at intake; `corrected`: the weight of an unsorted
 * lot corrected; `weights`, `shares`: sorted by hand; `moved`: set down from the forecast when the lot went to another
 * storage; `used`: set down from the forecast, less what went into a batch; `taken-back`: the state before the last
 * sorting, set down again.
 */
export const sortingWays = ['arrival', 'corrected', 'weights', 'shares', 'moved', 'used', 'taken-back'] as const
export type SortingWay = (typeof sortingWays)[number]

/**
 * What a sorting says of the whole lot: whole grams in each class on the morning of `sortedOn` (ISO date), and what was
 * set aside, lost and used in batches since it came in. The newest sorting needs none of the older ones.
 */
export type SortedGrams = {
  sortedOn: string
  grams: Record<RipenessClass, number>
  setAsideGrams: number
  lostGrams: number
  usedGrams: number
}

export type Sorting = SortedGrams & {
  id: string
  how: SortingWay
  sortedBy: string
  note: string | null
  /** ISO instant */
  createdAt: string
}

/** What is known of a lot besides its sortings. Dates are ISO dates, money minor units. */
export type LotValues = {
  crop: string
  variety: string | null
  source: LotSource
  broughtBy: string
  householdId: string | null
  arrivedOn: string
  storage: Storage
  weightGrams: number
  /** As it was typed: "2 bushels" */
  weightTyped: string
  priceMinor: number | null
  note: string | null
}

export type Lot = LotValues & {
  id: string
  /** The household's name; null when none is named. */
  household: string | null
  version: number
  closedOn: string | null
  /** The newest one, in force. */
  sorting: Sorting
}

/** What may be changed of a lot that is there. */
export type LotChange = Partial<
  Pick<LotValues, 'variety' | 'source' | 'broughtBy' | 'householdId' | 'priceMinor' | 'note'>
>

/** The parts that a sorting divides a lot into: the classes, what is kept to eat fresh, what is thrown out. */
export const sortingParts = ['firm', 'ripe', 'soft', 'damaged', 'setAside', 'lost'] as const
export type SortingPart = (typeof sortingParts)[number]
