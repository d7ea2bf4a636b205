import type { JarSize, PackStyle, ProcessMethod } from './types.ts'

/**
 * A process that a steward noted from a local food authority, for this co-op alone. It is shown as the co-op's own,
 * with its source, and never mixed with the published tables.
 */
export type LocalProcess = {
  id: string
  /** What it is for: "damsons, whole, in syrup". */
  product: string
  method: ProcessMethod
  pack: PackStyle
  jars: readonly JarSize[]
  /** Altitudes it was tested for, both included. */
  fromM: number
  toM: number
  minutes: number
  /** Pressure at the gauge; null for boiling water and steam. */
  kPa: number | null
  headspaceMm: number
  /** What must be added to each jar, in the authority's words; '' : nothing. */
  acid: string
  /** Authority, document, page and date, as noted. */
  source: string
  notedBy: string
  /** YYYY-MM-DD */
  notedOn: string
  /** No longer relied on: recipes that claim it fall back to "no tested process known". */
  withdrawn: boolean
}
