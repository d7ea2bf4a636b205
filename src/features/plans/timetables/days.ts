import type { DayEnd, Entry, NotedPlan, Timetable, Wait } from '../../../core/day/index.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { Formatter } from '../../../web/format.ts'
import { listed, sentence } from '../words.ts'
import { looksOf } from './looks.ts'
import type { DayPicture } from './picture.ts'
import { type Piece, piecesOf } from './pieces.ts'
import type { TableWords } from './words.ts'

/** Idle time that is worth a line on a helper's sheet, in minutes. Our choice. */
const idleMinutes = 15

/** A day's part of the page: its sentence, its drawing, its table, and what happens until the next day. */
export function daySections(
  { plan, days: ends = [] }: Pick<WorkedOut, 'plan' | 'days'>,
  table: Timetable,
  words: TableWords,
  pictures: readonly (DayPicture | null)[],
  format: Formatter,
) {
  return plan.kitchen.days.flatMap(({ date, opens, closes }, number) => {
    const pieces = piecesOf(entriesOf(plan, number, table.entries))
    const picture = pictures[number] ?? null
    if (pieces.length === 0 && picture === null) return []
    const people = new Set(pieces.flatMap(({ helpers }) => helpers)).size
    return {
      id: `day-${date}`,
      day: format.day(date),
      first: number === 0,
      says: `${format.count(people, 'helper')}, kitchen open ${words.span(opens, closes)}`,
      proved: endWords(ends[number], opens, format),
      picture,
      fold: `${format.count(pieces.length, 'task')} by time`,
      rows: pieces.map((piece) => rowOf(plan, piece, words, date)),
      ...nightOf(plan, table, number, words),
    }
  })
}

/** How near a day's last hands are to the earliest that can be; the share is of the minutes from opening. */
function endWords(end: DayEnd | undefined, opens: number, format: Formatter): string {
  if (end === undefined || end.ends === null || end.bound === null) return ''
  if (end.ends <= end.bound) return 'Proved best: no order of this day’s work ends it earlier.'
  const gap = Math.ceil(((end.ends - end.bound) / Math.max(1, end.bound - opens)) * 1000) / 1000
  return `The last hands are done within ${format.percent(gap)} of the earliest possible.`
}

/** A day's part of a helper's sheet: when he or she is there and free, and each piece of work with the recipe's words. */
export function helperDays(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  pictures: readonly (DayPicture | null)[],
  format: Formatter,
  id: string,
) {
  const days = table.helpers.find(({ helper }) => helper === id)?.days ?? []
  const spans = (of: readonly { from: number; to: number }[]) => listed(of.map(({ from, to }) => words.span(from, to)))
  return days.flatMap(({ day, entries, hours, idle }) => {
    const date = plan.kitchen.days[day]?.date ?? ''
    const rows = piecesOf(entries).map((piece) => ({
      ...rowOf(plan, piece, words, date),
      beside: words.whoShort(piece.helpers.filter((one) => one !== id)),
      says: words.says(piece),
    }))
    if (rows.length === 0) return []
    const free = idle.filter(({ from, to }) => to - from >= idleMinutes)
    const there = `There ${spans(hours)}`
    return {
      day: format.day(date),
      picture: pictures[day] ?? null,
      hours: free.length === 0 ? `${there}.` : `${there}; nothing planned ${spans(free)}.`,
      rows,
    }
  })
}

/** What begins on a day, and in the night after it. */
export function entriesOf(plan: NotedPlan, number: number, entries: readonly Entry[]): Entry[] {
  const midnight = plan.kitchen.days[number]?.midnight ?? 0
  return entries.filter(({ from }) => from >= midnight && from < midnight + 1440)
}

function rowOf(plan: NotedPlan, piece: Piece, words: TableWords, date: string) {
  return {
    letter: looksOf(plan)(piece.batch).letter,
    when: words.span(piece.from, piece.to, date),
    what: words.what(piece),
    does: words.doing(piece),
    who: words.who(piece.helpers) || 'nobody',
    machines: words.machines(piece.machines),
    alone: piece.helpers.length === 0,
  }
}

/** What runs on and what waits while the kitchen is closed after a day, and when it opens again. */
export function nightOf(plan: NotedPlan, { entries, waits }: Timetable, number: number, words: TableWords) {
  const { days } = plan.kitchen
  const [day, next] = [days[number], days[number + 1]]
  if (day === undefined) throw new RangeError(`the timetable has no day ${number}`)
  const until = next?.opens ?? Number.POSITIVE_INFINITY
  const machines = piecesOf(entries.filter(({ from, to }) => from < until && to > day.closes)).map((piece) =>
    sentence(
      `${words.what(piece)}: ${words.machines(piece.machines) || words.doing(piece)} from ${words.time(piece.from, day.date)} until ${words.time(piece.to, day.date)}.`,
    ),
  )
  const standing = waits.filter(({ from, ready }) => from >= day.opens && from < until && ready > day.closes)
  const cooling = waits.filter(({ batch, from }) => isProcessed(plan, batch) && from >= day.opens && from < until)
  const runs = [...machines, ...waitWords(standing, day.date, words), ...roomWords(cooling, day.date, words)]
  return {
    night: next === undefined ? 'After closing' : 'Overnight',
    runs,
    closed: closedWords(runs.length > 0, next === undefined ? '' : words.time(next.opens, day.date)),
  }
}

/** A batch whose jars go through a canner: after that they stand to cool. */
function isProcessed(plan: NotedPlan, id: string): boolean {
  return plan.batches.some(({ batch }) => batch.id === id && batch.process !== null)
}

/** How much of the counter cooling jars take, so that somebody clears it in time. */
function roomWords(cooling: readonly Wait[], date: string, words: TableWords): string[] {
  const jarsAt = (minute: number) =>
    cooling.reduce((sum, { units, from, ready }) => sum + (from <= minute && minute < ready ? units : 0), 0)
  const counts = cooling.map(({ from }) => ({ from, jars: jarsAt(from) }))
  const most = counts.reduce((best, one) => (one.jars > best.jars ? one : best), { from: 0, jars: 0 })
  if (most.jars === 0) return []
  return [
    `Keep the counter free: ${words.what({ batch: null, units: most.jars })} stand and cool there at ${words.time(most.from, date)}.`,
  ]
}

/** What the recipes say of waiting, once for all that it is said of, and when it is over. */
function waitWords(waits: readonly Wait[], date: string, words: TableWords): string[] {
  const alike = new Map<string, Wait[]>()
  for (const wait of waits) {
    const says = words.stepSays(wait.batch, wait.step)
    alike.set(says, [...(alike.get(says) ?? []), wait])
  }
  return [...alike].map(([says, all]) => {
    const units = new Map<string, number>()
    for (const { batch, units: more } of all) units.set(batch, (units.get(batch) ?? 0) + more)
    const what = [...units].map(([batch, many]) => words.what({ batch, units: many }))
    const ready = all.map((one) => one.ready)
    const [first, last] = [Math.min(...ready), Math.max(...ready)].map((at) => words.time(at, date))
    const until = first === last ? `Ready at ${first}.` : `The first are ready at ${first}, the last at ${last}.`
    return `${says.replace(/\.$/, '')}: ${what.join('; ')}. ${until}`
  })
}

function closedWords(runs: boolean, opens: string): string {
  if (opens === '') return runs ? '' : 'Nothing runs on.'
  return runs ? `The kitchen opens again at ${opens}.` : `Nothing runs on; the kitchen opens again at ${opens}.`
}
