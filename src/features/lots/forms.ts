import { z } from 'zod'
import { crop, dateAfter, lotSources, ripenessClasses, storages } from '../../core/produce/index.ts'
import { parsePercent } from '../../core/units/index.ts'
import {
  checkbox,
  choice,
  date,
  type FieldReading,
  neededText,
  optionalMoney,
  optionalText,
  type ReadForm,
  read,
  readForm,
  type Typed,
} from '../../web/forms.ts'
import { typedMoney } from '../../web/typed.ts'
import type { Intake, Reweighed } from './actions.ts'
import type { Lot, LotChange, SortingPart } from './lot.ts'
import type { Sorted } from './sorting.ts'
import { knownCrop } from './standing.ts'
import { readPartWeight, readWeight } from './weight.ts'

/** So long ago produce may have come in at most. */
export const longestAgoDays = 366

/** The form of a new lot; `today` is the co-op's date. The weight is read by the crop that was chosen. */
export function readIntakeForm(typed: Typed, today: string): ReadForm<Intake> {
  return intakeReader(today)(typed)
}

/** As `readIntakeForm`, for many lots: what reads a crop's fields is made once for each crop, as making it takes longest. */
export function intakeReader(today: string): (typed: Typed) => ReadForm<Intake> {
  const made = new Map<string, ReturnType<typeof intakeFields>>()
  return (typed) => {
    const key = textOf(typed, 'crop')
    const fields = made.get(key) ?? intakeFields(key, today)
    made.set(key, fields)
    const form = readForm(fields, typed)
    if (!form.ok) return form
    const { weight, ...values } = form.values
    return { ...form, values: { ...values, weightGrams: weight.grams, weightTyped: weight.typed } }
  }
}

function intakeFields(chosen: string, today: string) {
  return z.object({
    ...aboutFields,
    crop: read((key) => (crop(key) === undefined ? { problem: 'Choose the crop' } : { value: key })),
    weight: read((text) => readWeight(text, crop(chosen))),
    arrivedOn: arrival(today),
    storage: choice(storages, 'Choose where it waits'),
    class: choice(ripenessClasses, 'Choose how most of it is'),
  })
}

/** The form of a change. The weight is read only where it was typed anew; null otherwise. */
export function readChangeForm(typed: Typed, lot: Lot): ReadForm<LotChange & { weight?: Reweighed }> {
  const asBefore = typed['weight'] === undefined || textOf(typed, 'weight').trim() === lot.weightTyped
  if (asBefore) return readForm(z.object(aboutFields), typed)
  const weight = read((text) => readWeight(text, knownCrop(lot.crop)))
  return readForm(z.object({ ...aboutFields, weight }), typed)
}

/** The form of a sorting: six parts, each a weight in any unit, or a share. */
export function readSortingForm(
  typed: Typed,
  lot: Pick<Lot, 'crop'>,
): ReadForm<{ sorted: Sorted; note: string | null }> {
  const byShare = textOf(typed, 'how') === 'shares'
  const known = knownCrop(lot.crop)
  const part = read<number>((text) => (byShare ? readShare(text) : readPartWeight(text, known)))
  const fields = z.object({
    how: choice(['weights', 'shares'], 'Choose by weight or by share'),
    ...partFields(part),
    sure: checkbox(),
    note: optionalText(500),
  })
  const form = readForm(fields, typed)
  if (!form.ok) return form
  const { how, sure, note, ...parts } = form.values
  return { ...form, values: { sorted: how === 'weights' ? { how, parts, sure } : { how, parts }, note } }
}

/** The form's fields as they would be typed for this lot. */
export function changeTyped(lot: Lot): Typed {
  const { variety, source, broughtBy, householdId, priceMinor, note, weightTyped } = lot
  return {
    variety: variety ?? '',
    source,
    broughtBy,
    householdId: householdId ?? '',
    priceMinor: priceMinor === null ? '' : typedMoney(priceMinor),
    note: note ?? '',
    weight: weightTyped,
  }
}

/** "2026-09-11", "today", "yesterday"; nothing typed is today. Not later than today. */
export function readArrival(typed: string, today: string): FieldReading<string> {
  const word = typed.toLowerCase()
  if (word === '' || word === 'today') return { value: today }
  if (word === 'yesterday') return { value: dateAfter(today, -1) }
  const exact = date('').safeParse(typed)
  if (!exact.success) return { problem: `Enter the date it came in, like ${today} or yesterday` }
  if (exact.data > today) return { problem: `Enter a date that is not after today, like ${today} or yesterday` }
  if (exact.data < dateAfter(today, -longestAgoDays)) {
    return { problem: `Enter a date of the last twelve months, like ${today} or yesterday` }
  }
  return { value: exact.data }
}

const about = z.object({
  variety: optionalText(80),
  source: choice(lotSources, 'Choose how it came'),
  broughtBy: neededText('Enter who brought it, like a member or an orchard', 80),
  householdId: optionalText(40),
  priceMinor: optionalMoney('Enter the price like 54 or 54.50, or leave it empty'),
  note: optionalText(500),
})
const aboutFields = about.shape

function arrival(today: string) {
  return read((typed) => readArrival(typed, today), 20)
}

function partFields<T>(field: T): Record<SortingPart, T> {
  return { firm: field, ripe: field, soft: field, damaged: field, setAside: field, lost: field }
}

function readShare(typed: string): FieldReading<number> {
  if (typed === '') return { value: 0 }
  const share = parsePercent(typed)
  return share.ok ? { value: share.share } : { problem: 'Enter a share from 0 to 100 %, like 40 %' }
}

function textOf(typed: Typed, name: string): string {
  const value = typed[name]
  return typeof value === 'string' ? value.normalize('NFC').trim() : ''
}
