import { jarSizes, packStyles } from '../../core/process/index.ts'
import { equipmentKinds, stations, workKinds } from '../../core/produce/vocabulary.ts'
import { type Ingredient, ingredientKinds, type ProcessClaim, type Step } from '../../core/recipes/index.ts'
import { parseLength, parseMass, parseVolume } from '../../core/units/index.ts'
import { slug } from '../../core/units/slug.ts'
import type { FieldReader } from '../../web/field-reader.ts'
import { checkbox, choice, read } from '../../web/forms.ts'
import { keyText } from './document.ts'
import { neededLine, optionalLine } from './lists.ts'

type Reading<T> = { value: T } | { problem: string }
type Amount = { amount: number; unit: Ingredient['unit'] }

/** A row of what goes in beside produce. */
export function readIngredient(reader: FieldReader, at: string): Ingredient {
  const name = reader.get(`${at}.name`, neededLine('Enter what it is called, like “bottled lemon juice”', 60), '')
  const supply = reader.get(`${at}.supply`, read(readSupplyKey), '')
  const perKg = reader.get<Amount | null>(`${at}.perKg`, read(readAmount), null)
  const perUnit = reader.get<{ unit: Ingredient['unit']; amounts: Record<string, number> } | null>(
    `${at}.perUnit`,
    read(readAmounts, 300),
    null,
  )
  const unit = perKg?.unit ?? perUnit?.unit ?? 'g'
  if (perKg !== null && perUnit !== null && perKg.unit !== perUnit.unit) {
    reader.errors[`${at}.perUnit`] ??= 'Measure it the same way in both: by weight, by volume or by the piece'
  }
  if (perKg === null && perUnit === null && reader.errors[`${at}.perKg`] === undefined) {
    reader.errors[`${at}.perKg`] ??= 'Enter how much of it, for each kilogram or for each jar'
  }
  return {
    supply: supply === '' ? slug(name) : supply,
    name,
    kind: reader.get(`${at}.kind`, choice(ingredientKinds, 'Choose what it is'), 'other'),
    unit,
    perKg: perKg?.amount ?? 0,
    perUnit: perUnit?.amounts ?? {},
  }
}

/** What the recipe claims of its process; null where none is named. */
export function readClaim(reader: FieldReader): ProcessClaim | null {
  if (reader.isBlank('process.')) return null
  const local = reader.get('process.local', optionalLine(40), null)
  const words = 'Enter the product of the tested table it is made like, like “plums”'
  return {
    product: reader.get('process.product', local === null ? neededLine(words, 80) : optionalLine(80), null) ?? '',
    form: reader.get('process.form', optionalLine(80), null),
    pack: reader.get('process.pack', choice(packStyles, 'Choose how it is packed'), 'hot'),
    local,
    minutes: reader.get<number | null>('process.minutes', read(readOwnMinutes), null),
    headspaceMm: reader.get<number | null>('process.headspaceMm', read(readHeadspace), null),
  }
}

/** One step of the making. */
export function readStep(reader: FieldReader, at: string): Step {
  const minutes = (name: string) => reader.get(`${at}.${name}`, read(readMinutes), 0)
  return {
    says: reader.get(`${at}.says`, neededLine('Say what is done', 400), ''),
    station: reader.get(`${at}.station`, choice(stations, 'Choose where it is done'), 'stove'),
    work: reader.get(
      `${at}.work`,
      read((typed) => {
        const kind = workKinds.find((one) => one === typed)
        return { value: kind ?? null }
      }),
      null,
    ),
    hands: reader.get(`${at}.hands`, read(readHands), 1),
    minutes: { perKg: minutes('perKg'), perUnit: minutes('perUnit'), perRun: minutes('perRun') },
    waitMinutes: reader.get(`${at}.waitMinutes`, read(readWait), 0),
    equipment: reader.get(`${at}.equipment`, read(readEquipment), []),
    thenAtOnce: reader.get(`${at}.thenAtOnce`, checkbox(), false),
  }
}

/** The jar of a pack; null: a bag, a tray, a crock. */
export const jarField = read((typed): Reading<(typeof jarSizes)[number] | null> => {
  if (typed === '') return { value: null }
  const size = jarSizes.find((one) => one === typed)
  return size === undefined ? { problem: 'Choose a jar, or none' } : { value: size }
})

const amountExample = 'Enter an amount with its unit, like “110 g”, “1/2 cup” or “2 pieces”'

function readAmount(typed: string): Reading<Amount | null> {
  if (typed === '') return { value: null }
  const amount = amountOf(typed)
  return amount === null ? { problem: amountExample } : { value: amount }
}

/** "quart 2 tbsp, pint 1 tbsp": amounts by the short names of packs. */
function readAmounts(typed: string): Reading<{ unit: Ingredient['unit']; amounts: Record<string, number> } | null> {
  if (typed === '') return { value: null }
  const amounts: Record<string, number> = {}
  let unit: Ingredient['unit'] | null = null
  for (const part of typed.split(/[,;\n]/).map((text) => text.trim())) {
    if (part === '') continue
    const [, key = '', rest = ''] = /^([a-z0-9][a-z0-9-]*)[:\s]+(.+)$/.exec(part) ?? []
    const amount = amountOf(rest)
    if (amount === null || (unit !== null && unit !== amount.unit)) {
      return { problem: 'Write it like “quart 2 tbsp, pint 1 tbsp”, each measured the same way' }
    }
    if (amounts[key] !== undefined) return { problem: `Name ${key} once` }
    unit = amount.unit
    amounts[key] = amount.amount
  }
  return unit === null ? { value: null } : { value: { unit, amounts } }
}

function amountOf(typed: string): Amount | null {
  // citric acid is weighed to the tenth of a gram, finer than produce is
  const grams = /^(\d{1,5}(?:[.,]\d{1,3})?) ?g$/.exec(typed)
  if (grams !== null) return positive(Number(grams[1]?.replace(',', '.')), 'g')
  const mass = parseMass(typed)
  if (mass.ok) return { amount: mass.grams, unit: 'g' }
  const volume = parseVolume(typed)
  // never upward: a drop more than two spoons would be measured as two and a half
  if (volume.ok) return positive(Math.floor(volume.ml * 1000 + 1e-6) / 1000, 'ml')
  const pieces = /^(\d{1,4}(?:\.\d{1,3})?)(?: ?pieces?)?$/.exec(typed)
  return pieces === null ? null : positive(Number(pieces[1]), 'piece')
}

function positive(amount: number, unit: Ingredient['unit']): Amount | null {
  return amount > 0 ? { amount, unit } : null
}

function readSupplyKey(typed: string): Reading<string> {
  return typed === '' || keyText.safeParse(typed).success ? { value: typed } : { problem: 'Choose a supply' }
}

function readOwnMinutes(typed: string): Reading<number | null> {
  if (typed === '') return { value: null }
  const minutes = /^\d{1,3}$/.test(typed) ? Number(typed) : 0
  return minutes >= 1 && minutes <= 600
    ? { value: minutes }
    : { problem: 'Enter whole minutes, or nothing to take the table’s' }
}

function readHeadspace(typed: string): Reading<number | null> {
  if (typed === '') return { value: null }
  const length = parseLength(/^[\d.,]+$/.test(typed) ? `${typed} mm` : typed)
  const mm = length.ok ? length.metres * 1000 : -1
  return mm >= 0 && mm <= 100
    ? { value: Math.round(mm * 10) / 10 }
    : { problem: 'Enter a headspace like “13 mm” or “1/2 in”, or nothing to take the table’s' }
}

function readMinutes(typed: string): Reading<number> {
  const minutes = typed === '' ? 0 : /^\d{1,5}(?:[.,]\d{1,4})?$/.test(typed) ? Number(typed.replace(',', '.')) : -1
  return minutes >= 0 && minutes <= 10_080 ? { value: minutes } : { problem: 'Enter minutes, like 1.5' }
}

function readHands(typed: string): Reading<number> {
  const hands = typed === '' ? 1 : /^\d{1,2}$/.test(typed) ? Number(typed) : -1
  return hands >= 0 && hands <= 20 ? { value: hands } : { problem: 'Enter how many people do it, from 0 to 20' }
}

/** "12 h", "2 days", "45 min", "45": whole minutes. */
function readWait(typed: string): Reading<number> {
  if (typed === '') return { value: 0 }
  const [, many = '', unit = 'min'] =
    /^(\d{1,6}(?:[.,]\d)?) ?(min|minutes?|h|hours?|d|days?|weeks?)?$/.exec(typed) ?? []
  const factor = unit.startsWith('h') ? 60 : unit.startsWith('d') ? 1440 : unit.startsWith('w') ? 10_080 : 1
  const minutes = Math.round(Number(many.replace(',', '.')) * factor)
  return many !== '' && minutes <= 525_600
    ? { value: minutes }
    : { problem: 'Enter a time like “45 min”, “12 h” or “2 days”' }
}

function readEquipment(typed: string): Reading<Step['equipment']> {
  const names = typed
    .split(/[,;\n]/)
    .map((one) => one.trim().toLowerCase())
    .filter(Boolean)
  const unknown = names.find((name) => !equipmentKinds.some((kind) => kind === name))
  if (unknown !== undefined) {
    return { problem: `Name machines of ${equipmentKinds.join(', ')}: “${unknown.slice(0, 40)}” is none` }
  }
  return { value: equipmentKinds.filter((kind) => names.includes(kind)) }
}
