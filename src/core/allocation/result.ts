/** A division: whole grams, whole units, and what was proved about it. */
export type AllocationResult = {
  /**
   * `proved`: no better division exists: the gap is at most 1e-6 of the objective, plus what whole grams explain. The
   * solver reckons in fractions of a gram; keeping its units and turning its kilograms into grams can cost at most what
   * one gram of each use and of each heap left over is worth, and only that much is forgiven.
   * `limit`: the best found within time or the asked gap; no division can be worth more than `bound`.
   * `stopped`: somebody stopped it; the best until then.
   * `fallback`: the solver failed; this is the best of the plain rules (or what was found until then), `bound` may be
   * infinite.
   */
  status: 'proved' | 'limit' | 'stopped' | 'fallback'
  /** Worth minus cost minus spoilage of exactly this division, minor units. */
  objective: number
  bound: number
  /** (bound - objective) / max(1, |objective|) */
  gap: number
  allocations: ItemUse[]
  materialUses: MaterialUse[]
  batches: PlannedBatch[]
  /**
   * Material that came out of batches: trim and intermediate products. Whole grams rounded down for each batch and
   * material; what is left of the gram stays with the product.
   */
  materialsMade: { productId: string; day: number; materialId: string; grams: number }[]
  leftovers: Leftover[]
  purchases: { supplyId: string; packs: number; cost: number }[]
  /** Units missing from what was wished at least. */
  shortfalls: { productId: string; units: number }[]
  reasons: Reason[]
  elapsedMs: number
  /** With status `fallback`: what went wrong with the solver, for a log. */
  trouble?: string
}

export type ItemUse = { itemId: string; productId: string; day: number; grams: number }
export type MaterialUse = { materialId: string; madeOn: number; productId: string; day: number; grams: number }
/** `runs` counts the starts of each of the product's runs, in their order. */
export type PlannedBatch = { productId: string; day: number; units: number; grams: number; runs: number[] }

/** What no product took: whole produce (item) or material of a day, and where it goes. */
export type Leftover = {
  from: { itemId: string } | { materialId: string; madeOn: number }
  grams: number
  to: { outletId: string } | 'kept' | 'lost'
  /** ISO date by which to act: the last on which it is still of use. */
  actBy: string
}

/** Why there are not more of a product. */
export type Reason = {
  productId: string
  units: number
  /** Empty: on every day on which it could be made, no more may be (`atMostByDay`). */
  limits: Limit[]
}

/** What stands in the way of one more unit (or run), on which days; the closed list a page has words for. */
export type Limit =
  | { kind: 'wish' }
  | { kind: 'produce'; crops: string[] }
  | { kind: 'material'; materialId: string }
  | { kind: 'machine'; machineId: string; days: number[] }
  | { kind: 'work'; skills: string[]; days: number[] }
  | { kind: 'room'; roomId: string }
  | { kind: 'supply'; supplyId: string }
  | { kind: 'budget' }
  | { kind: 'run-fill'; days: number[] }
  /** It could be made, but what it takes is worth more elsewhere or costs more than it is worth. */
  | { kind: 'worth' }

/** "One more canner hour on Saturday is worth 7 quarts": the plan solved again with one step more of something. */
export type StepWorth = {
  step:
    | { kind: 'machine'; machineId: string; day: number; minutes: number }
    | { kind: 'work'; skill: string; day: number; minutes: number }
    | { kind: 'room'; roomId: string; ml: number }
    | { kind: 'supply'; supplyId: string; packs: number }
  /** Objective with the step minus without; told only where it is larger than both gaps together. */
  gain: number
  /** Change in units by product, those that change. */
  unitsChanged: { productId: string; units: number }[]
}
