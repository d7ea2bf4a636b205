import type { Entry, NotedPlan, Timetable } from '../../../core/day/index.ts'
import type { Formatter } from '../../../web/format.ts'
import { type PatternKey, productPattern } from '../../../web/patterns.ts'
import { type TimetableDrawing, type TimetableRow, timetableDrawing } from '../../../web/timetable-drawing.ts'
import { stationWords } from '../../recipes/index.ts'
import type { TableWords } from './words.ts'

/** What the rows of the picture are. */
export const pictureBy = ['helper', 'station', 'batch'] as const
export type PictureBy = (typeof pictureBy)[number]

export const viewWords: Record<PictureBy, string> = {
  helper: 'By helper',
  station: 'By station and machine',
  batch: 'By batch',
}

/** The timetable drawn; null where nothing is done. A batch has the same pattern in every row. */
export function picture(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  by: PictureBy,
  format: Formatter,
): TimetableDrawing | null {
  const patterns = new Map<string, PatternKey>(
    plan.batches.map(({ batch }, place) => [batch.id, productPattern(place)]),
  )
  const bar = (entry: Entry) => ({
    from: entry.from,
    to: entry.to,
    label: words.what(entry),
    title: `${words.what(entry)}: ${words.does(entry)}, ${words.time(entry.from)} to ${words.time(entry.to)}${entry.helpers.length > 0 ? `, ${words.who(entry.helpers)}` : ''}`,
    pattern: (entry.batch === null ? undefined : patterns.get(entry.batch)) ?? ('kept' as const),
    alone: entry.helpers.length === 0,
  })
  const rows = rowsOf(plan, table, words, by, (entries) => entries.filter(({ from, to }) => to > from).map(bar))
  if (!rows.some(({ bars }) => bars.length > 0)) return null
  return timetableDrawing({
    id: 'timetable-picture',
    title: viewWords[by],
    days: plan.kitchen.days.map(({ date, opens, closes }) => ({ label: format.day(date), from: opens, to: closes })),
    rows,
    ticks: (minute) => words.time(minute),
  })
}

function rowsOf(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  by: PictureBy,
  bars: (entries: readonly Entry[]) => TimetableRow['bars'],
): TimetableRow[] {
  if (by === 'helper') {
    return plan.kitchen.helpers.map(({ id, name, hours }) => ({
      label: name,
      bars: bars(table.entries.filter(({ helpers }) => helpers.includes(id))),
      away: plan.kitchen.days.flatMap(({ opens, closes }) => gaps(opens, closes, hours)),
    }))
  }
  if (by === 'batch') {
    return plan.batches.map(({ batch }) => ({
      label: batch.name,
      bars: bars(table.entries.filter((entry) => entry.batch === batch.id)),
    }))
  }
  return [
    ...table.stations.map(({ station, entries }) => ({
      label: stationWords[station],
      bars: bars(entries.filter(({ machines }) => machines.length === 0)),
    })),
    ...table.machines.map(({ entries, ...machine }) => ({ label: words.machine(machine), bars: bars(entries) })),
  ].filter((row) => row.bars.length > 0)
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
