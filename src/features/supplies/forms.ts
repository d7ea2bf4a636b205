import { parseMass, parseVolume } from '../../core/units/index.ts'
import { slug } from '../../core/units/slug.ts'
import { type FieldReader, fieldReader } from '../../web/field-reader.ts'
import { choice, money, neededText, type ReadForm, read, type Typed, wholeNumber } from '../../web/forms.ts'
import { typedMass, typedMoney, typedVolume } from '../../web/typed.ts'
import { MOST_HELD } from '../shelf/index.ts'
import type { Count, Supply, SupplyValues } from './queries.ts'

/** In what a supply is counted. */
export const supplyUnits = ['jar', 'lid', 'bag', 'piece', 'g', 'ml'] as const
export type SupplyUnit = (typeof supplyUnits)[number]

export const MOST_ON_HAND = MOST_HELD
export const MOST_PACKS = 10_000
export const MOST_PRICE_MINOR = 10_000_000

/** Reads the form for a change; amounts of weight and volume may be typed in any unit. */
export function readSupplyForm(typed: Typed): ReadForm<SupplyValues> {
  const reader = fieldReader(typed)
  return answerOf(reader, typed, readValues(reader))
}

/** Reads the form for a new supply: the short name that recipes use is made from the name where none is typed. */
export function readNewSupplyForm(typed: Typed): ReadForm<SupplyValues & { key: string }> {
  const reader = fieldReader(typed)
  const values = readValues(reader)
  const key = reader.get('key', read(readKey), '') || slug(values.name)
  if (key === '' && values.name !== '') reader.errors['key'] ??= 'Enter a short name in small letters, like “jar-pint”'
  return answerOf(reader, typed, { ...values, key })
}

/**
 * Reads what was counted: `onHand.<id>` as typed, `shown.<id>` as the page had it. Supplies that the form does not name
 * are left alone.
 */
export function readCountsForm(typed: Typed, supplies: readonly Supply[]): ReadForm<Count[]> {
  const reader = fieldReader(typed)
  const counts = supplies
    .filter(({ id }) => typed[`onHand.${id}`] !== undefined)
    .map(({ id, unit, onHand }) => ({
      id,
      shown: reader.get(`shown.${id}`, wholeNumber('Open the page again', 0, MOST_ON_HAND), onHand),
      counted: reader.get(`onHand.${id}`, amountIn(unit, 0), 0),
    }))
  return answerOf(reader, typed, counts)
}

/** The form's fields as they would be typed for this supply. */
export function supplyTyped(supply: Supply): Typed {
  return {
    name: supply.name,
    unit: supply.unit,
    onHand: typedAmount(supply.onHand, supply.unit),
    packSize: typedAmount(supply.packSize, supply.unit),
    packPriceMinor: typedMoney(supply.packPriceMinor),
    packsAtMost: String(supply.packsAtMost),
    version: String(supply.version),
  }
}

/** "34", "9 kg", "500 ml": an amount as it would be typed. */
export function typedAmount(amount: number, unit: string): string {
  if (unit === 'g') return typedMass(amount)
  return unit === 'ml' ? typedVolume(amount) : String(amount)
}

function readValues(reader: FieldReader): SupplyValues {
  const unit = reader.get('unit', choice(supplyUnits, 'Choose in what it is counted'), 'piece')
  return {
    name: reader.get('name', neededText('Enter a name, like “pint jars”', 80), ''),
    unit,
    onHand: reader.get('onHand', amountIn(unit, 0), 0),
    packSize: reader.get('packSize', amountIn(unit, 1), 1),
    packPriceMinor: reader.get('packPriceMinor', money('Enter the price of a pack, like 4.50', MOST_PRICE_MINOR), 0),
    packsAtMost: reader.get(
      'packsAtMost',
      wholeNumber('Enter how many packs may be bought, 0 for none', 0, MOST_PACKS),
      0,
    ),
  }
}

/** An amount of a supply: a whole number in its unit, or a weight or volume where the unit is one. */
function amountIn(unit: string, least: number) {
  const example = unit === 'g' ? 'like “2 kg” or “450”' : unit === 'ml' ? 'like “500 ml” or “1 l”' : 'like 12'
  return read((typed) => {
    const amount = amountOf(typed, unit)
    return amount >= least && amount <= MOST_ON_HAND
      ? { value: amount }
      : { problem: `Enter an amount from ${least}, ${example}` }
  }, 40)
}

function amountOf(typed: string, unit: string): number {
  if (/^\d{1,9}$/.test(typed)) return Number(typed)
  if (unit === 'g') {
    const mass = parseMass(typed)
    return mass.ok ? mass.grams : /^0 ?(k?g)$/.test(typed) ? 0 : Number.NaN
  }
  if (unit !== 'ml') return Number.NaN
  const volume = parseVolume(typed)
  return volume.ok ? Math.round(volume.ml) : /^0 ?(ml|l)$/.test(typed) ? 0 : Number.NaN
}

function readKey(typed: string): { value: string } | { problem: string } {
  return typed === '' || /^[a-z0-9][a-z0-9-]{0,39}$/.test(typed)
    ? { value: typed }
    : { problem: 'Use small letters, digits and hyphens, like “jar-pint”' }
}

function answerOf<V>({ errors }: FieldReader, typed: Typed, values: V): ReadForm<V> {
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}
