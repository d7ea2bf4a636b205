import { type Markup, markup } from './markup.ts'
import { checkDrawingId, hueClass, patternDefinitions, patternFill } from './patterns.ts'
import { type Axis, type AxisDay, axisOf, type Panel, xOf } from './timetable-axis.ts'
import {
  fitted,
  labelsWidth,
  type Measures,
  type PlacedBar,
  type PlacedRow,
  placeRows,
  scrolling,
  shortened,
  type TimetableRow,
  widthOf,
} from './timetable-layout.ts'

export type TimetableOptions = {
  /** Unlike any other drawing's on the page. */
  id: string
  title: string
  /** Of one alone the name is not drawn: it stands above the drawing. */
  days: readonly AxisDay[]
  rows: readonly TimetableRow[]
  /** The words for a full hour, given in minutes from midnight of the first day. */
  ticks(minute: number): string
  /** Nights have a column with a word; with false only a narrow gap. True when not given. */
  nights?: boolean
}

/** What `{{> timetable timetable=timetable}}` takes, beside a key of the patterns. The page shows a table as well. */
export type TimetableDrawing = {
  title: string
  /** For narrow screens: row names in a drawing beside, so that they stay while the hours scroll. */
  scrolling: Markup
  /** For wide screens and paper: all at one glance. */
  fitted: Markup
  /** What dashes and slanted lines mean, as far as there are any. */
  notes: string[]
}

/**
 * Who or what does which work when: a row each, time from left to right, days as wide as they are long and nights
 * narrow. Bars of a row that overlap stand in lanes below each other. What runs on after the last closing leads into a
 * column of its own. Drawn twice: to scroll, and to fit; a page shows one of them.
 *
 * @throws RangeError for no day or row, days out of their order, a bar or an absence that does not end after it begins,
 * a bar that begins before the first day or ends more than 2,880 minutes after the last, and a bad id
 */
export function timetableDrawing(options: TimetableOptions): TimetableDrawing {
  const { id, title, rows } = options
  checkDrawingId(id)
  checkRows(rows)
  return { title, scrolling: drawScrolling(options), fitted: drawFitted(options), notes: notesOf(rows) }
}

const MARGIN_PX = 2

function drawScrolling(options: TimetableOptions): Markup {
  const { id, title, rows } = options
  const { axis, labels, placed, height } = arrange(options, scrolling)
  const linked = rows.some(({ href }) => href !== undefined)
  // every bar's words say whose it is, so that the names are read out only when they lead somewhere
  const spoken = linked ? markup`role="group" aria-label="${title}: rows"` : markup`aria-hidden="true"`
  return markup`<svg class="timetable-rows" ${spoken} viewBox="0 0 ${labels} ${height}" width="${labels}" height="${height}">${drawLabels(placed, labels, height, scrolling)}</svg><svg class="timetable-hours" role="${roleOf(rows)}" aria-labelledby="${id}-title" viewBox="0 0 ${axis.width} ${height}" width="${axis.width}" height="${height}"><title id="${id}-title">${title}</title>${drawHours(id, options, axis, placed, height, scrolling)}</svg>`
}

function drawFitted(options: TimetableOptions): Markup {
  const { title, rows } = options
  const id = `${options.id}-fitted`
  const { axis, labels, placed, height } = arrange(options, fitted)
  const width = labels + axis.width
  return markup`<svg class="timetable-fitted" role="${roleOf(rows)}" aria-labelledby="${id}-title" viewBox="0 0 ${width} ${height}"><title id="${id}-title">${title}</title>${drawLabels(placed, labels, height, fitted)}<g transform="translate(${labels} 0)">${drawHours(id, options, axis, placed, height, fitted)}</g></svg>`
}

function arrange({ days, rows, nights = true }: TimetableOptions, measures: Measures) {
  const labels = labelsWidth(rows, measures)
  const ends = [...days, ...rows.flatMap(({ bars }) => bars)].map(({ to }) => to)
  const axis = axisOf(days, {
    until: Math.max(...ends),
    nightPx: nights ? measures.nightPx : null,
    width: measures.width === null ? null : measures.width - labels,
  })
  const top = headOf(axis, measures)
  const placed = placeRows(rows, axis, { top, room: labels }, measures)
  return { axis, labels, placed, height: placed.reduce((sum, row) => sum + row.height, top) + MARGIN_PX }
}

/** Height above the rows; the name of a day that is alone needs none. */
function headOf({ panels }: Axis, { dayLine, hourLine }: Measures): number {
  return (panels.filter(({ kind }) => kind === 'day').length > 1 ? dayLine : 0) + hourLine
}

function roleOf(rows: readonly TimetableRow[]): string {
  return rows.some(({ href, bars }) => href !== undefined || bars.some((bar) => bar.href !== undefined))
    ? 'group'
    : 'img'
}

function checkRows(rows: readonly TimetableRow[]): void {
  if (rows.length === 0) throw new RangeError('a timetable has at least one row')
  for (const { from, to } of rows.flatMap(({ bars, away = [] }) => [...bars, ...away])) {
    if (!(Number.isFinite(from) && Number.isFinite(to) && from < to)) {
      throw new RangeError('what is drawn in a timetable ends after it begins')
    }
  }
}

function notesOf(rows: readonly TimetableRow[]): string[] {
  const alone = rows.some(({ bars }) => bars.some((bar) => bar.alone === true))
  const away = rows.some((row) => (row.away ?? []).length > 0)
  return [
    ...(alone ? ['Dashed outline: runs by itself, nobody stands at it.'] : []),
    ...(away ? ['Thin slanted lines: not there.'] : []),
  ]
}

function drawHours(
  id: string,
  { rows, ticks }: TimetableOptions,
  axis: Axis,
  placed: readonly PlacedRow[],
  height: number,
  measures: Measures,
): Markup {
  const definitions = patternDefinitions(
    id,
    rows.flatMap(({ bars }) => bars.map(({ pattern }) => pattern)),
  )
  const top = headOf(axis, measures)
  return markup`${definitions}${awayPattern(id)}${axis.panels.map((panel) => drawPanel(panel, top, height, ticks, measures))}${placed.map((row) => drawRow(id, row, axis, measures))}${lineBelow(axis.width, height)}`
}

function drawPanel(
  panel: Panel,
  top: number,
  height: number,
  ticks: (minute: number) => string,
  measures: Measures,
): Markup {
  const { hourLine, linePx, paddingPx, letterPx } = measures
  const { kind, label, x, width } = panel
  const words = shortened(label, width - 2 * paddingPx, letterPx)
  const right = x + width
  const side = markup`<path class="axis" d="M${right} ${top} V${height}"/>`
  if (kind !== 'day') {
    const word = text(words, x + width / 2, footOfHours(top, measures), 'middle', 'drawn-text timetable-quiet')
    return markup`<rect class="timetable-night" x="${x}" y="0" width="${width}" height="${height}"/>${side}${word}`
  }
  const name = top === hourLine ? '' : text(words, x + paddingPx, linePx, 'start', 'drawn-text timetable-name')
  return markup`<g><title>${label}</title>${name}${drawTicks(panel, top, height, ticks, measures)}${side}</g>`
}

function footOfHours(top: number, { paddingPx }: Measures): number {
  return top - paddingPx - 4
}

/** A line at each full hour, and its words where they come within the panel and clear of those before. */
function drawTicks(
  { from, to, x, width }: Panel,
  top: number,
  height: number,
  ticks: (minute: number) => string,
  measures: Measures,
): Markup[] {
  const { paddingPx, letterPx } = measures
  const drawn: Markup[] = []
  let taken = x
  for (let minute = Math.ceil(from / 60) * 60; minute <= to; minute += 60) {
    const at = x + ((minute - from) / (to - from)) * width
    const words = ticks(minute)
    const wide = widthOf(words, letterPx)
    const left = Math.min(Math.max(at - wide / 2, x + paddingPx), x + width - wide - paddingPx)
    drawn.push(markup`<path class="axis-line" d="M${at} ${top - 5} V${height}"/>`)
    if (left < taken + paddingPx) continue
    drawn.push(text(words, left + wide / 2, footOfHours(top, measures), 'middle', 'drawn-text timetable-hour'))
    taken = left + wide
  }
  return drawn
}

function drawRow(id: string, { row, bars, y, height }: PlacedRow, axis: Axis, measures: Measures): Markup {
  const away = (row.away ?? []).flatMap(({ from, to }) => {
    const [start, end] = [Math.max(from, axis.from), Math.min(to, axis.to)]
    if (start >= end) return []
    const x = xOf(axis, start)
    return markup`<rect fill="url(#${id}-away)" x="${x}" y="${y + 1}" width="${xOf(axis, end) - x}" height="${height - 2}"><title>${row.label}: not there</title></rect>`
  })
  return markup`<g>${away}<path class="axis-line" d="M0 ${y} H${axis.width}"/>${bars.map((bar) => drawBar(id, bar, y, measures))}</g>`
}

function drawBar(id: string, { bar, x, width, lane }: PlacedBar, rowY: number, measures: Measures): Markup {
  const { lanePx, barPx } = measures
  const y = rowY + lane * lanePx + (lanePx - barPx) / 2
  const box = markup`x="${x}" y="${y}" width="${width}" height="${barPx}"`
  const edge = bar.alone === true ? 'edge timetable-alone' : 'edge'
  const content = markup`<title>${bar.title}</title><rect class="${hueClass(bar.pattern)}" ${box}/><rect fill="${patternFill(id, bar.pattern)}" ${box}/><rect class="${edge}" ${box}/>${writeIn(bar.labels, x, y, width, measures)}`
  if (bar.href === undefined) return markup`<g class="timetable-bar">${content}</g>`
  return markup`<a class="timetable-bar" href="${bar.href}" aria-label="${bar.title}">${content}</a>`
}

/**
 * The first label that fits, on a plate of the ground, so that the pattern does not run through it; else nothing. The
 * last one, the shortest, may come as close to the edges as a pen's width, then it stands in the middle.
 */
function writeIn(labels: readonly string[], x: number, y: number, width: number, measures: Measures): Markup {
  const { barPx, linePx, footPx, paddingPx, letterPx } = measures
  const shortest = labels.at(-1) ?? ''
  const label = labels.find((one) => one !== '' && widthOf(one, letterPx) + 2 * paddingPx <= width) ?? shortest
  const wide = widthOf(label, letterPx)
  if (label === '' || wide + 2 > width) return markup``
  const close = wide + 2 * paddingPx > width
  const [left, plateWide] = close ? [x + (width - wide) / 2, wide] : [x + paddingPx, wide + paddingPx]
  const top = y + (barPx - linePx) / 2
  const plate = markup`<rect class="drawn-plate" x="${left - (plateWide - wide) / 2}" y="${top - 1}" width="${plateWide}" height="${linePx + 2}"/>`
  const words = close
    ? text(label, x + width / 2, top + footPx, 'middle', 'drawn-text')
    : text(label, left, top + footPx, 'start', 'drawn-text')
  return markup`<g aria-hidden="true">${plate}${words}</g>`
}

/** The names of the rows. */
function drawLabels(rows: readonly PlacedRow[], width: number, height: number, measures: Measures): Markup {
  const top = rows[0]?.y ?? 0
  return markup`${rows.map((row) => drawLabel(row, width, measures))}${lineBelow(width, height)}<path class="axis" d="M${width - 0.5} ${top} V${height}"/>`
}

function drawLabel(placed: PlacedRow, width: number, { linePx, footPx, paddingPx }: Measures): Markup {
  const { row, lines, y, height } = placed
  const first = y + (height - lines.length * linePx) / 2 + footPx
  const words = lines.map((line, i) => text(line, paddingPx, first + i * linePx, 'start', 'drawn-text'))
  const field = markup`<rect class="timetable-field" x="0" y="${y}" width="${width}" height="${height}"/>`
  const content = markup`<title>${row.label}</title>${field}${words}`
  const label =
    row.href === undefined
      ? markup`<g>${content}</g>`
      : markup`<a href="${row.href}" aria-label="${row.label}">${content}</a>`
  return markup`<path class="axis-line" d="M0 ${y} H${width}"/>${label}`
}

function lineBelow(width: number, height: number): Markup {
  return markup`<path class="axis-line" d="M0 ${height - MARGIN_PX / 2} H${width}"/>`
}

function awayPattern(id: string): Markup {
  return markup`<defs><pattern id="${id}-away" width="9" height="9" patternUnits="userSpaceOnUse"><path class="timetable-hatch" d="M-1 1 L1 -1 M0 9 L9 0 M8 10 L10 8"/></pattern></defs>`
}

function text(words: string, x: number, y: number, anchor: 'start' | 'middle', name: string): Markup {
  return words === ''
    ? markup``
    : markup`<text class="${name}" x="${x}" y="${y}" text-anchor="${anchor}">${words}</text>`
}
