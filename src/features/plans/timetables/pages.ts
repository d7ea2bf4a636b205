import { type Entry, type Timetable, timetableOf } from '../../../core/day/index.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import {
  divisionPath,
  makeTimetablePath,
  planPath,
  stopTimetablePath,
  timetablePath,
  timetableSheetPath,
} from '../paths.ts'
import { listed, sentence } from '../words.ts'
import { type PictureBy, picture, viewWords } from './picture.ts'
import type { TimetableRow } from './queries.ts'
import { hotParts, type TableWords, tableWords } from './words.ts'

const place = 'plans' as const

/** While it is worked out. */
export function workingTimetablePage(row: TimetableRow, now: Date, coop: CoopWays) {
  const seconds = Math.max(0, Math.round((now.getTime() - row.startedAt.getTime()) / 1000))
  return {
    ...heading(row),
    again: timetablePath(row.planId, row.number),
    waits: row.state === 'waiting',
    seconds: formatFor(coop).count(seconds, 'second'),
    progress: row.progress ?? '',
    stopAsked: row.stopAsked,
    stop: stopTimetablePath(row.planId, row.number),
  }
}

export function failedTimetablePage(row: TimetableRow) {
  return {
    ...heading(row),
    failure: row.failure ?? 'It could not be worked out.',
    action: makeTimetablePath(row.planId, row.divisionNumber),
  }
}

/** The whole timetable: its sentence, what does not fit, and each day by time with who is where. */
export function timetablePage(
  row: TimetableRow,
  worked: WorkedOut,
  names: (productId: string) => string,
  by: PictureBy,
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const table = timetableOf(worked.plan, worked.schedule)
  const words = tableWords(worked.plan, format)
  return {
    ...heading(row),
    sentences: leadSentences(worked, table, words, format),
    fitted: fittedWords(row, worked, names),
    troubles: troubles(worked, table, words, format),
    proved: boundWords(worked, format),
    picture: picture(worked.plan, table, words, by, format),
    views: (['helper', 'station', 'batch'] as const).map((one) => ({
      text: viewWords[one],
      href: `${timetablePath(row.planId, row.number)}?by=${one}`,
      current: one === by,
    })),
    days: dayTables(worked, table, words, format),
    nights: nightLines(worked, table, words, format),
    later: laterLines(worked, table, words),
    helpers: worked.plan.kitchen.helpers.map(({ id, name }) => ({
      name,
      href: timetableSheetPath(row.planId, row.number, id),
      says: helperSays(table, id, format),
    })),
    wall: timetableSheetPath(row.planId, row.number),
    again: makeTimetablePath(row.planId, row.divisionNumber),
    asked: `Asked by ${row.askedBy}, ${format.instant(row.startedAt)}.`,
  }
}

/**
 * The timetable on paper: all of it for the wall, or the work of one helper with the recipe's words; null for a helper
 * who is not in it.
 */
export function timetableSheet(row: TimetableRow, worked: WorkedOut, helperId: string | null, coop: CoopWays) {
  const format = formatFor(coop)
  const helper = worked.plan.kitchen.helpers.find(({ id }) => id === helperId) ?? null
  if (helperId !== null && helper === null) return null
  const table = timetableOf(worked.plan, worked.schedule)
  const words = tableWords(worked.plan, format)
  const entries = helper ? table.entries.filter((one) => one.helpers.includes(helper.id)) : table.entries
  return {
    ...heading(row),
    title: helper ? `${row.planName}: the work of ${helper.name}` : `${row.planName}: who stands where, when`,
    lead: helper ? helperSays(table, helper.id, format) : '',
    days: dayTables(worked, { ...table, entries }, words, format),
    withWhom: helper !== null,
    cautions: cautions(entries),
    back: timetablePath(row.planId, row.number),
  }
}

function heading(row: TimetableRow) {
  return {
    title: `${row.planName}: timetable ${row.number}`,
    place,
    plan: { name: row.planName, href: planPath(row.planId) },
    division: { text: `division ${row.divisionNumber}`, href: divisionPath(row.planId, row.divisionNumber) },
  }
}

function leadSentences({ plan }: WorkedOut, { entries }: Timetable, words: TableWords, format: Formatter): string[] {
  const tasks = new Set(entries.map(({ activity }) => activity)).size
  if (tasks === 0) return ['Nothing is made in this division, so there is nothing to do.']
  const people = new Set(entries.flatMap(({ helpers }) => helpers)).size
  const ends = plan.kitchen.days.flatMap(({ date, opens, closes }) => {
    const last = entries.filter((one) => one.helpers.length > 0 && one.from >= opens && one.from < closes)
    return last.length === 0 ? [] : [`${format.day(date)} at ${words.time(Math.max(...last.map(({ to }) => to)))}`]
  })
  return [
    `${format.count(tasks, 'task')} for ${format.count(people, 'helper')}; the last hands are done ${listed(ends)}.`,
  ]
}

/** What the clock changed of the division that was asked about; empty: nothing. */
function fittedWords(
  { fittedFrom, divisionNumber }: TimetableRow,
  { gave }: WorkedOut,
  names: (productId: string) => string,
): string[] {
  if (fittedFrom === null) return []
  const told = gave
    .filter(({ before, after }) => before !== after)
    .map(({ productId, before, after }) => `${names(productId)}: ${after} instead of ${before}`)
  return [
    `The clock did not hold division ${fittedFrom}, so it was divided again with what the timetable taught: this carries out division ${divisionNumber}.`,
    ...(told.length > 0 ? [sentence(`${told.join('; ')}.`)] : ['The same is made, on other days.']),
  ]
}

/** "No order of the work ends more than 2 % earlier." */
function boundWords({ schedule: { makespan, lowerBound, lateness } }: WorkedOut, format: Formatter): string {
  if (makespan === 0 || lateness > 0) return ''
  if (makespan <= lowerBound) return 'Proved best: no order of this work ends earlier.'
  const gap = Math.ceil(((makespan - lowerBound) / lowerBound) * 1000) / 1000
  return `The end is within ${format.percent(gap)} of the earliest possible, counted from the first midnight.`
}

/** What is late, does not fit or cannot be done at all, each in a sentence. */
function troubles({ plan }: WorkedOut, table: Timetable, words: TableWords, format: Formatter): string[] {
  const name = (id: string | null) => plan.batches.find(({ batch }) => batch.id === id)?.batch.name ?? 'Clearing away'
  const short = table.short.map(
    ({ batch, units, finished }) =>
      `${name(batch)}: ${format.number(finished)} of ${format.number(units)} are finished within the work days.`,
  )
  const late = new Map<string, number>()
  for (const { batch, day, end } of table.late) {
    if (end === null) continue
    const key = `${name(batch)} of ${format.day(plan.kitchen.days[day]?.date ?? '')}`
    late.set(key, Math.max(late.get(key) ?? 0, end))
  }
  const lacks = {
    hands: 'nobody there can do it',
    adult: 'no adult is there for it: it is hot work',
    machine: 'the machine for it is not there on that day',
  }
  return [
    ...table.impossible.map(
      ({ batch, lacks: what }) => `${batchName(plan, batch)} is not in the timetable: ${lacks[what]}.`,
    ),
    ...short,
    ...[...late].map(([what, end]) => `${what} is not done before closing: it ends at ${words.time(end, '')}.`),
  ].map(sentence)
}

function batchName(plan: WorkedOut['plan'], id: string): string {
  return plan.batches.find(({ batch }) => batch.id === id)?.batch.name ?? id.split(':')[0] ?? id
}

function dayTables({ plan }: WorkedOut, { entries }: Pick<Timetable, 'entries'>, words: TableWords, format: Formatter) {
  return plan.kitchen.days.flatMap(({ date, midnight }) => {
    const own = entries.filter((one) => one.from >= midnight && one.from < midnight + 1440 && one.to > one.from)
    const rows = own.map((entry) => ({
      from: words.time(entry.from),
      to: words.time(entry.to, date),
      what: words.what(entry),
      does: words.does(entry),
      says: words.says(entry),
      who: words.who(entry.helpers) || 'nobody is needed',
      machines: words.machines(entry.machines),
      alone: entry.helpers.length === 0,
    }))
    return rows.length === 0 ? [] : [{ day: format.day(date), rows }]
  })
}

/** What runs on while the kitchen is closed. */
function nightLines({ plan }: WorkedOut, { entries }: Timetable, words: TableWords, format: Formatter): string[] {
  return plan.kitchen.days.flatMap(({ date, opens, closes }) =>
    entries
      .filter((one) => one.from >= opens && one.from < closes && one.to > closes)
      .map((one) =>
        sentence(
          `${words.what(one)}: ${words.machines(one.machines) || words.does(one)} from ${words.time(one.from)} on ${format.day(date)} until ${words.time(one.to, date)}.`,
        ),
      ),
  )
}

/** Steps that no work day will see. */
function laterLines({ plan }: WorkedOut, table: Timetable, words: TableWords): string[] {
  return table.afterwards.map(({ batch, step, units, fromMinute }) => {
    const of = plan.batches.find((one) => one.batch.id === batch)
    const lastDate = plan.kitchen.days.at(-1)?.date
    return `${words.what({ batch, units })}, from ${words.time(fromMinute, lastDate)}: ${of?.steps[step]?.step.says ?? ''}`
  })
}

function helperSays({ helpers }: Timetable, id: string, format: Formatter): string {
  const days = helpers.find(({ helper }) => helper === id)?.days ?? []
  const worked = days.reduce((sum, { workedMinutes }) => sum + workedMinutes, 0)
  if (worked === 0) return 'nothing to do in this timetable'
  return `${format.duration(worked)} of work on ${format.count(days.filter((day) => day.workedMinutes > 0).length, 'day')}`
}

function cautions(entries: readonly Entry[]): string[] {
  const hot = entries.some(
    ({ part, station }) => hotParts.includes(part) || station === 'stove' || station === 'canner',
  )
  const knives = entries.some(({ station }) => station === 'cut')
  return [
    ...(hot
      ? [
          'Boiling water, steam and hot jars burn: an adult is at the stove, the canner and hot filling, children are kept away from them. The canner’s own manual and the local extension service or food authority go before this sheet.',
        ]
      : []),
    ...(knives
      ? ['Knives and peelers are for teens and adults; cut away from yourself, on a board that does not slip.']
      : []),
  ]
}
