import { z } from 'zod'
import { parseMass } from '../../../core/units/index.ts'
import { fieldReader } from '../../../web/field-reader.ts'
import { checkbox, date, many, money, neededText, type ReadForm, read, type Typed } from '../../../web/forms.ts'
import { typedMass, typedMoney } from '../../../web/typed.ts'
import { nothingBrought } from '../standing/queries.ts'
import type { ShareChoice, ShareFacts } from './propose.ts'
import type { ShareOut } from './queries.ts'

/** No jar counts for more, in minor units. */
export const MOST_WORTH = 1_000_000
/** No household brings more than this: 50 tonnes, 10,000 hours, 100,000 of the currency. */
export const MOST_BROUGHT = { grams: 50_000_000, minutes: 600_000, moneyMinor: 10_000_000 } as const

export type TypedShareOut = ShareChoice & { name: string }

/** Which fields a household has; each name begins with the household's. */
export const householdField = (id: string, field: 'in' | 'kg' | 'hours' | 'money' | 'declines'): string =>
  `household.${id}.${field}`
export const productField = (id: string, field: 'units' | 'worth'): string => `product.${id}.${field}`

/** The form of a sharing out, for the products in stock and the households there are. */
export function readShareOutForm(typed: Typed, { stock, members }: ShareFacts): ReadForm<TypedShareOut> {
  const reader = fieldReader(typed)
  const name = reader.get('name', neededText('Enter a name, like “harvest shares”', 80), '')
  const products = stock.map(({ id, name }) => ({
    id,
    units: reader.get(productField(id, 'units'), jars(name), 0),
    worthMinor: reader.get(
      productField(id, 'worth'),
      money(`Enter what one of ${name} counts for, like 3.50`, MOST_WORTH),
      0,
    ),
  }))
  const ids = products.map(({ id }) => id)
  const households = members
    .filter(({ id }) => reader.get(householdField(id, 'in'), checkbox(), false))
    .map(({ id, name }) => ({
      id,
      grams: reader.get(householdField(id, 'kg'), weight(name), 0),
      minutes: reader.get(householdField(id, 'hours'), hours(name), 0),
      moneyMinor: reader.get(
        householdField(id, 'money'),
        money(`Enter what ${name} paid, like 12 or 12.50`, MOST_BROUGHT.moneyMinor),
        0,
      ),
      declines: reader.get(householdField(id, 'declines'), many(ids, 'Choose from the list'), []),
    }))
  const { errors } = reader
  if (Object.keys(errors).length > 0) return { ok: false, typed, errors }
  return { ok: true, typed, errors, values: { name, products, households } }
}

/** The form filled in: all jars and every household, with what they brought. */
export function newShareOutTyped({ stock, members, brought }: ShareFacts, name: string): Typed {
  return Object.fromEntries([
    ['name', name],
    ...stock.flatMap(({ id, units, worthMinor }) => [
      [productField(id, 'units'), String(units)],
      [productField(id, 'worth'), typedMoney(worthMinor)],
    ]),
    ...members.flatMap(({ id }) => {
      const { grams, minutes, moneyMinor } = brought.by.get(id) ?? nothingBrought
      return [[householdField(id, 'in'), 'yes'], ...typedBrought(id, { grams, minutes, moneyMinor })]
    }),
  ])
}

/** The form filled in as an earlier one was, as far as the jars are still there. */
export function shareOutTypedLike(facts: ShareFacts, { name, question }: ShareOut): Typed {
  const asked = new Map(question.products.map((product) => [product.id, product]))
  const took = new Map(question.households.map((household) => [household.id, household]))
  const fields: [string, string | readonly string[]][] = [['name', name]]
  for (const { id, units, worthMinor } of facts.stock) {
    const before = asked.get(id)
    fields.push([productField(id, 'units'), before === undefined ? '' : String(Math.min(before.units, units))])
    fields.push([productField(id, 'worth'), typedMoney(before?.worthMinor ?? worthMinor)])
  }
  for (const { id } of facts.members) {
    const before = took.get(id)
    if (before !== undefined)
      fields.push([householdField(id, 'in'), 'yes'], [householdField(id, 'declines'), before.declines])
    fields.push(...typedBrought(id, before ?? facts.brought.by.get(id) ?? nothingBrought))
  }
  return Object.fromEntries(fields)
}

/** The day from which contributions count, in an address or a hidden field; undefined: from the last hand-out on. */
export const sinceText = z.union([z.literal('').transform(() => undefined), date('Enter a date')]).optional()

function typedBrought(
  id: string,
  { grams, minutes, moneyMinor }: { grams: number; minutes: number; moneyMinor: number },
): [string, string][] {
  return [
    [householdField(id, 'kg'), grams === 0 ? '0' : typedMass(grams)],
    [householdField(id, 'hours'), typedHours(minutes)],
    [householdField(id, 'money'), typedMoney(moneyMinor)],
  ]
}

/** 440 minutes: "7:20"; whole hours without minutes. */
function typedHours(minutes: number): string {
  const rest = minutes % 60
  return rest === 0 ? String(minutes / 60) : `${Math.floor(minutes / 60)}:${String(rest).padStart(2, '0')}`
}

/** A whole number; none is 0. Whether so many are there is looked at when they are shared out. */
function jars(name: string) {
  return read((typed) => {
    if (/^\d{0,7}$/.test(typed)) return { value: Number(typed) }
    return { problem: `Enter how many of ${name}: a whole number, 0 or more` }
  })
}

function weight(name: string) {
  return read((typed) => {
    if (/^0*([.,]0+)?\s*\p{L}*$/u.test(typed)) return { value: 0 }
    const mass = parseMass(typed)
    if (mass.ok && mass.grams <= MOST_BROUGHT.grams) return { value: mass.grams }
    return { problem: `Enter what ${name} brought with its unit, like 12 kg or 27 lb, or 0` }
  })
}

/** "7", "7.5", "7:20" */
function hours(name: string) {
  return read((typed) => {
    const clock = /^(\d{1,5}):([0-5]\d)$/.exec(typed)
    const plain = /^\d{1,5}([.,]\d{1,2})?$/.test(typed)
    const minutes = clock
      ? Number(clock[1]) * 60 + Number(clock[2])
      : plain
        ? Math.round(Number(typed.replace(',', '.')) * 60)
        : typed === ''
          ? 0
          : Number.NaN
    if (minutes <= MOST_BROUGHT.minutes) return { value: minutes }
    return { problem: `Enter the hours of ${name} like 7, 7.5 or 7:30` }
  })
}
