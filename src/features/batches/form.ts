import { z } from 'zod'
import { utcOf } from '../../core/calendar/index.ts'
import { parseTimeOfDay } from '../../core/day/time-of-day.ts'
import { processMethods } from '../../core/process/index.ts'
import { unsealedJarsWent } from '../../core/process/record.ts'
import { type Crop, crop, ripenessClasses } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type FieldReader, fieldReader } from '../../web/field-reader.ts'
import {
  checkbox,
  choice,
  date,
  type FieldReading,
  neededText,
  optionalText,
  optionalWholeNumber,
  type ReadForm,
  read,
  refusedForm,
  type Typed,
  wholeNumber,
} from '../../web/forms.ts'
import { aloneIn } from '../../web/lengths.ts'
import { readPartWeight, readWeight, usedField } from '../lots/index.ts'
import { headspaceOf, pressureOf } from '../processes/index.ts'
import { type Finish, MOST_ALLERGENS, MOST_HAND_MINUTES, MOST_UNITS, type ProcessGiven } from './batch.ts'
import { type Making, suppliesFor, trimOf } from './making.ts'

export const SHARED = 'shared'
/** As much of a supply as nobody uses in one batch. */
const MOST_SUPPLY = 10_000_000
const onlyDate = (problem: string) =>
  read<string | null>((typed) => {
    if (typed === '') return { value: null }
    const found = date(problem).safeParse(typed)
    return found.success ? { value: found.data } : { problem }
  }, 20)

/**
 * Reads the form of a batch that is finished.
 *
 * @param more `cropOf`: the crop of a lot, for weights in bushels or pieces; undefined where there is no such lot
 */
export function readFinish(
  typed: Typed,
  { making, coop, cropOf }: { making: Making; coop: CoopWays; cropOf: (lotId: string) => string | undefined },
): ReadForm<Finish> {
  const reader = fieldReader(typed)
  const madeOn = reader.get('madeOn', date('Enter the day on which it was made'), '')
  const plan = textOf(typed, 'plan')
  const values: Finish = {
    recipeId: making.recipe.id,
    pack: making.pack.key,
    plan: plan === '' ? null : { planId: plan, planned: textOf(typed, 'planned') },
    madeOn,
    lots: lotsIn(typed, reader, cropOf),
    jars: jarsIn(typed, reader),
    otherGrams: reader.get('other', partWeight(), 0),
    units: reader.get('units', wholeNumber(`Enter how many ${making.pack.units}: a whole number`, 0, MOST_UNITS), 0),
    unsealed: reader.get('unsealed', optionalWholeNumber('Enter how many, or 0', 0, MOST_UNITS), null) ?? 0,
    unsealedWent: reader.get('unsealedWent', optionalChoice(unsealedJarsWent, 'Choose one of these'), null),
    trim: trimOf(making).map((kind) => ({
      kind,
      grams: reader.get(`trim.${kind}.grams`, partWeight(), 0),
      outletId: reader.get(`trim.${kind}.outlet`, optionalText(40), null),
    })),
    helperIds: [typed['helpers'] ?? []].flat().filter((id) => id !== ''),
    handMinutes: reader.get(
      'handMinutes',
      optionalWholeNumber('Enter minutes, a whole number, or leave it empty', 0, MOST_HAND_MINUTES),
      null,
    ),
    placeId: reader.get('placeId', neededText('Choose where it stands', 40), ''),
    householdId: ownerOf(textOf(typed, 'householdId')),
    note: reader.get('note', optionalText(500), null),
    allergens: reader.get('allergens', words(), []),
    bestBy: reader.get('bestBy', onlyDate('Enter a day, or leave it empty'), null),
    supplies: suppliesIn(reader, making),
    process: making.canned ? processIn(typed, reader, madeOn, coop) : null,
    sure: reader.get('sure', checkbox(), false),
  }
  const form = { typed, errors: {} }
  return Object.keys(reader.errors).length > 0 ? refusedForm(form, reader.errors) : { ...form, ok: true, values }
}

function lotsIn(typed: Typed, reader: FieldReader, cropOf: (lotId: string) => string | undefined): Finish['lots'] {
  const ids = new Set(Object.keys(typed).flatMap((name) => /^lot\.([a-z0-9-]+)\./.exec(name)?.[1] ?? []))
  return [...ids].flatMap((lotId) =>
    ripenessClasses.flatMap((name) => {
      const field = usedField(lotId, name)
      if (typed[field] === undefined) return []
      const grams = reader.get(field, partWeight(crop(cropOf(lotId) ?? '')), 0)
      return grams === 0 ? [] : [{ lotId, class: name, grams }]
    }),
  )
}

function jarsIn(typed: Typed, reader: FieldReader): Finish['jars'] {
  const ids = Object.keys(typed).flatMap((name) => /^jars\.([a-z0-9-]+)\.units$/.exec(name)?.[1] ?? [])
  return ids.flatMap((jarBatchId) => {
    const units = reader.get(
      `jars.${jarBatchId}.units`,
      optionalWholeNumber('Enter how many, or 0', 0, MOST_UNITS),
      null,
    )
    const grams = reader.get(`jars.${jarBatchId}.grams`, partWeight(), 0)
    return units === null || units === 0 ? [] : [{ jarBatchId, units, grams: grams === 0 ? null : grams }]
  })
}

function suppliesIn(reader: FieldReader, making: Making): Record<string, number> {
  const supplies: Record<string, number> = {}
  for (const key of Object.keys(suppliesFor(making, 1))) {
    const field = `supply.${key}`
    const amount = reader.get(field, optionalWholeNumber('Enter how much was used, 0 for none', 0, MOST_SUPPLY), null)
    if (amount !== null) supplies[key] = amount
  }
  return supplies
}

const processParts = ['reachedAt', 'endedAt', 'lostAt', 'againAt', 'vented', 'pressure', 'sealsOn', 'sealsAt'] as const

/** null where nothing was noted that somebody must have seen: it was not processed, or nobody wrote it down. */
function processIn(typed: Typed, reader: FieldReader, madeOn: string, coop: CoopWays): ProcessGiven | null {
  if (processParts.every((part) => textOf(typed, `process.${part}`) === '')) return null
  const alone = aloneIn(typed, coop.units)
  const day = reader.get('process.date', onlyDate('Enter the day of the process'), null) ?? madeOn
  const at = (part: string, on = day) => reader.get(`process.${part}`, instantOn(on, coop.timeZone), null)
  const lostAt = at('lostAt')
  const reachedAgainAt = at('againAt')
  const sealsOn = reader.get('process.sealsOn', onlyDate('Enter the day on which the seals were tried'), null)
  const sealsCheckedAt = sealsOn === null ? null : at('sealsAt', sealsOn)
  if (sealsOn !== null && sealsCheckedAt === null)
    reader.errors['process.sealsAt'] ??= 'Enter at what time the seals were tried, like 9:30'
  if (reachedAgainAt !== null && lostAt === null) reader.errors['process.lostAt'] ??= 'Enter when it was lost'
  return {
    method: reader.get('process.method', choice(processMethods, 'Choose how the jars were heated'), 'boiling-water'),
    canner: reader.get('process.canner', optionalText(80), null) ?? '',
    reachedAt: at('reachedAt'),
    endedAt: at('endedAt'),
    interruptions: lostAt === null ? [] : [{ lostAt, reachedAgainAt }],
    ventedMinutes: reader.get('process.vented', optionalWholeNumber('Enter whole minutes', 0, 600), null),
    lowestKPa: reader.get(
      'process.pressure',
      optional((one) => pressureOf(one, alone), 'Enter the pressure, like “75 kPa” or “11 psi”'),
      null,
    ),
    headspaceMm: reader.get(
      'process.headspace',
      optional((one) => headspaceOf(one, alone), 'Enter the headspace, like “12 mm” or “1/2 in”'),
      null,
    ),
    acidAdded: reader.get('process.acid', checkbox(), false),
    by: reader.get('process.by', words(), []),
    sealsCheckedAt,
  }
}

function instantOn(on: string, timeZone: string) {
  return read<string | null>((typed) => {
    if (typed === '') return { value: null }
    const minuteOfDay = parseTimeOfDay(typed)
    if (minuteOfDay === null) return { problem: 'Enter a time of day, like 14:05 or 2:05 pm' }
    // the day itself is refused at its own field
    if (on === '') return { value: null }
    return { value: utcOf({ date: on, minuteOfDay }, timeZone).toISOString() }
  }, 20)
}

function optional(reading: (typed: string) => number | null, problem: string) {
  return read<number | null>((typed): FieldReading<number | null> => {
    const value = typed === '' ? null : reading(typed)
    return value === null && typed !== '' ? { problem } : { value }
  }, 40)
}

function optionalChoice<const T extends string>(set: readonly T[], problem: string) {
  return read<T | null>((typed) => {
    const found = set.find((one) => one === typed) ?? null
    return found === null && typed !== '' ? { problem } : { value: found }
  }, 40)
}

/** A weight in any unit; nothing is 0. */
export function partWeight(known?: Crop) {
  return read<number>((typed) => {
    if (known !== undefined) return readPartWeight(typed, known)
    if (/^(0+([.,]0*)?\s*\p{L}*)?$/u.test(typed)) return { value: 0 }
    const got = readWeight(typed)
    return 'value' in got ? { value: got.value.grams } : got
  })
}

/** Names with commas between them. */
function words() {
  return read<string[]>((typed) => {
    const names = typed
      .split(',')
      .map((name) => name.trim())
      .filter((name) => name !== '')
    if (names.length > MOST_ALLERGENS) return { problem: `Enter ${MOST_ALLERGENS} at most, with commas between them` }
    return { value: [...new Set(names)] }
  }, 400)
}

export const ownerOf = (typed: string): string | null => (typed === '' || typed === SHARED ? null : typed)

function textOf(typed: Typed, name: string): string {
  const value = typed[name]
  return typeof value === 'string' ? value.trim() : ''
}

/** What the form of a correction holds. */
export const changeForm = (helperIds: readonly string[]) =>
  z.object({
    note: optionalText(500),
    bestBy: onlyDate('Enter a day, or leave it empty'),
    handMinutes: optionalWholeNumber('Enter minutes, a whole number, or leave it empty', 0, MOST_HAND_MINUTES),
    helpers: z
      .union([z.string().transform((one) => [one]), z.array(z.string())])
      .default([])
      .refine((chosen) => chosen.every((id) => helperIds.includes(id)), 'Choose from the helpers shown'),
  })
