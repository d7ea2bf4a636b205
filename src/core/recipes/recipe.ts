import type { EquipmentKind, Method, RipenessClass, TrimKind, WorkKind } from '../produce/vocabulary.ts'

/**
 * A recipe as the division sees it: what one unit of each pack takes in, gives back, costs and keeps busy.
 * It carries a method and its minutes. Whether a tested process stands behind it is not said here.
 */
export type Recipe = {
  id: string
  name: string
  method: Method
  definition: RecipeDefinition
}

/** The part of a recipe that is edited and stored as one document. */
export type RecipeDefinition = {
  inputs: RecipeInput[]
  packs: Pack[]
  /** Minutes of hands for each kilogram of raw weight. */
  workPerKg: Partial<Record<WorkKind, number>>
  /** What must be said where this is made: boiling sugar, sharp knives. One plain sentence each. */
  cautions: string[]
  /** Where its figures come from. */
  source: string
}

export type RecipeInput = {
  /** A crop's key, or a material: a trim kind or what another recipe makes. */
  from: { crop: string } | { material: string }
  /** Accepted classes and how well each suits, above 0 up to 1. Empty for a material. */
  suits: Partial<Record<RipenessClass, number>>
  /** Part of the raw weight that is this input; equal ends: fixed. */
  share: { min: number; max: number }
  trim: { kind: TrimKind; share: number; shareByClass?: Partial<Record<RipenessClass, number>> }[]
}

/** One size in which a recipe is put up. */
export type Pack = {
  /** Unique within the recipe: "quart", "bag-1kg". */
  key: string
  /** What one is called, singular and plural. */
  unit: string
  units: string
  /** Raw weight for one, produce and materials together. */
  gramsPerUnit: number
  /** What one is worth to the co-op, minor units of its currency. */
  worthMinor: number
  runs: PackRun[]
  workPerUnit: Partial<Record<WorkKind, number>>
  machineMinutesPerUnit: Partial<Record<EquipmentKind, number>>
  /** Supplies by key for one unit, in the supply's own unit: { "jar-quart": 1, lid: 1, sugar: 180 }. */
  supplies: Record<string, number>
  freezerMl: number
  makes: { material: string; name: string; gramsPerUnit: number; readyAfterDays: number; keepsDays: number } | null
}

/** A canner load, a pot, an oven of trays: started a whole number of times a day. */
export type PackRun = {
  name: string
  unitsPerRun: number
  fillAtLeast: number
  machineMinutes: Partial<Record<EquipmentKind, number>>
  work: Partial<Record<WorkKind, number>>
}
