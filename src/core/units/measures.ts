import { metresPerFoot, mlPer } from './format.ts'
import { hasNumber, isSign, plainNumber, quantityAt } from './quantity.ts'
import {
  type LengthReading,
  longestTextRead,
  type PercentReading,
  type ReadingRefusal,
  type Refused,
  refused,
  type TemperatureReading,
  type VolumeReading,
} from './readings.ts'
import { type Token, tokenize } from './tokens.ts'

/** Reads a volume: `350 ml`, `1,5 l`, `2 cups`, `7 qt`, `1 gal`, `2 tbsp`, `8 fl oz`. Returns millilitres, above 0 and up to 100,000 litres. */
export function parseVolume(text: string): VolumeReading {
  const read = measure(text, volumeUnits)
  if (!read.ok) return refused(read.reason, volumeExamples)
  const ml = read.value * read.unit.factor
  const reason = outside(ml, 100_000_000)
  return reason === null ? { ok: true, ml, reading: read.reading } : refused(reason, volumeExamples)
}

/**
 * Reads a length or altitude: `640 m`, `2,100 ft`, `1/2 in`, `12 mm`. Returns metres, from -500 (the deepest land lies
 * above that) to 10,000.
 */
export function parseLength(text: string): LengthReading {
  const read = measure(text, lengthUnits)
  if (!read.ok) return refused(read.reason, lengthExamples)
  const metres = read.value * read.unit.factor
  if (!Number.isFinite(metres)) return refused('not-finite', lengthExamples)
  if (metres < -500 || metres > 10_000) return refused('out-of-range', lengthExamples)
  return { ok: true, metres, reading: read.reading }
}

/** Reads a temperature: `82 °C`, `180F`, `-18 C`. Returns degrees Celsius, from absolute zero to 1,000. */
export function parseTemperature(text: string): TemperatureReading {
  const read = measure(text, temperatureUnits)
  if (!read.ok) return refused(read.reason, temperatureExamples)
  const celsius = read.unit.symbol === '°F' ? ((read.value - 32) * 5) / 9 : read.value
  if (!Number.isFinite(celsius)) return refused('not-finite', temperatureExamples)
  if (celsius < -273.15 || celsius > 1000) return refused('out-of-range', temperatureExamples)
  return { ok: true, celsius, reading: read.reading }
}

/** Reads a share of a whole: `40 %`, `40`, `12.5 percent`. Returns 0 to 1; below 0 or above 100 % is `out-of-range`. */
export function parsePercent(text: string): PercentReading {
  if (text.length > longestTextRead) return refused('too-long', percentExamples)
  const tokens = tokenize(text)
  if (tokens.length === 0) return refused('empty', percentExamples)
  const quantity = quantityAt(tokens, 0)
  if (quantity === null) return refused(hasNumber(tokens) ? 'unknown-unit' : 'no-number', percentExamples)
  const sign = tokens[quantity.next]
  const named = isSign(sign, '%') || (sign?.kind === 'word' && (sign.word === 'percent' || sign.word === 'pct'))
  if (tokens.length > quantity.next + (named ? 1 : 0)) return refused('unknown-unit', percentExamples)
  if (!Number.isFinite(quantity.value)) return refused('not-finite', percentExamples)
  if (quantity.value < 0 || quantity.value > 100) return refused('out-of-range', percentExamples)
  return { ok: true, share: quantity.value / 100, reading: `${plainNumber(quantity.value)} %` }
}

type Unit = { factor: number; symbol: string }
type Measure = { ok: true; value: number; unit: Unit; reading: string } | { ok: false; reason: ReadingRefusal }

const volumeExamples: Refused['examples'] = ['350 ml', '1.5 l', '2 cups', '7 qt']
const lengthExamples: Refused['examples'] = ['640 m', '2,100 ft', '1/2 in']
const temperatureExamples: Refused['examples'] = ['82 °C', '180 °F']
const percentExamples: Refused['examples'] = ['40 %', '12.5 %']

const volumeUnits = units([
  [1, 'ml', ['ml', 'millilitre', 'millilitres', 'milliliter', 'milliliters']],
  [10, 'cl', ['cl']],
  [100, 'dl', ['dl']],
  [1000, 'l', ['l', 'litre', 'litres', 'liter', 'liters']],
  [mlPer.tsp, 'tsp', ['tsp', 'teaspoon', 'teaspoons']],
  [mlPer.tbsp, 'tbsp', ['tbsp', 'tbs', 'tablespoon', 'tablespoons']],
  [mlPer.fluidOunce, 'fl oz', ['fl oz', 'fluid ounce', 'fluid ounces']],
  [mlPer.cup, 'cups', ['cup', 'cups']],
  [mlPer.pint, 'pt', ['pt', 'pint', 'pints']],
  [mlPer.quart, 'qt', ['qt', 'qts', 'quart', 'quarts']],
  [mlPer.gallon, 'gal', ['gal', 'gallon', 'gallons']],
])
const lengthUnits = units([
  [0.001, 'mm', ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters']],
  [0.01, 'cm', ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters']],
  [1, 'm', ['m', 'metre', 'metres', 'meter', 'meters']],
  [1000, 'km', ['km']],
  [metresPerFoot / 12, 'in', ['in', 'inch', 'inches', '"', '″']],
  [metresPerFoot, 'ft', ['ft', 'foot', 'feet']],
])
const temperatureUnits = units([
  [1, '°C', ['c', '° c', 'celsius', 'degrees c', 'degrees celsius', '℃']],
  [1, '°F', ['f', '° f', 'fahrenheit', 'degrees f', 'degrees fahrenheit', '℉']],
])

function units(rows: readonly (readonly [number, string, readonly string[]])[]): ReadonlyMap<string, Unit> {
  return new Map(rows.flatMap(([factor, symbol, words]) => words.map((word) => [word, { factor, symbol }] as const)))
}

/** One number and one unit of at most two tokens, and nothing else. */
function measure(text: string, known: ReadonlyMap<string, Unit>): Measure {
  if (text.length > longestTextRead) return { ok: false, reason: 'too-long' }
  const tokens = tokenize(text)
  if (tokens.length === 0) return { ok: false, reason: 'empty' }
  const quantity = quantityAt(tokens, 0)
  if (quantity === null) return { ok: false, reason: hasNumber(tokens) ? 'unknown-unit' : 'no-number' }
  const rest = tokens.slice(quantity.next).filter((token) => !isSign(token, '.'))
  if (rest.length === 0 || rest[0]?.kind === 'number') return { ok: false, reason: 'no-unit' }
  const unit = rest.length > 2 ? undefined : known.get(rest.map(spelling).join(' '))
  if (unit === undefined) return { ok: false, reason: 'unknown-unit' }
  return { ok: true, value: quantity.value, unit, reading: `${plainNumber(quantity.value)} ${unit.symbol}` }
}

function spelling(token: Token): string {
  return token.kind === 'word' ? token.word : token.kind === 'sign' ? token.sign : token.raw
}

function outside(value: number, most: number): ReadingRefusal | null {
  if (!Number.isFinite(value)) return 'not-finite'
  if (value <= 0) return 'not-positive'
  return value > most ? 'too-large' : null
}
