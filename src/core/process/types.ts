import type { Citation } from './sources.ts'

/** How a closed jar is heated. Gauges are methods of their own: their pressures and bands of altitude differ. */
export const processMethods = ['boiling-water', 'steam', 'dial-gauge', 'weighted-gauge'] as const
export type ProcessMethod = (typeof processMethods)[number]

/** How food goes into the jar: already boiling, or uncooked. */
export const packStyles = ['hot', 'raw'] as const
export type PackStyle = (typeof packStyles)[number]

/** Jars for which times are published, smallest first. */
export const jarSizes = ['half-pint', '12-ounce', 'pint', '1.5-pint', 'quart', 'half-gallon'] as const
export type JarSize = (typeof jarSizes)[number]

/** Which gauge a pressure canner has. */
export const gauges = ['dial', 'weighted'] as const
export type Gauge = (typeof gauges)[number]

/** One column of a published table: altitudes in feet as printed (upper edge included; null: no upper edge printed). */
export type Band = {
  fromFt: number
  toFt: number | null
  /** Minutes at a full boil, or at pressure. */
  minutes: number
  /** Pounds per square inch at the gauge; null: no pressure. */
  psi: number | null
}

/** One acid that may be added, by the jar. Amounts are the published US measures; a pint's also serve a half-pint in half. */
export type AcidChoice = {
  acid: 'bottled-lemon-juice' | 'citric-acid' | 'vinegar-5'
  /** Tablespoons of a liquid, teaspoons of crystals. */
  perPint: number | null
  perQuart: number
}

/**
 * One row of a published table: what may be done with one product, in one style and pack, in the jars named.
 * It holds for nothing else.
 */
export type ProcessRow = {
  /** Unique: "boiling-water/plums/halved or whole/hot/quart" */
  id: string
  /** As published, lower case: "plums", "tomatoes", "apple pie filling" */
  product: string
  /** As published: "halved or whole", "packed in water" */
  form: string
  method: Exclude<ProcessMethod, 'steam'>
  pack: PackStyle
  jars: readonly JarSize[]
  /** Ascending, without gaps. An altitude above the last one's upper edge has no tested process. */
  bands: readonly Band[]
  /** null: not printed in the table */
  headspaceIn: number | null
  acidity: 'acid' | 'acidified' | 'low-acid'
  /** What must be added to every jar, any one of them; empty: nothing. */
  acid: readonly AcidChoice[]
  /** Jars are boiled empty first, as the time is under ten minutes in the first band. */
  sterileJars: boolean
  /** It holds only for the published recipe with its proportions, not for the crop as such. */
  asPublished: boolean
  notes: readonly string[]
  source: Citation
}

/** What is asked. Product and form are the published names, a crop's key, or a name listed for them. */
export type ProcessQuery = {
  product: string
  form?: string | undefined
  pack?: string | undefined
  jar: string
  altitudeM: number
  /** A `ProcessMethod`; `water-bath-canned`; or `pressure-canned` together with a gauge. */
  method: string
  gauge?: string | undefined
}

/** Follows a row of a table, at one band of altitude. */
export type TestedProcess = {
  answer: 'tested'
  row: ProcessRow
  band: Band
  method: ProcessMethod
  pack: PackStyle
  jar: JarSize
  minutes: number
  psi: number | null
  kPa: number | null
  headspaceIn: number | null
  headspaceMm: number | null
  /** For this jar, any one of them; never rounded down. */
  acid: readonly { acid: AcidChoice['acid']; amount: number; unit: 'tbsp' | 'tsp'; ml: number }[]
  sterileJars: boolean
  notes: readonly string[]
  source: Citation
  /** Other tested ways for the same question (another pressure, another pack where none was named), each complete. */
  others: readonly TestedProcess[]
}

export const refusalReasons = [
  'low-acid',
  'untested-style',
  'withdrawn',
  'unsafe-method',
  'pack-not-tested',
  'jar-too-large',
  'jar-not-tested',
  'method-not-tested',
  'form-not-tested',
  'above-the-table',
  'altitude-unknown',
  'too-long-for-steam',
  'gauge-unknown',
] as const
export type RefusalReason = (typeof refusalReasons)[number]

/** Something is known about the product, and it speaks against what was asked. */
export type Refusal = {
  answer: 'refused'
  reason: RefusalReason
  /** One or two plain sentences. */
  says: string
  /** What can be done instead, each a plain phrase: "freeze it", "use pints or quarts". */
  instead: readonly string[]
  source: Citation | null
}

/** No table is known for it. It is treated as refused: nothing is guessed. */
export type Unknown = { answer: 'unknown'; says: string; instead: readonly string[] }

export type ProcessAnswer = TestedProcess | Refusal | Unknown
