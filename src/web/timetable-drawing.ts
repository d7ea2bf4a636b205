import { type Markup, markup } from './markup.ts'
import { checkDrawingId, hueClass, type PatternKey, patternDefinitions, patternFill } from './patterns.ts'
import { type Axis, type AxisDay, axisOf, type Panel, xOf } from './timetable-axis.ts'

export type TimetableBar = {
  /** Minutes from midnight of the first day. */
  from: number
  to: number
  /** Written in the bar where it fits. */
  label: string
  /** The whole of it, in words. */
  title: string
  pattern: PatternKey
  /** Nobody is at it: a machine runs by itself, jars cool. */
  alone?: boolean
  href?: string
}

export type TimetableRow = {
  label: string
  href?: string
  bars: readonly TimetableBar[]
  /** When whoever or whatever the row is of is not there; what is off the axis is left out. */
  away?: readonly { from: number; to: number }[]
}

export type TimetableOptions = {
  /** Unlike any other drawing's on the page. */
  id: string
  title: string
  days: readonly AxisDay[]
  rows: readonly TimetableRow[]
  /** The words for a full hour, given in minutes from midnight of the first day. */
  ticks(minute: number): string
  /** Nights have a column with a word; with false only a narrow gap. True when not given. */
  nights?: boolean
}

/** What `{{> timetable timetable=timetable}}` takes. The page shows the same as a table as well. */
export type TimetableDrawing = {
  title: string
  drawing: Markup
  /** What dashes and slanted lines mean, as far as there are any. */
  key: string[]
}

/**
 * Who or what does which work when: a row each, time from left to right, days as wide as they are long and nights
 * narrow. Bars of a row that overlap stand in lanes below each other. What runs on after the last closing leads into a
 * column of its own. The row labels are a drawing beside, so that they can stay while the hours scroll.
 *
 * @throws RangeError for no day or row, days out of their order, a bar or an absence that does not end after it begins,
 * a bar that begins before the first day or ends more than 2,880 minutes after the last, and a bad id
 */
export function timetableDrawing(options: TimetableOptions): TimetableDrawing {
  const { id, title, days, rows, ticks, nights = true } = options
  checkDrawingId(id)
  checkRows(rows)
  const bars = rows.flatMap((row) => row.bars)
  const axis = axisOf(days, Math.max(...days.map(({ to }) => to), ...bars.map(({ to }) => to)), nights)
  const placed = placeRows(rows, axis)
  const height = placed.reduce((sum, row) => sum + row.height, HEAD_PX) + MARGIN_PX
  const role = bars.some(({ href }) => href !== undefined) ? 'group' : 'img'
  const definitions = patternDefinitions(
    id,
    bars.map(({ pattern }) => pattern),
  )
  const hours = markup`<svg class="timetable-hours" role="${role}" aria-labelledby="${id}-title" viewBox="0 0 ${axis.width} ${height}" width="${axis.width}" height="${height}"><title id="${id}-title">${title}</title>${definitions}${awayPattern(id)}${axis.panels.map((panel) => drawPanel(panel, height, ticks))}${placed.map((row) => drawRow(id, row, axis))}${lineBelow(axis.width, height)}</svg>`
  return { title, drawing: markup`${drawLabels(title, placed, height)}${hours}`, key: keyOf(rows) }
}

type PlacedBar = { bar: TimetableBar; x: number; width: number; lane: number }
type PlacedRow = { row: TimetableRow; lines: string[]; bars: PlacedBar[]; y: number; height: number }

/** Above the rows: the days' names, then the hours. */
const HEAD_PX = 58
const DAY_LINE = 20
const HOUR_LINE = 48
const LABELS_PX = 138
/** A lane is as high as a finger needs; the bar stands in it with some ground above and below. */
const LANE_PX = 44
const BAR_PX = 36
const LINE_PX = 20
const MARGIN_PX = 2
const PADDING_PX = 6
/** A bold system letter of 16 px on average, where the system's letters are wide (measured: 10.6 to 11.1). */
const LETTER_PX = 11
/** What is shorter could not be seen. */
const LEAST_PX = 2

function checkRows(rows: readonly TimetableRow[]): void {
  if (rows.length === 0) throw new RangeError('a timetable has at least one row')
  for (const { from, to } of rows.flatMap(({ bars, away = [] }) => [...bars, ...away])) {
    if (!(Number.isFinite(from) && Number.isFinite(to) && from < to)) {
      throw new RangeError('what is drawn in a timetable ends after it begins')
    }
  }
}

function keyOf(rows: readonly TimetableRow[]): string[] {
  const alone = rows.some(({ bars }) => bars.some((bar) => bar.alone === true))
  const away = rows.some((row) => (row.away ?? []).length > 0)
  return [
    ...(alone ? ['Dashed outline: runs by itself, nobody stands at it.'] : []),
    ...(away ? ['Thin slanted lines: not there.'] : []),
  ]
}

function placeRows(rows: readonly TimetableRow[], axis: Axis): PlacedRow[] {
  let y = HEAD_PX
  return rows.map((row) => {
    const bars = placeBars(row.bars, axis)
    const lines = wrapped(row.label, LABELS_PX - 2 * PADDING_PX)
    const lanes = Math.max(1, ...bars.map(({ lane }) => lane + 1))
    const height = Math.max(lanes * LANE_PX, lines.length * LINE_PX + 2 * PADDING_PX)
    const placed = { row, lines, bars, y, height }
    y += height
    return placed
  })
}

/** Each bar in the first lane that is free where it begins. By px, since the shortest are drawn wider than they are. */
function placeBars(bars: readonly TimetableBar[], axis: Axis): PlacedBar[] {
  const ends: number[] = []
  return [...bars]
    .sort((a, b) => a.from - b.from || b.to - a.to)
    .map((bar) => {
      const x = xOf(axis, bar.from)
      const width = Math.max(LEAST_PX, xOf(axis, bar.to) - x)
      const free = ends.findIndex((end) => end <= x + 1e-6)
      const lane = free === -1 ? ends.length : free
      ends[lane] = x + width
      return { bar, x, width, lane }
    })
}

function drawPanel(panel: Panel, height: number, ticks: (minute: number) => string): Markup {
  const { kind, label, x, width } = panel
  const words = shortened(label, width - 2 * PADDING_PX)
  const right = x + width
  const side = markup`<path class="axis" d="M${right} ${HEAD_PX} V${height}"/>`
  if (kind !== 'day') {
    const word = text(words, x + width / 2, HOUR_LINE, 'middle', 'drawn-text timetable-quiet')
    return markup`<rect class="timetable-night" x="${x}" y="0" width="${width}" height="${height}"/>${side}${word}`
  }
  const name = text(words, x + PADDING_PX, DAY_LINE, 'start', 'drawn-text timetable-day')
  return markup`<g><title>${label}</title>${name}${drawHours(panel, height, ticks)}${side}</g>`
}

/** A line at each full hour, and its words where they come within the panel and clear of those before. */
function drawHours({ from, to, x, width }: Panel, height: number, ticks: (minute: number) => string): Markup[] {
  const drawn: Markup[] = []
  let taken = x
  for (let minute = Math.ceil(from / 60) * 60; minute <= to; minute += 60) {
    const at = x + ((minute - from) / (to - from)) * width
    const words = ticks(minute)
    const wide = widthOf(words)
    const left = Math.min(Math.max(at - wide / 2, x + PADDING_PX), x + width - wide - PADDING_PX)
    drawn.push(markup`<path class="axis-line" d="M${at} ${HEAD_PX - 5} V${height}"/>`)
    if (left < taken + PADDING_PX) continue
    drawn.push(text(words, left + wide / 2, HOUR_LINE, 'middle', 'drawn-text timetable-hour'))
    taken = left + wide
  }
  return drawn
}

function drawRow(id: string, { row, bars, y, height }: PlacedRow, axis: Axis): Markup {
  const away = (row.away ?? []).flatMap(({ from, to }) => {
    const [start, end] = [Math.max(from, axis.from), Math.min(to, axis.to)]
    if (start >= end) return []
    const x = xOf(axis, start)
    return markup`<rect fill="url(#${id}-away)" x="${x}" y="${y + 1}" width="${xOf(axis, end) - x}" height="${height - 2}"><title>${row.label}: not there</title></rect>`
  })
  return markup`<g>${away}<path class="axis-line" d="M0 ${y} H${axis.width}"/>${bars.map((bar) => drawBar(id, bar, y))}</g>`
}

function drawBar(id: string, { bar, x, width, lane }: PlacedBar, rowY: number): Markup {
  const y = rowY + lane * LANE_PX + (LANE_PX - BAR_PX) / 2
  const box = markup`x="${x}" y="${y}" width="${width}" height="${BAR_PX}"`
  const edge = bar.alone === true ? 'edge timetable-alone' : 'edge'
  const content = markup`<title>${bar.title}</title><rect class="${hueClass(bar.pattern)}" ${box}/><rect fill="${patternFill(id, bar.pattern)}" ${box}/><rect class="${edge}" ${box}/>${writeIn(bar.label, x, y, width)}`
  if (bar.href === undefined) return markup`<g class="timetable-bar">${content}</g>`
  return markup`<a class="timetable-bar" href="${bar.href}" aria-label="${bar.title}">${content}</a>`
}

/** The label on a plate of the ground, so that the pattern does not run through it; nothing where it does not fit. */
function writeIn(label: string, x: number, y: number, width: number): Markup {
  const wide = widthOf(label)
  if (label === '' || wide + 2 * PADDING_PX > width) return markup``
  const plate = markup`<rect class="drawn-plate" x="${x + PADDING_PX / 2}" y="${y + 6}" width="${wide + PADDING_PX}" height="24"/>`
  return markup`<g aria-hidden="true">${plate}${text(label, x + PADDING_PX, y + 24, 'start', 'drawn-text')}</g>`
}

/** The names of the rows. Read out only when they lead somewhere: every bar's words say whose it is. */
function drawLabels(title: string, rows: readonly PlacedRow[], height: number): Markup {
  const linked = rows.some(({ row }) => row.href !== undefined)
  const spoken = linked ? markup`role="group" aria-label="${title}: rows"` : markup`aria-hidden="true"`
  return markup`<svg class="timetable-rows" ${spoken} viewBox="0 0 ${LABELS_PX} ${height}" width="${LABELS_PX}" height="${height}">${rows.map(drawLabel)}${lineBelow(LABELS_PX, height)}<path class="axis" d="M${LABELS_PX - 0.5} ${HEAD_PX} V${height}"/></svg>`
}

function drawLabel({ row, lines, y, height }: PlacedRow): Markup {
  const first = y + (height - lines.length * LINE_PX) / 2 + 15
  const words = lines.map((line, i) => text(line, PADDING_PX, first + i * LINE_PX, 'start', 'drawn-text'))
  const field = markup`<rect class="timetable-field" x="0" y="${y}" width="${LABELS_PX}" height="${height}"/>`
  const content = markup`<title>${row.label}</title>${field}${words}`
  const label =
    row.href === undefined
      ? markup`<g>${content}</g>`
      : markup`<a href="${row.href}" aria-label="${row.label}">${content}</a>`
  return markup`<path class="axis-line" d="M0 ${y} H${LABELS_PX}"/>${label}`
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

/** In px, as estimated: letters of the east are as wide as they are high. */
function widthOf(words: string): number {
  return [...words].reduce((sum, letter) => sum + ((letter.codePointAt(0) ?? 0) >= 0x2e80 ? 17 : LETTER_PX), 0)
}

/** As much as fits, with a mark that there is more; nothing when not even a letter does. */
function shortened(words: string, room: number): string {
  if (widthOf(words) <= room) return words
  const letters = [...words]
  while (letters.length > 0 && widthOf(`${letters.join('')}…`) > room) letters.pop()
  return letters.length === 0 ? '' : `${letters.join('').trimEnd()}…`
}

/** At most three lines, broken between words; a word that is too long for a line is shortened. */
function wrapped(words: string, room: number): string[] {
  const lines = ['']
  for (const word of words.split(/\s+/)) {
    const longer = `${lines.at(-1)} ${word}`.trim()
    if (widthOf(longer) <= room || lines.at(-1) === '') lines[lines.length - 1] = longer
    else lines.push(word)
  }
  const shown = lines.length > 3 ? [...lines.slice(0, 2), lines.slice(2).join(' ')] : lines
  return shown.map((line) => shortened(line, room))
}
