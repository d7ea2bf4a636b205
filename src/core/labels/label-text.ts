import { freezerTempC } from '../practice/freezing.ts'
import { formatTemperature, formatVolume, mlPer, type UnitSystem } from '../units/index.ts'

/** How what is in it keeps, which decides what its label warns of. `shelf` is for what a tested process has made shelf-stable, and nothing else. */
export const shelfLives = ['shelf', 'refrigerated', 'frozen', 'dried'] as const
export type ShelfLife = (typeof shelfLives)[number]

/** What is known of one jar, bag or tub when its label is printed. Dates are ISO dates. */
export type JarFacts = {
  product: string
  variety: string | null
  madeOn: string
  /** null: nothing published says how long it keeps, and the label says nothing */
  bestBy: string | null
  /** "Pint jar", and what it holds in millilitres; null: a bag or a tray */
  jar: { name: string; ml: number | null }
  batchCode: string
  /** Whose it is; null: it is on the shared shelf */
  household: string | null
  /** "milk", "mustard": shown on every label that has any */
  allergens: readonly string[]
  /** More to warn of, in words of the recipe */
  cautions: readonly string[]
  shelfLife: ShelfLife
  /** Whole days from opening or, for what is frozen, from thawing, 1 or more; null: not known */
  useWithinDays: number | null
}

export const labelLineKinds = [
  'product',
  'variety',
  'allergens',
  'caution',
  'best-by',
  'made',
  'code',
  'jar',
  'household',
  'care',
] as const
export type LabelLineKind = (typeof labelLineKinds)[number]

/** A line in reading order. One that is `needed` is never left off; of the others the last goes first where room is short. */
export type LabelLine = { kind: LabelLineKind; text: string; needed: boolean }

/**
 * What a label says, in the order in which a person at the shelf asks: what is it, may I eat it, how do I keep it, until
 * when, and which batch. Temperatures and volumes are in the co-op's units.
 * @throws RangeError for an empty product or batch code, for what is no ISO date, and for days that are not whole from 1
 */
export function labelText(jar: JarFacts, units: UnitSystem): LabelLine[] {
  const product = plain(jar.product)
  const code = plain(jar.batchCode)
  if (product === '' || code === '') throw new RangeError('a label names a product and a batch')
  const variety = plain(jar.variety ?? '')
  const allergens = jar.allergens.map(plain).filter((name) => name !== '')
  const volume = jar.jar.ml === null ? '' : `, ${volumeWords(jar.jar.ml, units)}`
  return [
    needed('product', product),
    ...(variety === '' ? [] : [optional('variety', variety)]),
    ...(allergens.length === 0 ? [] : [needed('allergens', `Contains: ${allergens.join(', ')}`)]),
    ...[...keepingWords(jar, units), ...jar.cautions.map(plain)]
      .filter((words) => words !== '')
      .map((words) => needed('caution', words)),
    ...(jar.bestBy === null ? [] : [needed('best-by', `Best by ${labelDate(jar.bestBy)}`)]),
    needed('made', `Made ${labelDate(jar.madeOn)}`),
    needed('code', `Batch ${code}`),
    optional('jar', `${plain(jar.jar.name)}${volume}`),
    optional('household', jar.household === null ? 'Shared shelf' : plain(jar.household)),
    ...(jar.shelfLife === 'shelf' ? [optional('care', sealWords)] : []),
  ].filter(({ text }) => text !== '')
}

/** "14 Sep 2026": the month in letters, so that nobody takes the day for the month. @throws RangeError for what is no ISO date */
export function labelDate(date: string): string {
  const at = new Date(`${date}T00:00:00Z`)
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(at.getTime()) || !at.toISOString().startsWith(date))
    throw new RangeError(`not an ISO date: ${date.slice(0, 40)}`)
  return `${at.getUTCDate()} ${months[at.getUTCMonth()]} ${at.getUTCFullYear()}`
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** USDA Complete Guide to Home Canning, Guide 1, "Identifying and handling spoiled canned food" (memory): never taste food from a jar with an unsealed lid. */
const sealWords = 'Lid loose, bulging or leaking: do not taste it'

function keepingWords({ shelfLife, useWithinDays }: JarFacts, units: UnitSystem): string[] {
  if (useWithinDays !== null && !(Number.isSafeInteger(useWithinDays) && useWithinDays >= 1))
    throw new RangeError('days are whole, 1 or more')
  const days = useWithinDays === 1 ? '1 day' : `${useWithinDays} days`
  const within = (from: string) => (useWithinDays === null ? [] : [`Use within ${days} of ${from}`])
  switch (shelfLife) {
    case 'shelf':
      return [useWithinDays === null ? 'Once open, refrigerate' : `Once open, refrigerate and use within ${days}`]
    case 'refrigerated':
      return ['Keep refrigerated: not shelf-stable', ...within('opening')]
    case 'frozen':
      return [`Keep frozen, ${formatTemperature(freezerTempC, units)} or colder`, ...within('thawing')]
    case 'dried':
      return ['Keep dry, closed and dark', ...within('opening')]
  }
}

/** Jars are sold by the fluid ounce in US measures, where a cup says little. */
function volumeWords(ml: number, units: UnitSystem): string {
  return units === 'us' ? `${Math.round(ml / mlPer.fluidOunce)} fl oz` : formatVolume(ml, units)
}

/** One line of composed letters, as fonts have them: no breaks, no control characters, no double spaces. */
function plain(text: string): string {
  return text
    .toWellFormed()
    .normalize('NFC')
    .replace(/[\s\p{Cc}]+/gu, ' ')
    .trim()
}

function needed(kind: LabelLineKind, text: string): LabelLine {
  return { kind, text, needed: true }
}

function optional(kind: LabelLineKind, text: string): LabelLine {
  return { kind, text, needed: false }
}
