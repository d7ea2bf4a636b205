/** A day's opening, in minutes from midnight of the first day; days are 1,440 minutes apart. */
export type AxisDay = { label: string; from: number; to: number }

/** A stretch of the axis that is drawn to one scale; `x` and `width` in px. */
export type Panel = {
  kind: 'day' | 'night' | 'after'
  label: string
  from: number
  to: number
  x: number
  width: number
}

/** Time from left to right: panels side by side without a gap in minutes. */
export type Axis = { panels: Panel[]; from: number; to: number; width: number }

export const PX_PER_MINUTE = 2.4
/** A column for a night with its word, and one without. */
const NIGHT_PX = 72
const GAP_PX = 14
/** So that the first and the last line are not cut in half. */
const MARGIN_PX = 2
/** How long something may run on after the last closing and still be drawn. */
const AFTER_MINUTES = 2880

/**
 * The axis of these days: each as wide as it is long, a night between two of them as a narrow column. When `until` (a
 * minute) is after the last closing, one more column leads there. `named` leaves room for the nights' words.
 *
 * @throws RangeError for no day, a day without length, days that are not in their order, and for an `until` more than
 * 2,880 minutes after the last closing
 */
export function axisOf(days: readonly AxisDay[], until: number, named: boolean): Axis {
  const last = checkDays(days)
  if (until > last.to + AFTER_MINUTES) throw new RangeError('a bar of the timetable ends long after its last day')
  const column = named ? NIGHT_PX : GAP_PX
  const panels: Panel[] = []
  let x = MARGIN_PX
  const add = (kind: Panel['kind'], label: string, from: number, to: number, width: number): void => {
    panels.push({ kind, label, from, to, x, width })
    x += width
  }
  let closed: number | null = null
  for (const { label, from, to } of days) {
    if (closed !== null && from > closed) add('night', named ? nightWord(closed, from) : '', closed, from, column)
    add('day', label, from, to, (to - from) * PX_PER_MINUTE)
    closed = to
  }
  if (until > last.to) add('after', named ? 'after' : '', last.to, until, column)
  return { panels, from: panels[0]?.from ?? 0, to: Math.max(until, last.to), width: x + MARGIN_PX }
}

/**
 * Where a minute of the axis stands, in px.
 *
 * @throws RangeError for a minute that is not on the axis
 */
export function xOf(axis: Axis, minute: number): number {
  const panel = axis.panels.find(({ from, to }) => minute >= from && minute <= to)
  if (panel === undefined) throw new RangeError(`minute ${minute} is not in the timetable`)
  return panel.x + ((minute - panel.from) / (panel.to - panel.from)) * panel.width
}

function checkDays(days: readonly AxisDay[]): AxisDay {
  let before: AxisDay | undefined
  for (const day of days) {
    if (!(Number.isFinite(day.from) && Number.isFinite(day.to) && day.from < day.to)) {
      throw new RangeError('a day of the timetable ends after it begins')
    }
    if (before !== undefined && day.from < before.to) throw new RangeError('the days of a timetable are in their order')
    before = day
  }
  if (before === undefined) throw new RangeError('a timetable has at least one day')
  return before
}

function nightWord(closed: number, opened: number): string {
  const midnights = Math.floor(opened / 1440) - Math.floor(closed / 1440)
  if (midnights === 0) return 'closed'
  return midnights === 1 ? 'night' : `${midnights} nights`
}
