import type { JarSize, PackStyle } from '../process/types.ts'
import type { EquipmentKind, Method, RipenessClass, Station, TrimKind, WorkKind } from '../produce/vocabulary.ts'

/**
 * A recipe: what one unit of each pack takes in, gives back, costs and keeps busy, and how it is made. What it claims
 * about its process is only a claim: `verdictOn` holds it against the published tables.
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
  /** What goes in beside produce: sugar, bottled acid, spices. In the order in which a card lists them. */
  ingredients: Ingredient[]
  /** What it is made like, where it is canned; null: it claims no process. */
  process: ProcessClaim | null
  /** How it is made, in order. May be empty. */
  steps: Step[]
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

/** What an ingredient is, as far as a process cares. */
export const ingredientKinds = [
  'water',
  'juice',
  'sugar',
  'honey',
  'salt',
  'spice',
  'pectin',
  'ascorbic-acid',
  'bottled-lemon-juice',
  'citric-acid',
  'vinegar-5',
  'vinegar-unmeasured',
  'fresh-citrus-juice',
  'modified-starch',
  'starch',
  'low-acid-vegetable',
  'acid-fruit',
  'dried-fruit',
  'oil',
  'dairy',
  'egg',
  'meat',
  'nuts',
  'alcohol',
  'lime',
  'other',
] as const
export type IngredientKind = (typeof ingredientKinds)[number]

export type Ingredient = {
  /** The supply it is taken from: "sugar", "lemon-juice". */
  supply: string
  /** As a card calls it: "bottled lemon juice". */
  name: string
  kind: IngredientKind
  /** The supply's unit. */
  unit: 'g' | 'ml' | 'piece'
  /** For each kilogram of raw weight; 0 where it goes by the jar only. */
  perKg: number
  /** For one unit of a pack, by the pack's key: acid is measured into each jar. */
  perUnit: Record<string, number>
}

/** What a canned recipe says of its process. */
export type ProcessClaim = {
  /** A product of the process table ("plums") or, with `local`, what the co-op's own process is called. */
  product: string
  /** One of the product's forms; null: as the table has it when there is only one. */
  form: string | null
  pack: PackStyle
  /** The id of a process that a steward noted from a local authority; null: from the published tables. */
  local: string | null
  /** Minutes that the recipe itself states (for the first band of altitude); null: the table's. */
  minutes: number | null
  /** Headspace that the recipe itself states, in millimetres; null: the table's. */
  headspaceMm: number | null
}

/** One step of the making. The timetable will place it; a card shows it. */
export type Step = {
  /** What is done, in plain words. */
  says: string
  station: Station
  /** The skill it takes; null: nobody is needed (a dehydrator runs). */
  work: WorkKind | null
  /** People who do it at the same time. */
  hands: number
  /** Minutes of one pair of hands for each kilogram of raw weight, each unit and each load. */
  minutes: { perKg: number; perUnit: number; perRun: number }
  /** Minutes after it in which nobody is needed: drawing overnight, drying, cooling. */
  waitMinutes: number
  /** Machines that it keeps busy, waiting included. */
  equipment: EquipmentKind[]
  /** The next step follows without a pause: hot food goes into hot jars into a hot canner. */
  thenAtOnce: boolean
}

/** One size in which a recipe is put up. */
export type Pack = {
  /** Unique within the recipe: "quart", "bag-1kg". */
  key: string
  /** What one is called, singular and plural. */
  unit: string
  units: string
  /** The jar it is closed in, where it is heated in one; null: a bag, a tray, a crock. */
  jar: JarSize | null
  /** Raw weight for one, produce and materials together. */
  gramsPerUnit: number
  /** What one is worth to the co-op, minor units of its currency. */
  worthMinor: number
  runs: PackRun[]
  workPerUnit: Partial<Record<WorkKind, number>>
  machineMinutesPerUnit: Partial<Record<EquipmentKind, number>>
  /** What it is put up in, by supply for one unit: { "jar-quart": 1, lid: 1 }. What goes in is an ingredient. */
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
  /** The tested minutes at the co-op's altitude come on top of the machines' minutes: heating up and cooling are in them. */
  process: boolean
}
