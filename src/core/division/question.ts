import type { AgeBand, EquipmentKind, OutletKind, RipenessClass, Storage, WorkKind } from '../produce/vocabulary.ts'
import type { Recipe } from '../recipes/recipe.ts'

/**
 * A plan as people put it: these lots, this kitchen, these recipes and wishes. `askDivision` turns it into the
 * problem the solver reads. It is kept with each division, so that an old answer can still be explained.
 */
export type Question = {
  /** ISO date on which it is asked, in the co-op's zone. */
  askedOn: string
  lots: LotToDivide[]
  days: KitchenDay[]
  equipment: EquipmentOnHand[]
  helpers: HelperAtHand[]
  supplies: SupplyOnHand[]
  /** Open outlets, in falling order of use. */
  outlets: OpenOutlet[]
  recipes: Recipe[]
  wishes: WishFor[]
  /** The most that may be spent, minor units; null: no limit. */
  budgetMinor: number | null
}

export type LotToDivide = {
  id: string
  name: string
  crop: string
  storage: Storage
  arrivedOn: string
  /** ISO date of the sorting in force, and what it found, in grams. */
  sortedOn: string
  grams: Record<RipenessClass, number>
  /** Not divided: kept for eating fresh, and thrown out while sorting. */
  setAsideGrams: number
  lostGrams: number
}

export type KitchenDay = { id: string; date: string; opensMinute: number; closesMinute: number }

export type EquipmentOnHand = {
  id: string
  kind: EquipmentKind
  name: string
  count: number
  roomMl: number | null
  aroundTheClock: boolean
  /** Ids of the days on which it cannot be used. */
  outOn: string[]
}

export type HelperAtHand = {
  id: string
  name: string
  ageBand: AgeBand
  skills: WorkKind[]
  hours: { dayId: string; fromMinute: number; toMinute: number }[]
}

export type SupplyOnHand = {
  key: string
  name: string
  unit: string
  onHand: number
  packSize: number
  packPriceMinor: number
  packsAtMost: number
}

export type OpenOutlet = {
  id: string
  kind: OutletKind
  name: string
  capacityGrams: number | null
  worthPerKgMinor: number
  takesProduce: boolean
  crops: string[]
  classes: RipenessClass[]
  materials: string[]
}

/** How many units of a recipe's pack are wanted, and how much that matters: 1 a little, 2 fairly, 3 very much. */
export type WishFor = {
  recipeId: string
  pack: string
  atLeast: number
  about: number
  atMost: number
  matters: 1 | 2 | 3
}
