/** Why typed text was not taken. Forms turn these into words; the examples show what would have been taken. */
export const readingRefusals = [
  'empty',
  'too-long',
  'no-number',
  'no-unit',
  'unknown-unit',
  'no-figure-for-crop',
  'not-positive',
  'too-large',
  'not-finite',
  'out-of-range',
] as const
export type ReadingRefusal = (typeof readingRefusals)[number]

/** Typed text that was not taken, and what could be typed instead. */
export type Refused = { ok: false; reason: ReadingRefusal; examples: string[] }

/** A weight that was understood: whole grams, and how it was read ("2 bushels of damsons at 25.4 kg"). */
export type Weight = { grams: number; reading: string }
export type MassReading = ({ ok: true } & Weight) | Refused

export type VolumeReading = { ok: true; ml: number; reading: string } | Refused
export type TemperatureReading = { ok: true; celsius: number; reading: string } | Refused
export type LengthReading = { ok: true; metres: number; reading: string } | Refused
/** `share` runs from 0 to 1. */
export type PercentReading = { ok: true; share: number; reading: string } | Refused

/** Which units a person reads; what they type may always be either. */
export const unitSystems = ['metric', 'us'] as const
export type UnitSystem = (typeof unitSystems)[number]

/** Containers whose weight depends on what is in them. A peck is a quarter of a bushel and needs no figure of its own. */
export const containers = ['bushel', 'lug', 'crate', 'box', 'quart'] as const
export type Container = (typeof containers)[number]

export const pieceSizes = ['small', 'medium', 'large'] as const
export type PieceSize = (typeof pieceSizes)[number]

/** As much of a crop as reading a weight needs. A crop with no figure for a container simply has no row for it. */
export type MeasuredCrop = {
  singular: string
  plural: string
  synonyms: readonly string[]
  containers: readonly { container: Container; grams: number }[]
  /** Pieces in a kilogram by size; null: no figure. */
  pieces: { perKg: Readonly<Record<PieceSize, number>> } | null
}

/** The longest text that is read as one measure; more is no measure and is not looked at. */
export const longestTextRead = 200

export function refused(reason: ReadingRefusal, examples: string[]): Refused {
  return { ok: false, reason, examples }
}
