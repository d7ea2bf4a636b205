import { metresPerFoot } from '../units/index.ts'
import type { LocalProcess } from './local.ts'
import type { Gauge, JarSize, PackStyle, ProcessMethod, TestedProcess } from './types.ts'

/** An instant: ISO 8601 with its zone ("2026-08-14T09:30:00Z", "...+02:00"), or minutes since 1970 UTC. */
export type Instant = string | number

/** What a canner load must write down, so that a jar can be vouched for a year later. */
export type ProcessRecord = {
  recipe: { id: string; version: number }
  /** The row of the published tables, or the co-op's own process, that was followed. */
  process: { kind: 'row' | 'local'; id: string }
  method: ProcessMethod
  pack: PackStyle
  altitudeM: number
  jar: JarSize
  jarsIn: number
  /** Which canner: a name that the kitchen knows it by. */
  canner: string
  /** The gauge that was read; null without pressure. */
  gauge: Gauge | null
  /** Minutes that a pressure canner vented before it was closed; null without pressure. */
  ventedMinutes: number | null
  /** When the full boil, or the pressure, was first reached: the time counts from here. */
  reachedAt: Instant
  /** When the heat went off. */
  endedAt: Instant
  /** The lowest pressure shown while the time counted, kPa at the gauge; null without pressure. */
  lowestKPa: number | null
  interruptions: readonly Interruption[]
  /** Who watched it. */
  by: readonly string[]
  /** null: nobody has looked yet. */
  seals: SealCheck | null
  notes: string
}

/** The boil or the pressure was lost. The time counts anew from when it was reached again. */
export type Interruption = { lostAt: Instant; reachedAgainAt: Instant | null }

export type SealCheck = {
  checkedAt: Instant
  by: string
  sealed: number
  /** Jars that broke or leaked empty in the canner. */
  broken: number
  /** What became of the others. */
  notSealed: readonly { jars: number; went: UnsealedJarsWent; at: Instant }[]
}

export const unsealedJarsWent = ['reprocessed', 'refrigerated', 'frozen', 'eaten', 'discarded'] as const
export type UnsealedJarsWent = (typeof unsealedJarsWent)[number]

export const recordProblemKinds = [
  'other-process',
  'withdrawn',
  'other-method',
  'other-pack',
  'other-jar',
  'other-altitude',
  'no-jars',
  'nobody-named',
  'canner-not-named',
  'gauge-not-named',
  'other-gauge',
  'not-vented',
  'time-unreadable',
  'times-out-of-order',
  'not-restarted',
  'too-short',
  'pressure-not-noted',
  'pressure-too-low',
  'seals-not-checked',
  'seals-checked-early',
  'seals-do-not-add-up',
  'reprocessed-late',
  'kept-late',
] as const
export type RecordProblemKind = (typeof recordProblemKinds)[number]

export type RecordProblem = {
  kind: RecordProblemKind
  /** Where in the record: "endedAt", "interruptions.0", "seals.notSealed.1". */
  at: string
  /** What is wrong, with the figures. */
  says: string
}

/** Hours within which an unsealed jar may be processed again (Guide 1 p. 1-26). */
export const reprocessWithinHours = 24
/** Hours for which jars cool undisturbed before their seals are tried (Guide 1 p. 1-25). */
export const coolForHours = 12
/** Minutes for which steam streams from a pressure canner before it is closed (Guide 1 p. 1-20). */
export const ventForMinutes = 10
/** Gauges are read to about half a kilopascal, and psi become kPa with decimals that nobody writes down. */
const readingSlackKPa = 0.1

/**
 * What is wrong or missing in a record, held against the process that it says was followed; empty: nothing. The time
 * counts from the last moment at which the boil or pressure was reached. A jar whose record has `too-short`,
 * `not-restarted`, `pressure-too-low` or a process other than its own is no shelf-stable jar.
 */
export function checkRecord(record: ProcessRecord, process: TestedProcess | LocalProcess): RecordProblem[] {
  const due = dueBy(process)
  return [
    ...differencesFrom(due, record),
    ...whoAndWhere(due, record),
    ...timeProblems(due, record),
    ...pressureProblems(due, record),
    ...sealProblems(record),
  ]
}

/** Minutes since 1970 UTC of an instant; null: it is none, or names no zone. */
export function minutesOf(instant: Instant): number | null {
  if (typeof instant === 'number') return Number.isFinite(instant) ? instant : null
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/.test(instant)) return null
  const milliseconds = Date.parse(instant)
  return Number.isNaN(milliseconds) ? null : milliseconds / 60_000
}

/** Minutes at a full boil or at pressure that count: from the last time it was reached to the end; null: times unreadable or never reached again. */
export function minutesThatCount(
  record: Pick<ProcessRecord, 'reachedAt' | 'endedAt' | 'interruptions'>,
): number | null {
  const last = record.interruptions.at(-1)
  const from = last === undefined ? record.reachedAt : last.reachedAgainAt
  const start = from === null ? null : minutesOf(from)
  const end = minutesOf(record.endedAt)
  return start === null || end === null ? null : end - start
}

type Due = {
  id: string
  kind: ProcessRecord['process']['kind']
  withdrawn: boolean
  method: ProcessMethod
  pack: PackStyle
  jars: readonly JarSize[]
  fits: (altitudeM: number) => boolean
  minutes: number
  kPa: number | null
}

function dueBy(process: TestedProcess | LocalProcess): Due {
  const { method, pack, minutes, kPa } = process
  if (!('answer' in process)) {
    const fits = (altitudeM: number) => altitudeM >= process.fromM && altitudeM <= process.toM
    return {
      id: process.id,
      kind: 'local',
      withdrawn: process.withdrawn,
      method,
      pack,
      jars: process.jars,
      fits,
      minutes,
      kPa,
    }
  }
  const { fromFt, toFt } = process.band
  // Bands are whole feet from 1,001 up: what lies above the band below belongs to this one.
  const above = fromFt === 0 ? Number.NEGATIVE_INFINITY : fromFt - 1
  const fits = (altitudeM: number) => {
    const feet = altitudeM / metresPerFoot - 1e-4
    return feet > above && (toFt === null || feet <= toFt)
  }
  return { id: process.row.id, kind: 'row', withdrawn: false, method, pack, jars: [process.jar], fits, minutes, kPa }
}

function differencesFrom(due: Due, record: ProcessRecord): RecordProblem[] {
  const problems: RecordProblem[] = []
  const add = (kind: RecordProblemKind, at: string, says: string) => problems.push({ kind, at, says })
  if (record.process.kind !== due.kind || record.process.id !== due.id) {
    add('other-process', 'process', `The record names ${record.process.id}; it is held against ${due.id}.`)
  }
  if (due.withdrawn) add('withdrawn', 'process', 'This process has been withdrawn.')
  if (record.method !== due.method)
    add('other-method', 'method', `The process is for ${due.method}, not ${record.method}.`)
  if (record.pack !== due.pack)
    add('other-pack', 'pack', `The process is for a ${due.pack} pack, not a ${record.pack} one.`)
  if (!due.jars.includes(record.jar))
    add('other-jar', 'jar', `The process is for ${due.jars.join(' or ')} jars, not ${record.jar}.`)
  if (!due.fits(record.altitudeM)) {
    add(
      'other-altitude',
      'altitudeM',
      `The time is not the one for ${record.altitudeM} m: look it up for that altitude.`,
    )
  }
  return problems
}

function whoAndWhere(due: Due, record: ProcessRecord): RecordProblem[] {
  const problems: RecordProblem[] = []
  const add = (kind: RecordProblemKind, at: string, says: string) => problems.push({ kind, at, says })
  if (!Number.isInteger(record.jarsIn) || record.jarsIn < 1) add('no-jars', 'jarsIn', 'Say how many jars went in.')
  if (!record.by.some((name) => name.trim() !== '')) add('nobody-named', 'by', 'Say who watched it.')
  if (record.canner.trim() === '') add('canner-not-named', 'canner', 'Say which canner it was.')
  if (!underPressure(due.method)) return problems
  const gauge: Gauge = due.method === 'dial-gauge' ? 'dial' : 'weighted'
  if (record.gauge === null) add('gauge-not-named', 'gauge', 'Say which gauge was read.')
  else if (record.gauge !== gauge)
    add('other-gauge', 'gauge', `The pressure is for a ${gauge} gauge, not a ${record.gauge} one.`)
  if (record.ventedMinutes === null || !(record.ventedMinutes >= ventForMinutes)) {
    const was = record.ventedMinutes === null ? 'it is not noted' : `it vented for ${record.ventedMinutes}`
    add(
      'not-vented',
      'ventedMinutes',
      `Steam must stream out for ${ventForMinutes} minutes before the canner is closed; ${was}.`,
    )
  }
  return problems
}

function timeProblems(due: Due, record: ProcessRecord): RecordProblem[] {
  const problems: RecordProblem[] = []
  const add = (kind: RecordProblemKind, at: string, says: string) => problems.push({ kind, at, says })
  const what = underPressure(due.method) ? 'pressure' : due.method === 'steam' ? 'steam' : 'boil'
  const moments = [
    { at: 'reachedAt', instant: record.reachedAt },
    ...record.interruptions.flatMap(({ lostAt, reachedAgainAt }, number) => [
      { at: `interruptions.${number}.lostAt`, instant: lostAt },
      ...(reachedAgainAt === null ? [] : [{ at: `interruptions.${number}.reachedAgainAt`, instant: reachedAgainAt }]),
    ]),
    { at: 'endedAt', instant: record.endedAt },
  ]
  let before = Number.NEGATIVE_INFINITY
  for (const { at, instant } of moments) {
    const minute = minutesOf(instant)
    if (minute === null) add('time-unreadable', at, `"${instant}" is no time with its zone.`)
    else if (minute < before) add('times-out-of-order', at, 'This time lies before the one noted ahead of it.')
    before = Math.max(before, minute ?? before)
  }
  for (const [number, { reachedAgainAt }] of record.interruptions.entries()) {
    if (reachedAgainAt !== null) continue
    const says = `The ${what} was lost and the time was not started again: it counts anew once the ${what} is back.`
    add('not-restarted', `interruptions.${number}`, says)
  }
  const minutes = minutesThatCount(record)
  if (minutes !== null && minutes < due.minutes - 1e-6) {
    const since = record.interruptions.length === 0 ? '' : ` since the ${what} came back`
    add('too-short', 'endedAt', `${due.minutes} minutes are due; ${tenths(minutes)} were given${since}.`)
  }
  return problems
}

function pressureProblems(due: Due, record: ProcessRecord): RecordProblem[] {
  if (due.kPa === null) return []
  if (record.lowestKPa === null || !Number.isFinite(record.lowestKPa)) {
    return [
      {
        kind: 'pressure-not-noted',
        at: 'lowestKPa',
        says: `Note the pressure: at least ${tenths(due.kPa)} kPa is due.`,
      },
    ]
  }
  if (record.lowestKPa >= due.kPa - readingSlackKPa) return []
  const says = `${tenths(due.kPa)} kPa is due throughout; it fell to ${tenths(record.lowestKPa)}. Below the pressure the time starts again.`
  return [{ kind: 'pressure-too-low', at: 'lowestKPa', says }]
}

function sealProblems({ seals, jarsIn, endedAt }: ProcessRecord): RecordProblem[] {
  if (seals === null) return [{ kind: 'seals-not-checked', at: 'seals', says: 'The seals have not been checked.' }]
  const problems: RecordProblem[] = []
  const add = (kind: RecordProblemKind, at: string, says: string) => problems.push({ kind, at, says })
  const ended = minutesOf(endedAt)
  const hoursAfter = (at: string, instant: Instant): number | null => {
    const minute = minutesOf(instant)
    if (minute === null) add('time-unreadable', at, `"${instant}" is no time with its zone.`)
    return minute === null || ended === null ? null : (minute - ended) / 60
  }
  const checked = hoursAfter('seals.checkedAt', seals.checkedAt)
  if (checked !== null && checked < coolForHours) {
    const says = `Jars cool for ${coolForHours} hours before their seals are tried; this was after ${tenths(checked)}.`
    add('seals-checked-early', 'seals.checkedAt', says)
  }
  if (seals.by.trim() === '') add('nobody-named', 'seals.by', 'Say who checked the seals.')
  const counts = [seals.sealed, seals.broken, ...seals.notSealed.map(({ jars }) => jars)]
  const sum = counts.reduce((total, count) => total + count, 0)
  if (sum !== jarsIn || !counts.every((count) => Number.isInteger(count) && count >= 0)) {
    add('seals-do-not-add-up', 'seals', `${jarsIn} jars went in; ${sum} are accounted for.`)
  }
  for (const [number, { jars, went, at: when }] of seals.notSealed.entries()) {
    const at = `seals.notSealed.${number}`
    const hours = hoursAfter(`${at}.at`, when)
    if (hours === null || hours <= reprocessWithinHours || went === 'discarded' || jars === 0) continue
    const late = `${tenths(hours)} hours after the process`
    if (went === 'reprocessed') {
      add(
        'reprocessed-late',
        at,
        `Processed again ${late}; it must be within ${reprocessWithinHours}. These jars are not for the shelf.`,
      )
    } else {
      add(
        'kept-late',
        at,
        `Jars that had not sealed were ${went} ${late}. After ${reprocessWithinHours} they are thrown away.`,
      )
    }
  }
  return problems
}

function underPressure(method: ProcessMethod): boolean {
  return method === 'dial-gauge' || method === 'weighted-gauge'
}

/** Down, so that a time that is short never reads like the one that is due. */
function tenths(value: number): string {
  return `${Math.floor(value * 10 + 1e-6) / 10}`
}
