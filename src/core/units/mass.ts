import { hasNumber, isSign, isWord, plainNumber, quantityAt } from './quantity.ts'
import {
  type Container,
  longestTextRead,
  type MassReading,
  type MeasuredCrop,
  type PieceSize,
  pieceSizes,
  type ReadingRefusal,
  refused,
  type Weight,
} from './readings.ts'
import { fold, type Token, tokenize } from './tokens.ts'

/** Grams in a pound avoirdupois: exact by definition (International Yard and Pound Agreement, 1959). */
export const gramsPerPound = 453.59237
export const gramsPerOunce = gramsPerPound / 16
/** The heaviest lot that is taken: 50 tonnes is far above any kitchen, so a larger number is a slip of the hand. */
export const largestLotGrams = 50_000_000

/**
 * Reads a weight as people type it and returns whole grams, at least 1 and at most 50 tonnes:
 * `90 kg`, `12 1/2 lb`, `12½ lb`, `1,5 kg`, `3 lb 4 oz`, `2 stone`, `1,234 lb` (read as 1234 lb, see `decimal`).
 * With a crop also `2 bushels`, `half a bushel`, `1 peck`, `3 lugs`, `36 medium`, `12 apples` (medium ones), by that crop's figures.
 * Text of more than `longestTextRead` characters is refused unread. A bare number is refused with `no-unit`; a container or piece without a published figure with `no-figure-for-crop`.
 */
export function parseMass(text: string, crop?: MeasuredCrop): MassReading {
  if (text.length > longestTextRead) return refused('too-long', examplesFor(crop))
  const tokens = tokenize(text)
  const prefix = massAt(tokens, 0, crop)
  if (!prefix.ok) return refused(prefix.reason, examplesFor(crop))
  const rest = afterCropName(tokens, prefix.next, crop)
  const left = tokens[rest]
  if (left !== undefined) return refused(left.kind === 'number' ? 'no-unit' : 'unknown-unit', examplesFor(crop))
  return { ok: true, grams: prefix.grams, reading: prefix.reading }
}

/** A weight at the beginning of some tokens and the index of the first token after it. */
export type MassPrefix = ({ ok: true; next: number } & Weight) | { ok: false; reason: ReadingRefusal }

/** Reads the longest weight that starts at a token; what follows it is the caller's. Refuses as `parseMass` does. */
export function massAt(tokens: readonly Token[], from: number, crop?: MeasuredCrop): MassPrefix {
  if (tokens.length <= from) return { ok: false, reason: 'empty' }
  const parts: Part[] = []
  let at = from
  while (parts.length < mostParts) {
    const start = parts.length === 0 ? at : skipJoin(tokens, at)
    const part = partAt(tokens, start, crop)
    if ('reason' in part) {
      if (parts.length === 0) return { ok: false, reason: part.reason }
      break
    }
    parts.push(part)
    at = part.next
  }
  const exact = parts.reduce((sum, part) => sum + part.grams, 0)
  const grams = Math.round(exact)
  if (!Number.isFinite(exact)) return { ok: false, reason: 'not-finite' }
  if (parts.some((part) => part.grams < 0) || grams <= 0) return { ok: false, reason: 'not-positive' }
  if (grams > largestLotGrams) return { ok: false, reason: 'too-large' }
  return { ok: true, grams, reading: parts.map((part) => part.reading).join(' and '), next: at }
}

/** What may be typed for this crop, for the words of a refusal. */
export function examplesFor(crop?: MeasuredCrop): string[] {
  const examples = ['12 kg', '12 1/2 lb', '3 lb 4 oz']
  const container = crop?.containers[0]?.container
  if (container !== undefined) examples.push(`2 ${plural(container)}`)
  if (crop?.pieces) examples.push('36 medium')
  return examples
}

/** "3 lb 4 oz", "2 bushels and 1 peck and 3 lb": nobody adds up more than this in one field. */
const mostParts = 4

type Part = { grams: number; reading: string; next: number }

const massUnits: ReadonlyMap<string, { grams: number; symbol: string }> = new Map(
  [
    { words: ['g', 'gr', 'gram', 'grams', 'gramme', 'grammes'], grams: 1, symbol: 'g' },
    {
      words: ['kg', 'kgs', 'kilo', 'kilos', 'kilogram', 'kilograms', 'kilogramme', 'kilogrammes'],
      grams: 1000,
      symbol: 'kg',
    },
    { words: ['t', 'tonne', 'tonnes'], grams: 1_000_000, symbol: 't' },
    { words: ['lb', 'lbs', 'pound', 'pounds'], grams: gramsPerPound, symbol: 'lb' },
    { words: ['oz', 'ozs', 'ounce', 'ounces'], grams: gramsPerOunce, symbol: 'oz' },
    { words: ['st', 'stone', 'stones'], grams: 14 * gramsPerPound, symbol: 'stone' },
  ].flatMap(({ words, grams, symbol }) => words.map((word) => [word, { grams, symbol }] as const)),
)

/** A peck is a quarter and a US dry gallon an eighth of a bushel (US dry measure, NIST Handbook 44, Appendix C; memory). */
const containerWords: ReadonlyMap<string, { container: Container; part: number; name: string }> = new Map(
  [
    { words: ['bushel', 'bushels', 'bu'], container: 'bushel' as const, part: 1, name: 'bushel' },
    { words: ['peck', 'pecks'], container: 'bushel' as const, part: 1 / 4, name: 'peck' },
    { words: ['lug', 'lugs'], container: 'lug' as const, part: 1, name: 'lug' },
    { words: ['crate', 'crates'], container: 'crate' as const, part: 1, name: 'crate' },
    { words: ['box', 'boxes'], container: 'box' as const, part: 1, name: 'box' },
    { words: ['quart', 'quarts', 'qt', 'qts'], container: 'quart' as const, part: 1, name: 'quart' },
  ].flatMap(({ words, ...rest }) => words.map((word) => [word, rest] as const)),
)

const pieceWords: ReadonlySet<string> = new Set(['piece', 'pieces', 'pc', 'pcs', 'head', 'heads', 'ear', 'ears'])

function partAt(tokens: readonly Token[], from: number, crop?: MeasuredCrop): Part | { reason: ReadingRefusal } {
  const quantity = quantityAt(tokens, from)
  if (quantity === null) return { reason: hasNumber(tokens.slice(from)) ? 'unknown-unit' : 'no-number' }
  let { value, next } = quantity
  if (isWord(tokens[next], 'half')) {
    value /= 2
    next += isSign(tokens[next + 1], '-') ? 2 : 1
  }
  const unit = tokens[next]
  if (unit === undefined || unit.kind === 'number') return { reason: 'no-unit' }
  if (unit.kind === 'sign') return { reason: 'unknown-unit' }
  const mass = massUnits.get(unit.word)
  if (mass !== undefined) {
    const grams = value * mass.grams
    return { grams, reading: `${plainNumber(value)} ${mass.symbol}`, next: skipPoint(tokens, next + 1) }
  }
  const container = containerWords.get(unit.word)
  if (container !== undefined) return containerPart(value, container, skipPoint(tokens, next + 1), crop)
  return piecePart(tokens, value, next, crop)
}

/** Parts of a container are read back as people say them. */
const quarters: ReadonlyMap<number, string> = new Map([
  [1 / 4, '1/4'],
  [1 / 2, '1/2'],
  [3 / 4, '3/4'],
])

function containerPart(
  value: number,
  unit: { container: Container; part: number; name: string },
  next: number,
  crop?: MeasuredCrop,
): Part | { reason: ReadingRefusal } {
  const figure = crop?.containers.find((row) => row.container === unit.container)
  if (crop === undefined || figure === undefined) return { reason: 'no-figure-for-crop' }
  const each = figure.grams * unit.part
  const name = value <= 1 ? unit.name : plural(unit.name)
  const reading = `${quarters.get(value) ?? plainNumber(value)} ${name} of ${crop.plural} at ${eachWeight(each)}`
  return { grams: value * each, reading, next }
}

function piecePart(
  tokens: readonly Token[],
  value: number,
  at: number,
  crop?: MeasuredCrop,
): Part | { reason: ReadingRefusal } {
  const unit = tokens[at]
  if (unit?.kind !== 'word') return { reason: 'no-unit' }
  const named = pieceSizes.find((size) => size === unit.word)
  const afterName = afterCropName(tokens, at, crop)
  if (named === undefined && afterName === at && !pieceWords.has(unit.word)) return { reason: 'unknown-unit' }
  if (crop === undefined || crop.pieces === null) return { reason: 'no-figure-for-crop' }
  const size: PieceSize = named ?? 'medium'
  const each = 1000 / crop.pieces.perKg[size]
  const name = value === 1 ? crop.singular : crop.plural
  const next = named === undefined && afterName > at ? afterName : at + 1
  return { grams: value * each, reading: `${plainNumber(value)} ${size} ${name} at ${eachWeight(each)}`, next }
}

/** Passes over "of" and the crop's own name, which may follow a weight and say nothing new. */
function afterCropName(tokens: readonly Token[], from: number, crop?: MeasuredCrop): number {
  if (crop === undefined) return from
  const start = isWord(tokens[from], 'of') ? from + 1 : from
  let best = from
  for (const name of [crop.singular, crop.plural, ...crop.synonyms]) {
    const words = fold(name).split(/[\s-]+/)
    let at = start
    for (const word of words) {
      if (isSign(tokens[at], '-')) at += 1
      if (!isWord(tokens[at], word)) {
        at = -1
        break
      }
      at += 1
    }
    if (at > best) best = at
  }
  return best
}

/** "3 lb and 4 oz", "3 lb, 4 oz", "3 lb + 4 oz". */
function skipJoin(tokens: readonly Token[], at: number): number {
  return isWord(tokens[at], 'and') || isSign(tokens[at], ',') || isSign(tokens[at], '+') ? at + 1 : at
}

function skipPoint(tokens: readonly Token[], at: number): number {
  return isSign(tokens[at], '.') ? at + 1 : at
}

function eachWeight(grams: number): string {
  return grams < 1000 ? `${Math.round(grams)} g` : `${plainNumber(Math.round(grams / 10) / 100)} kg`
}

function plural(container: string): string {
  return container === 'box' ? 'boxes' : `${container}s`
}
