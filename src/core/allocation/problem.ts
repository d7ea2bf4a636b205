import type { RipenessClass } from '../produce/vocabulary.ts'

/**
 * What is to be divided, and under which limits. Weights are whole grams, units (jars, bags, trays) whole numbers,
 * times minutes, volumes millilitres, money and worth the co-op's currency in minor units. Days are numbered from 0
 * in the order of `days`; every array named `...ByDay` has one entry for each of them.
 *
 * Everything is soft but physics: a wish that cannot be met shows up as a shortfall, so a problem always has an answer.
 */
export type AllocationProblem = {
  /** Work days in order, as ISO dates. */
  days: string[]
  items: Item[]
  /** What passes from one batch to another or to an outlet: trim (peels) and intermediate products (juice for jelly). */
  materials: Material[]
  products: Product[]
  machines: Machine[]
  workers: Worker[]
  /** Places with so much room for the whole plan, such as the freezer. */
  rooms: Room[]
  supplies: Supply[]
  /**
   * In falling order of use: a leftover may not lie in a later outlet while an earlier one that takes it has room. Their
   * worth must not rise along that order.
   */
  outlets: Outlet[]
  /** The most that may be spent on supplies; null: no limit. */
  budget: number | null
  /**
   * What a kilogram of sound produce that is lost costs beyond its price, in minor units: it keeps waste from being free.
   * Intermediate products that are lost cost the same (or pressing would be a way to lose for nothing); lost trim does not.
   */
  spoilagePerKg: number
}

/** Produce of one lot that ages together: the same class on every work day. */
export type Item = {
  id: string
  lotId: string
  crop: string
  grams: number
  /** The class on the morning of each work day; null once it is lost (or has not come in yet). */
  classByDay: (RipenessClass | null)[]
  /** What it is when the question is put, before the first work day: an outlet may take it at once. Absent: not there to take. */
  now?: { date: string; class: RipenessClass }
  /** The last date on which it is still of use (ISO), for "act by". */
  usableUntil: string
  /** What a kilogram is worth if it is simply kept beyond the last work day; null: it does not keep that long. */
  keepWorthPerKg: number | null
}

export type Material = {
  id: string
  name: string
  kind: 'trim' | 'intermediate'
  /** May be used on the day it is made and on the next `keepsDays` calendar days. */
  keepsDays: number
  /** Days of waiting before it can be used at all (juice that drips overnight: 1). Less than or equal to keepsDays. */
  readyAfterDays: number
}

/** One recipe in one pack: what the division counts. */
export type Product = {
  id: string
  name: string
  /** What one unit is called: "quart", "bag", "tray". */
  unit: string
  /** Raw grams (produce and materials together) for one unit. */
  gramsPerUnit: number
  inputs: ProductInput[]
  /** What each unit gives back as material beyond trim (juice for jelly); grams for one unit. */
  makes: { materialId: string; gramsPerUnit: number }[]
  /** Loads and pots: each is started a whole number of times a day. None: made unit by unit. */
  runs: Run[]
  /** Hands by work kind: minutes for each kilogram of raw weight and for each unit. */
  workPerKg: Record<string, number>
  workPerUnit: Record<string, number>
  /** Machine minutes that grow with the units, beside those of whole runs. */
  machineMinutesPerUnit: Record<string, number>
  supplies: Record<string, number>
  /** Millilitres of each room that one unit takes up. */
  roomMlPerUnit: Record<string, number>
  /** Days (numbers) on which it may be made; null: any. */
  onDays: number[] | null
  /** The most units that may be made on each day; null: no limit on it. Absent: no limits. */
  atMostByDay?: (number | null)[]
  wish: Wish
}

export type ProductInput = {
  from: { crop: string } | { materialId: string }
  /** For a crop: accepted classes and how well each suits, above 0 up to 1. For a material: empty. */
  suits: Partial<Record<RipenessClass, number>>
  /** The part of `gramsPerUnit` that comes from this input; min = max: a fixed share. Over all inputs mins sum to at most 1, maxes to at least 1. */
  share: { min: number; max: number }
  /** What leaves as trim: the part of this input's grams, by class where the class matters. */
  trim: { materialId: string; share: number; shareByClass?: Partial<Record<RipenessClass, number>> }[]
}

export type Run = {
  /** "canner load", "pot", "oven of trays" */
  name: string
  unitsPerRun: number
  /** Part of a run that the last one of a day must at least hold, 0 to 1. */
  fillAtLeast: number
  machineMinutes: Record<string, number>
  work: Record<string, number>
}

export type Wish = {
  /** Missing these costs `shortfallWorth` each. */
  atLeast: number
  /** Each unit up to here is worth `worth`. */
  about: number
  /** Each unit from `about` up to here is worth `worthBeyond`; none is made above. */
  atMost: number
  worth: number
  worthBeyond: number
  shortfallWorth: number
}

/** Minutes of all machines of one kind together on each day, and how many there are. */
export type Machine = { id: string; name: string; count: number; minutesByDay: number[] }
/** Helpers with the same skills may be one worker with their minutes added up. */
export type Worker = { id: string; name: string; skills: string[]; minutesByDay: number[] }
export type Room = { id: string; name: string; ml: number }
/** `packSize` units for `packPrice`; at most `packsAtMost` packs may be bought. */
export type Supply = {
  id: string
  name: string
  unit: string
  onHand: number
  packSize: number
  packPrice: number
  packsAtMost: number
}

export type Outlet = {
  id: string
  name: string
  /** For the whole plan; null: takes any amount. */
  capacityGrams: number | null
  worthPerKg: number
  /**
   * Whole produce it takes: crops and classes; null: none. An empty list of crops means any. Produce that is of such a
   * class on one of the work days can go there (on that day: what is left over is known from the plan).
   */
  takesProduce: { crops: string[]; classes: RipenessClass[] } | null
  /** Ids of materials it takes. */
  takesMaterials: string[]
}

export type SolveOptions = {
  timeLimitMs?: number
  /** Relative gap at which to stop; default 0 (prove it). */
  gap?: number
  /** Stop after so many nodes of the search: a limit that, unlike seconds, gives the same division every time. */
  maxNodes?: number
  /** Milliseconds from any moment on, for the time limit and `elapsedMs`; without it only the solver's own time counts. */
  now?: () => number
  /** Polled while solving; true stops it and keeps the best so far. */
  shouldStop?: () => boolean
  onProgress?: (progress: { objective: number; bound: number; gap: number; elapsedMs: number }) => void
}
