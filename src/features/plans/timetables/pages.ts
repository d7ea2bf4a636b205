import { type Entry, timetableOf } from '../../../core/day/index.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import { newBatchPath } from '../../batches/paths.ts'
import { kitchenPath } from '../../kitchen/paths.ts'
import {
  changeTimetablePath,
  divisionPath,
  makeTimetablePath,
  planPath,
  stopTimetablePath,
  timetablePath,
  timetableSheetPath,
} from '../paths.ts'
import { daySections, helperDays } from './days.ts'
import { dayPictures, type PictureBy, pictureBy, viewWords } from './picture.ts'
import type { TimetableRow } from './queries.ts'
import { boundWords, fittedWords, helperSays, laterLines, leadSentences, troubles, wishLines } from './sentences.ts'
import { wallDays } from './wall.ts'
import { hotParts, tableWords } from './words.ts'
import { worthOffer } from './worth/pages.ts'

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
    change: row.question.from === null ? null : changeTimetablePath(row.planId, row.question.from),
  }
}

/** The whole timetable: its sentence, what does not fit, and each day drawn and by time with who is where. */
export function timetablePage(
  row: TimetableRow,
  worked: WorkedOut,
  names: (productId: string) => string,
  by: PictureBy,
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const { plan } = worked
  const table = timetableOf(plan, worked.schedule)
  const words = tableWords(plan, format)
  return {
    ...heading(row),
    sentences: leadSentences(worked, table, words, format),
    fitted: fittedWords(row, worked, names),
    troubles: troubles(worked, table, words, format),
    wishes: wishLines(worked, words, format),
    proved: worked.days === undefined ? boundWords(worked, format) : '',
    views: pictureBy.map((one) => ({
      text: viewWords[one],
      href: `${timetablePath(row.planId, row.number)}?by=${one}`,
      current: one === by,
    })),
    days: daySections(worked, table, words, dayPictures(plan, table, words, by, format), format),
    later: laterLines(worked, table, words),
    helpers: plan.kitchen.helpers.map(({ id, name }) => ({
      name,
      href: timetableSheetPath(row.planId, row.number, id),
      says: helperSays(table, id, format),
    })),
    finish: [...plan.batches]
      .sort((a, b) => a.batch.day - b.batch.day)
      .map(({ batch }) => ({
        href: newBatchPath(row.planId, batch.id),
        name: batch.name,
        says: `${format.count(batch.units, batch.unit, batch.unitsName)}, ${format.day(plan.kitchen.days[batch.day]?.date ?? row.startedAt)}`,
      })),
    wall: timetableSheetPath(row.planId, row.number),
    kitchen: kitchenPath(plan.kitchen.days[0]?.date ?? null),
    worth: worthOffer(row, worked),
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
  const { plan } = worked
  const table = timetableOf(plan, worked.schedule)
  const words = tableWords(plan, format)
  const sheet = { ...heading(row), back: timetablePath(row.planId, row.number) }
  if (helperId === null) {
    const pictures = dayPictures(plan, table, words, 'helper', format)
    return {
      ...sheet,
      title: `${row.planName}: who stands where, when`,
      lead: '',
      wall: wallDays(plan, table, words, pictures, format),
      days: [],
      cautions: cautions(table.entries),
    }
  }
  if (!plan.kitchen.helpers.some(({ id }) => id === helperId)) return null
  const pictures = dayPictures(plan, table, words, 'helper', format, helperId)
  return {
    ...sheet,
    title: `${row.planName}: the work of ${words.who([helperId])}`,
    lead: helperSays(table, helperId, format),
    wall: [],
    days: helperDays(plan, table, words, pictures, format, helperId),
    cautions: cautions(table.entries.filter(({ helpers }) => helpers.includes(helperId))),
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

/** Where something hot may stand; jars are filled cold for the freezer, too, which costs no more than a line. */
const hotStations = ['stove', 'canner', 'oven', 'fill'] as const

function cautions(entries: readonly Entry[]): string[] {
  const hot = entries.some(({ part, station }) => hotParts.includes(part) || hotStations.some((one) => one === station))
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
