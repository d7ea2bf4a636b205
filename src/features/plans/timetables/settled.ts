import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import { changeTimetablePath, timetablePath } from '../paths.ts'
import { changeWords } from './change-words.ts'
import type { TimetableRow } from './queries.ts'

/** What a timetable's page says of what was settled by hand; for the partial timetable-settled. */
export type Settled = {
  /** The timetable gone on from; null where this one was made from its division. */
  from: { text: string; href: string } | null
  sentences: string[]
  change: string
}

/** What was settled by hand, how much else moved for it and whether that is still done in its day. */
export function settledView(row: TimetableRow, worked: WorkedOut, coop: CoopWays): Settled {
  const { from, edits, progress } = row.question
  const change = changeTimetablePath(row.planId, row.number)
  if (from === null) return { from: null, sentences: [], change }
  const format = formatFor(coop)
  const words = changeWords(worked, format)
  const moved = worked.moved ?? 0
  const begun = new Set((progress?.begun ?? []).map(({ activity }) => activity))
  const lost = edits.filter(
    (one) => one.kind === 'at' && !begun.has(one.activity) && worked.schedule.start[one.activity] !== one.minute,
  )
  return {
    from: { text: `timetable ${from}`, href: timetablePath(row.planId, from) },
    sentences: [
      ...(progress === null ? [] : [`The day had begun: it was planned again from ${words.moment(progress.now)}.`]),
      edits.length === 0
        ? 'Nothing is settled by hand.'
        : `Settled by hand: ${edits.map((one) => words.edit(one)).join('; ')}.`,
      ...(lost.length === 0 ? [] : [`This could not be kept: ${lost.map((one) => words.edit(one)).join('; ')}.`]),
      moved === 0
        ? 'No task begins at another time for it.'
        : `${format.count(moved, 'task begins', 'tasks begin')} at another time for it.`,
      worked.holds
        ? 'Everything is done in its day.'
        : 'Not everything is done in its day: what is late is named on this page.',
    ],
    change,
  }
}
