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
/** A night between two days without its word. */
const GAP_PX = 14
/** So that the first and the last line are not cut in half. */
const MARGIN_PX = 2
/** How long something may run on after the last closing and still be drawn. */
export const AFTER_MINUTES = 2880

export type AxisOptions = {
  /** When it is after the last closing, one more column leads there; a minute. */
  until: number
  /** Px for a night with its word (and for what comes after the last closing); null: no words, a narrow gap. */
  nightPx: number | null
  /** Px for all of it; null: each minute has its 2.4 px, however wide that becomes. */
  width: number | null
}

/**
 * The axis of these days: each as wide as it is long, a night between two of them as a narrow column.
 *
 * @throws RangeError for no day, a day without length, days that are not in their order, an `until` more than 2,880
 * minutes after the last closing, and a width that the columns alone fill
 */
export function axisOf(days: readonly AxisDay[], { until, nightPx, width }: AxisOptions): Axis {
  const last = checkDays(days)
  if (until > last.to + AFTER_MINUTES) throw new RangeError('a bar of the timetable ends long after its last day')
  const stretches = stretchesOf(days, Math.max(until, last.to), nightPx !== null)
  const column = nightPx ?? GAP_PX
  const minutes = days.reduce((sum, { from, to }) => sum + to - from, 0)
  const columns = (stretches.length - days.length) * column + 2 * MARGIN_PX
  const perMinute = width === null ? PX_PER_MINUTE : (width - columns) / minutes
  if (perMinute <= 0) throw new RangeError(`a timetable of these days is wider than ${width} px`)
  let x = MARGIN_PX
  const panels = stretches.map((one): Panel => {
    const panel = { ...one, x, width: one.kind === 'day' ? (one.to - one.from) * perMinute : column }
    x += panel.width
    return panel
  })
  return { panels, from: panels[0]?.from ?? 0, to: Math.max(until, last.to), width: x + MARGIN_PX }
}

function stretchesOf(days: readonly AxisDay[], until: number, named: boolean): Omit<Panel, 'x' | 'width'>[] {
  const found: Omit<Panel, 'x' | 'width'>[] = []
  let closed: number | null = null
  for (const { label, from, to } of days) {
    if (closed !== null && from > closed)
      found.push({ kind: 'night', label: named ? nightWord(closed, from) : '', from: closed, to: from })
    found.push({ kind: 'day', label, from, to })
    closed = to
  }
  if (closed !== null && until > closed)
    found.push({ kind: 'after', label: named ? 'after' : '', from: closed, to: until })
  return found
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
