import type { LocalProcess } from '../process/local.ts'
import type { Citation } from '../process/sources.ts'
import type { Gauge, TestedProcess } from '../process/types.ts'
import type { Method } from '../produce/vocabulary.ts'

/** Where a recipe would be made, as far as its process depends on it. */
export type KitchenPlace = {
  /** Metres above the sea; null: nobody has said yet, and then no canned recipe is tested. */
  altitudeM: number | null
  /** Gauges of the pressure canners at hand. Both where nothing is known, so that a look-up is possible. */
  gauges: readonly Gauge[]
  /** What the stewards noted, withdrawn ones too. */
  local: readonly LocalProcess[]
}

export const standings = ['tested', 'local', 'departs', 'unknown', 'not-canned'] as const
/**
 * `tested`: follows a row of a published table. `local`: follows a process the co-op noted. `departs`: claims a tested
 * process and differs from it. `unknown`: no tested process is known for it. `not-canned`: it needs no heat process.
 */
export type Standing = (typeof standings)[number]

export const departureKinds = [
  'altitude-unknown',
  'refused',
  'starch',
  'too-much-modified-starch',
  'less-acid',
  'no-acid',
  'fresh-citrus',
  'unmeasured-vinegar',
  'bigger-jar',
  'jar-not-tested',
  'thicker-pack',
  'shorter-time',
  'less-headspace',
  'alkaline-crop',
  'white-flesh',
  'oil',
  'dairy',
  'egg',
  'meat',
  'nuts',
  'added-low-acid',
  'other-produce',
  'other-recipe',
  'less-sugar',
  'lime',
  'gauge-missing',
  'local-elsewhere',
] as const
export type DepartureKind = (typeof departureKinds)[number]

export type Departure = {
  kind: DepartureKind
  /** What differs and from what, with the figures. */
  says: string
  /** Where in the definition: "ingredients.2", "packs.0", "process", "inputs.0", or "" for the kitchen. */
  at: string
  source: Citation | null
}

/** A recipe in one of its packs. Each jar size has a table of its own, so each has its own standing. */
export type PackVerdict = {
  pack: string
  standing: Standing
  process: TestedProcess | null
  local: LocalProcess | null
  departures: Departure[]
  /** May stand on a shelf: tested or local in a jar, or dried. Everything else is kept cold. */
  shelfStable: boolean
}

export type RecipeVerdict = {
  /** The best that any pack reaches: a recipe with one tested jar size is usable in that size. */
  standing: Standing
  packs: PackVerdict[]
  /** What else can be done with it where some pack may not stand on a shelf; empty where all may. */
  instead: Method[]
}
