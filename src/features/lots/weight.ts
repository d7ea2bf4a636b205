import type { Crop } from '../../core/produce/index.ts'
import { examplesFor, parseMass, type ReadingRefusal } from '../../core/units/index.ts'
import type { FieldReading } from '../../web/forms.ts'

/** A weight as it was typed and what it comes to in whole grams. */
export type TypedWeight = { grams: number; typed: string }

/** Reads a typed weight; bushels and pieces need the crop. Refused in words with examples of what would be taken. */
export function readWeight(typed: string, crop?: Crop): FieldReading<TypedWeight> {
  const read = parseMass(typed, crop)
  return read.ok ? { value: { grams: read.grams, typed } } : { problem: weightProblem(read.reason, crop) }
}

/** As `readWeight`, for a part of a lot: nothing typed and 0 are no grams. */
export function readPartWeight(typed: string, crop: Crop): FieldReading<number> {
  if (/^(0+([.,]0*)?\s*\p{L}*)?$/u.test(typed)) return { value: 0 }
  const read = readWeight(typed, crop)
  return 'value' in read ? { value: read.value.grams } : read
}

/** Why a weight could not be read, and what to enter: "Enter the weight with its unit, like 12 kg, ..." */
export function weightProblem(reason: ReadingRefusal, crop?: Crop): string {
  const examples = examplesFor(crop)
  const like = `like ${examples.slice(0, -1).join(', ')} or ${examples.at(-1)}`
  switch (reason) {
    case 'no-unit':
      return `Enter the weight with its unit, ${like}`
    case 'unknown-unit':
      return `That unit is not known here. Enter the weight ${like}`
    case 'no-figure-for-crop':
      return crop === undefined
        ? `Choose the crop as well: what that weighs depends on it. Or enter the weight ${like}`
        : `What that weighs is not known for ${crop.plural}. Enter the weight ${like}`
    case 'not-positive':
      return `Enter a weight above 0, ${like}`
    case 'too-large':
      return `Enter less than 50 tonnes, ${like}`
    default:
      return `Enter the weight, ${like}`
  }
}
