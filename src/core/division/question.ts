import type { JarSize } from '../process/types.ts'
import type {
  AgeBand,
  EquipmentKind,
  OutletKind,
  RipenessClass,
  Station,
  Storage,
  WorkKind,
} from '../produce/vocabulary.ts'
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
  /** What timetables of this plan showed that the clock does not hold; absent: nothing yet. */
  clock?: ClockLimit[]
}

/** A limit on one work day that a timetable taught, tighter than what counting minutes says. */
export type ClockLimit =
  /** No more units of a product than this. */
  | { kind: 'units'; productId: string; dayId: string; atMost: number }
  /** No more minutes of all machines of a kind together. */
  | { kind: 'machine'; machine: EquipmentKind; dayId: string; minutes: number }

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
  /** Jars of each size that one load of one canner takes; a size that is not named: as many as the recipe says. */
  holds?: Partial<Record<JarSize, number>>
  /** Minutes until a full canner boils, steams or is at pressure, venting included; absent: the published middle. */
  comeUpMinutes?: number
  /** Minutes from the end of the process until jars may be lifted out; absent: the published least. */
  coolDownMinutes?: number
  /** Of canners: burners that all of them together cover while they stand on the stove, 0 for none; absent: one each. */
  burners?: number
  /** Minutes of each day between which it can be used; absent: as the kitchen is open. */
  fromMinute?: number
  toMinute?: number
}

export type HelperAtHand = {
  id: string
  name: string
  ageBand: AgeBand
  skills: WorkKind[]
  hours: { dayId: string; fromMinute: number; toMinute: number }[]
  /** Meals and rests within the hours. */
  breaks?: { dayId: string; fromMinute: number; toMinute: number }[]
  /** How fast: 1 is usual, 2 does in one minute what is planned for two. */
  speed?: number
  /** Longest at one station without a change, in minutes; absent: does not tire. */
  stretchMinutes?: number
  /** Stations that this helper would like, and would rather not stand at. */
  likes?: Station[]
  dislikes?: Station[]
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
