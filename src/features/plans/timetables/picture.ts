import type { NotedPlan, Timetable } from '../../../core/day/index.ts'
import { swatch } from '../../../web/beam.ts'
import type { Formatter } from '../../../web/format.ts'
import type { Markup } from '../../../web/markup.ts'
import { AFTER_MINUTES } from '../../../web/timetable-axis.ts'
import { type TimetableDrawing, timetableDrawing } from '../../../web/timetable-drawing.ts'
import type { TimetableBar, TimetableRow } from '../../../web/timetable-layout.ts'
import { stationWords } from '../../recipes/index.ts'
import { type Looks, looksOf } from './looks.ts'
import { type Piece, piecesOf } from './pieces.ts'
import type { TableWords } from './words.ts'

/** What the rows of the picture are. */
export const pictureBy = ['helper', 'station', 'batch'] as const
export type PictureBy = (typeof pictureBy)[number]

export const viewWords: Record<PictureBy, string> = {
  helper: 'By helper',
  station: 'By station and machine',
  batch: 'By batch',
}

/** What `{{> timetable timetable=timetable}}` takes. */
export type DayPicture = TimetableDrawing & { key: { letter: string; text: string; swatch: Markup }[] }

/** Rows of all days; `labels` are what may stand in a bar, see `TimetableBar`. */
type Row = { label: string; pieces: Piece[]; labels: (piece: Piece) => string[]; away: TimetableRow['away'] }

/**
 * The timetable drawn day by day, with a key to each day's batches; null for a day without anything to draw. What runs
 * on through the night stands in the drawings of both days.
 *
 * @param who the one helper to draw; without, everybody
 */
export function dayPictures(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  by: PictureBy,
  format: Formatter,
  who?: string,
): (DayPicture | null)[] {
  const looks = looksOf(plan)
  const rows = by === 'helper' ? helperRows(plan, table, words, looks, who) : rowsOf(plan, table, words, looks, by)
  return plan.kitchen.days.map(({ date, opens, closes }, number) => {
    const next = Math.min(plan.kitchen.days[number + 1]?.opens ?? Number.POSITIVE_INFINITY, closes + AFTER_MINUTES)
    const drawn: Piece[] = []
    const barsOf = ({ pieces, labels }: Row): TimetableBar[] =>
      pieces.flatMap((piece) => {
        const [from, to] = [Math.max(piece.from, opens), Math.min(piece.to, next)]
        if (to <= from) return []
        drawn.push(piece)
        const { pattern } = looks(piece.batch)
        const alone = piece.helpers.length === 0
        return [{ from, to, labels: labels(piece), title: barTitle(piece, words), pattern, alone }]
      })
    const own = rows
      .map((row) => ({
        label: row.label,
        bars: barsOf(row),
        away: (row.away ?? []).filter(({ from, to }) => to > opens && from < closes),
      }))
      .filter(({ bars }) => by === 'helper' || bars.length > 0)
    if (drawn.length === 0) return null
    const id = `timetable-${number}`
    const day = format.day(date)
    const title = who === undefined ? `${day}, ${viewWords[by].toLowerCase()}` : `${day}: ${words.who([who])}`
    const drawing = timetableDrawing({
      id,
      title,
      days: [{ label: day, from: opens, to: closes }],
      rows: own,
      ticks: (minute) => words.time(minute),
    })
    return { ...drawing, key: keyOf(id, plan, words, looks, drawn) }
  })
}

function barTitle(piece: Piece, words: TableWords): string {
  const who = piece.helpers.length > 0 ? `, ${words.who(piece.helpers)}` : ''
  return `${words.what(piece)}: ${words.doing(piece)}, ${words.span(piece.from, piece.to)}${who}`
}

function helperRows(plan: NotedPlan, table: Timetable, words: TableWords, looks: Looks, who?: string): Row[] {
  const labels = (piece: Piece) => {
    const { letter } = looks(piece.batch)
    const does = words.brief(piece)
    return piece.batch === null
      ? [does]
      : [`${letter} ${words.name(piece.batch)}: ${does}`, `${letter} ${does}`, letter]
  }
  return plan.kitchen.helpers
    .filter(({ id }) => who === undefined || id === who)
    .map(({ id, hours }) => ({
      label: words.whoShort([id]),
      pieces: piecesOf(table.entries.filter(({ helpers }) => helpers.includes(id))),
      labels,
      away: plan.kitchen.days.flatMap(({ opens, closes }) => gaps(opens, closes, hours)),
    }))
}

function rowsOf(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  looks: Looks,
  by: Exclude<PictureBy, 'helper'>,
): Row[] {
  if (by === 'batch') {
    return plan.batches.map(({ batch }) => ({
      label: `${looks(batch.id).letter} ${batch.name}`,
      pieces: piecesOf(table.entries.filter((entry) => entry.batch === batch.id)),
      labels: (piece) => [`${words.brief(piece)} ${words.whoShort(piece.helpers)}`.trim(), words.brief(piece)],
      away: [],
    }))
  }
  const labels = ({ batch }: Piece) =>
    batch === null ? [] : [`${looks(batch).letter} ${words.name(batch)}`, looks(batch).letter]
  return [
    ...table.stations.map(({ station, entries }) => ({
      label: stationWords[station],
      pieces: piecesOf(entries.filter(({ machines }) => machines.length === 0)),
      labels,
      away: [],
    })),
    ...table.machines.map(({ entries, ...machine }) => ({
      label: words.machine(machine),
      pieces: piecesOf(entries),
      labels,
      away: [],
    })),
  ]
}

/** The batches that are drawn, with their letters, and what is done for all of them. */
function keyOf(
  id: string,
  plan: NotedPlan,
  words: TableWords,
  looks: Looks,
  drawn: readonly Piece[],
): DayPicture['key'] {
  const own = plan.batches.filter(({ batch }) => drawn.some((piece) => piece.batch === batch.id))
  const batches = own
    .map(({ batch }) => ({ ...looks(batch.id), text: words.what({ batch: batch.id, units: batch.units }) }))
    .sort((a, b) => a.place - b.place)
  const common = drawn.some(({ batch }) => batch === null)
  const fields = common ? [...batches, { ...looks(null), text: 'Jars, and clearing away' }] : batches
  return fields.map(({ letter, text, pattern }, n) => ({ letter, text, swatch: swatch(`${id}-key-${n}`, pattern) }))
}

/** Stretches of a day that ascending hours leave open. */
function gaps(opens: number, closes: number, hours: readonly { from: number; to: number }[]) {
  const found: { from: number; to: number }[] = []
  let at = opens
  for (const { from, to } of hours) {
    if (to <= opens || from >= closes) continue
    if (from > at) found.push({ from: at, to: from })
    at = Math.max(at, to)
  }
  if (closes > at) found.push({ from: at, to: closes })
  return found
}
