import { findCrop } from '../produce/index.ts'
import { mmPerInch } from '../units/index.ts'
import { acidFor } from './acid.ts'
import { altitudeNote, bandAt, isAltitude } from './altitude.ts'
import {
  aboveTheTable,
  jarNotTested,
  lowAcid,
  methodNotTested,
  packNotTested,
  refused,
  tooLongForSteam,
  unknown,
  unknownFood,
} from './answers.ts'
import { kPaPerPsi } from './atmosphere.ts'
import { isLowAcidFood } from './low-acid.ts'
import { gaugeMeant, jarMeant, type MethodMeant, methodMeant, packMeant, unsafeMethod } from './methods.ts'
import { refusalFor } from './refusals.ts'
import { seen } from './sources.ts'
import { allowsSteam, longestSteamMinutes, steamJars, steamSource } from './steam.ts'
import type {
  JarSize,
  PackStyle,
  ProcessAnswer,
  ProcessMethod,
  ProcessQuery,
  ProcessRow,
  Refusal,
  TestedProcess,
} from './types.ts'
import { formWords, type Understood, understand } from './understand.ts'

/** What was asked, in our own words. */
type Question = {
  query: ProcessQuery
  method: ProcessMethod
  jar: JarSize
  pack: PackStyle | undefined
  form: string | undefined
}

/**
 * The tested process for a product in a jar at an altitude in metres, from the published tables alone. Nothing between
 * or beyond their rows and bands is worked out: what no row answers is refused, with the reason and what to do instead,
 * or unknown where not even the product is listed. Where several rows answer, the one with the most minutes comes first
 * and the others stand beside it, complete. Never throws; texts it cannot read are unknown.
 */
export function lookUpProcess(query: ProcessQuery): ProcessAnswer {
  const unsafe = unsafeMethod(query.method)
  if (unsafe !== undefined) {
    return refused(
      'unsafe-method',
      unsafe.says,
      ['use a boiling-water canner or a pressure canner by its table'],
      unsafe.source,
    )
  }
  const heated = methodMeant(query.method)
  if (heated === undefined) return unknown(`"${query.method}" is no way of heating jars that a table covers.`, ways)

  const form = given(query.form)
  const food = understand(query.product, form)
  const stopped = stoppedByFood(query.product, form, food, heated)
  if (stopped !== null) return stopped
  if (food.is !== 'rows' || food.all.length === 0) return unknownFood(query.product)

  const method = withGauge(heated, given(query.gauge))
  if (typeof method !== 'string') return method
  const jar = jarMeant(query.jar)
  if (jar === undefined)
    return unknown(`"${query.jar}" is no jar size that a table covers.`, ['use half-pints, pints or quarts'])
  const packText = given(query.pack)
  const pack = packText === undefined ? undefined : packMeant(packText)
  if (packText !== undefined && pack === undefined)
    return unknown(`"${packText}" is no pack: tables know hot and raw.`, [])

  return answerFrom(food, { query, method, jar, pack, form })
}

const ways = ['use a boiling-water canner, a steam canner or a pressure canner']

/** Takes the rows away that do not answer, one reason after the other; the reason that leaves none is the refusal's. */
function answerFrom(food: Extract<Understood, { is: 'rows' }>, asked: Question): ProcessAnswer {
  const { method, jar, query } = asked
  const heated = food.rows.filter((row) => (method === 'steam' ? allowsSteam(row) : row.method === method))
  if (heated.length === 0) return methodNotTested(food.rows, method)

  const packs = food.pack === undefined ? heated : heated.filter((row) => row.pack === food.pack)
  const packed = asked.pack === undefined ? packs : packs.filter((row) => row.pack === asked.pack)
  if (packed.length === 0) return packNotTested(packs.length > 0 ? packs : heated, asked.pack ?? food.pack)

  const fitting = packed.filter((row) => row.jars.includes(jar) && (method !== 'steam' || steamJars.includes(jar)))
  if (fitting.length === 0) return jarNotTested(packed, jar, method)

  if (!isAltitude(query.altitudeM)) {
    return refused(
      'altitude-unknown',
      'Times and pressures depend on the altitude, and none is known.',
      ["set the kitchen's altitude"],
      null,
    )
  }
  const found = fitting.flatMap((row) => atAltitude(row, asked)).sort((a, b) => b.minutes - a.minutes)
  const [first, ...others] = found
  if (first === undefined) return aboveTheTable(fitting, query.altitudeM)
  if (method === 'steam' && first.minutes > longestSteamMinutes) return tooLongForSteam(found)
  return { ...first, notes: [...first.notes, ...choiceNotes(found, asked)], others }
}

/** A refusal that the food itself calls for: an untested style, a form in no table, low-acid food without pressure. */
function stoppedByFood(
  product: string,
  form: string | undefined,
  food: Understood,
  heated: MethodMeant,
): Refusal | null {
  const open = heated === 'boiling-water' || heated === 'steam'
  if (food.is === 'untested') {
    const plain = form === undefined && findCrop(product)?.acidity === 'low-acid'
    return open && plain ? lowAcid([], food.entry.instead) : refusalFor(food.entry)
  }
  if (food.is !== 'rows') return open && isLowAcidFood(product) ? lowAcid([]) : null
  if (open && food.all.length > 0 && food.all.every(({ acidity }) => acidity === 'low-acid')) return lowAcid(food.all)
  if (food.rows.length > 0) return null
  if (open && food.all.length === 0 && isLowAcidFood(product)) return lowAcid([])
  if (food.all.length === 0) return null
  return refused(
    'form-not-tested',
    `It is tested as: ${formWords(food.all).join('; ')}. Another form heats through in another time.`,
    formWords(food.all).map((form) => `can it as ${form}`),
    food.all[0]?.source ?? null,
  )
}

/** The method with its gauge: pressures and bands differ between the two, so that neither stands for the other. */
function withGauge(heated: MethodMeant, gauge: string | undefined): ProcessMethod | Refusal {
  if (heated === 'boiling-water' || heated === 'steam') return heated
  const meant = gauge === undefined ? undefined : gaugeMeant(gauge)
  if (heated === 'pressure' && meant !== undefined) return meant
  if (heated !== 'pressure' && (gauge === undefined || meant === heated)) return heated
  return refused(
    'gauge-unknown',
    'A dial gauge and a weighted gauge have tables of their own, and it is not known which one this canner has.',
    ['say which gauge the pressure canner has'],
    seen('usda-2015', 'Guide 1 p. 1-24'),
  )
}

/** A row at its band of altitude, complete; nothing where the altitude lies above its last band. */
function atAltitude(row: ProcessRow, { method, jar, query }: Question): TestedProcess[] {
  const band = bandAt(row.bands, query.altitudeM)
  if (band === undefined) return []
  const high = altitudeNote(band, query.altitudeM)
  return [
    {
      answer: 'tested',
      row,
      band,
      method,
      pack: row.pack,
      jar,
      minutes: band.minutes,
      psi: band.psi,
      kPa: band.psi === null ? null : band.psi * kPaPerPsi,
      headspaceIn: row.headspaceIn,
      headspaceMm: row.headspaceIn === null ? null : row.headspaceIn * mmPerInch,
      acid: acidFor(row.acid, jar),
      sterileJars: row.sterileJars,
      notes: high === '' ? row.notes : [...row.notes, high],
      source: method === 'steam' ? steamSource : row.source,
      others: [],
    },
  ]
}

/** What must be said where the question left a choice: that the longest is shown, and that it holds for that one only. */
function choiceNotes(found: readonly TestedProcess[], { pack, form }: Question): readonly string[] {
  const packs = new Set(found.map((one) => one.pack))
  const kinds = new Set(found.map(({ row }) => `${row.product}/${row.form}`))
  const only = found[0]?.pack
  const notes: string[] = []
  if (pack === undefined && packs.size > 1)
    notes.push('Both packs are tested; this is the one that needs most. Name the pack to see its own time.')
  else if (pack === undefined && only !== undefined) notes.push(`It holds for the ${only} pack only.`)
  if (form === undefined && kinds.size > 1)
    notes.push('Several forms are tested; this is the one that needs most. Name the form to see its own time.')
  return notes
}

/** Text that was really given: a field left empty asks nothing. */
function given(text: string | undefined): string | undefined {
  return text === undefined || text.trim() === '' ? undefined : text
}
