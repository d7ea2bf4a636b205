import type { Container, PieceSize } from '../units/readings.ts'
import type { SourceId } from './sources.ts'
import type { TrimKind } from './vocabulary.ts'

/**
 * Where a figure comes from. `seen`: read in the source. `memory`: known but not read again, to be checked before
 * anything that can hurt depends on it. `practice`: common practice or a rule of ours, no published figure.
 */
export type Citation = {
  document: SourceId
  section?: string
  confidence: 'seen' | 'memory' | 'practice'
  note?: string
}

export type CropKind = 'fruit' | 'vegetable'

/**
 * `acid`: published pH stays at or below 4.6. `borderline`: the published range crosses 4.6, or a food authority
 * treats the crop as uncertain. `low-acid`: above 4.6. It describes the raw crop; it never permits a process by itself.
 */
export type AcidityClass = 'acid' | 'borderline' | 'low-acid'

export type ContainerWeight = { container: Container; grams: number; source: Citation }

/** What a kilogram of the crop as bought gives: `edible` is kept, `share` = 1 - edible leaves as trim of `kind`. */
export type Trim = { edible: number; share: number; kind: TrimKind; how: string; source: Citation }

/**
 * A published life in days, low and high, at one temperature.
 * `cold-store`: firm produce in commercial cold and humid air until it is no longer worth selling.
 * `household`: produce ready to eat, in a refrigerator or on a shelf, until it is no longer worth eating.
 * `ripening`: firm produce at room temperature until it is ripe.
 */
export type StorageLife = {
  basis: 'cold-store' | 'household' | 'ripening'
  tempC: number
  days: readonly [number, number]
  source: Citation
}

/** One crop, with a source beside each figure. Weights are grams, temperatures degrees Celsius, lives days. */
export type Crop = {
  /** Kebab-case singular: `damson`, `sweet-corn`. */
  key: string
  singular: string
  plural: string
  synonyms: readonly string[]
  kind: CropKind
  ph: { low: number; high: number; source: Citation }
  acidity: AcidityClass
  /** A food authority's notice that the pH alone would mislead; absent where there is none known. */
  acidityNotice?: Citation
  containers: readonly ContainerWeight[]
  /** Pieces in a kilogram by size; null: not counted by the piece. */
  pieces: { perKg: Readonly<Record<PieceSize, number>>; source: Citation } | null
  trim: Trim
  storageLives: readonly StorageLife[]
  /** How many times faster it ages when it is 10 degrees warmer. */
  q10: { value: number; source: Citation }
  /** Below this temperature cold itself does harm, so that more cold keeps it no longer; null: bears 0 degrees. */
  chillsBelowC: { value: number; source: Citation } | null
}
