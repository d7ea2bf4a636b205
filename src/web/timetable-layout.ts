import type { PatternKey } from './patterns.ts'
import { type Axis, xOf } from './timetable-axis.ts'

export type TimetableBar = {
  /** Minutes from midnight of the first day. */
  from: number
  to: number
  /** From the most to the least telling: the first that fits is written in the bar. */
  labels: readonly string[]
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

/** Measures of a drawing in px, before it is made larger or smaller as a whole. */
export type Measures = {
  /** Width of everything; null: as wide as the hours are long. */
  width: number | null
  nightPx: number
  /** Above the rows: days' names, where there are several, then hours. */
  dayLine: number
  hourLine: number
  /** The most that the names of the rows take. */
  labelsPx: number
  lanePx: number
  barPx: number
  /** A line of words: its height, and from its top to its foot. */
  linePx: number
  footPx: number
  paddingPx: number
  /** A bold system letter on average, where the system's letters are wide (measured: 0.66 to 0.69 of the size). */
  letterPx: number
  /** What is shorter is drawn so wide. Less than a minute, so that bars that follow each other stay in a lane. */
  leastPx: number
}

/** To scroll with a finger: a lane is as high as one, letters of 16 px. */
export const scrolling: Measures = {
  width: null,
  nightPx: 72,
  dayLine: 24,
  hourLine: 34,
  labelsPx: 138,
  lanePx: 44,
  barPx: 36,
  linePx: 20,
  footPx: 15,
  paddingPx: 6,
  letterPx: 11,
  leastPx: 2,
}

/**
 * All at one glance. As wide as portrait A4 (210 mm) within the page's own margins, so that its letters of 12 px are at
 * least 9 pt on paper; on a wide screen it grows with the page.
 */
export const fitted: Measures = {
  width: 680,
  nightPx: 52,
  dayLine: 18,
  hourLine: 24,
  labelsPx: 112,
  lanePx: 28,
  barPx: 23,
  linePx: 15,
  footPx: 12,
  paddingPx: 4,
  letterPx: 8.25,
  leastPx: 0.5,
}

export type PlacedBar = { bar: TimetableBar; x: number; width: number; lane: number }
export type PlacedRow = { row: TimetableRow; lines: string[]; bars: PlacedBar[]; y: number; height: number }

/** How wide the names of these rows are: the longest, as far as is allowed. */
export function labelsWidth(
  rows: readonly TimetableRow[],
  { labelsPx, lanePx, paddingPx, letterPx }: Measures,
): number {
  const longest = Math.max(...rows.map(({ label }) => widthOf(label, letterPx)))
  return Math.min(labelsPx, Math.max(lanePx, Math.ceil(longest) + 2 * paddingPx))
}

/** The rows one below the other from `top` on, names broken into lines of `room` px. */
export function placeRows(
  rows: readonly TimetableRow[],
  axis: Axis,
  { top, room }: { top: number; room: number },
  measures: Measures,
): PlacedRow[] {
  const { lanePx, linePx, paddingPx, letterPx, leastPx } = measures
  let y = top
  return rows.map((row) => {
    const bars = placeBars(row.bars, axis, leastPx)
    const lines = wrapped(row.label, room - 2 * paddingPx, letterPx)
    const lanes = Math.max(1, ...bars.map(({ lane }) => lane + 1))
    const height = Math.max(lanes * lanePx, lines.length * linePx + 2 * paddingPx)
    const placed = { row, lines, bars, y, height }
    y += height
    return placed
  })
}

/** Each bar in the first lane that is free where it begins. By px, since the shortest are drawn wider than they are. */
function placeBars(bars: readonly TimetableBar[], axis: Axis, leastPx: number): PlacedBar[] {
  const ends: number[] = []
  return [...bars]
    .sort((a, b) => a.from - b.from || b.to - a.to)
    .map((bar) => {
      const x = xOf(axis, bar.from)
      const width = Math.max(leastPx, xOf(axis, bar.to) - x)
      const free = ends.findIndex((end) => end <= x + 1e-6)
      const lane = free === -1 ? ends.length : free
      ends[lane] = x + width
      return { bar, x, width, lane }
    })
}

/** In px, as estimated: letters of the east are as wide as they are high. */
export function widthOf(words: string, letterPx: number): number {
  return [...words].reduce(
    (sum, letter) => sum + ((letter.codePointAt(0) ?? 0) >= 0x2e80 ? letterPx * 1.55 : letterPx),
    0,
  )
}

/** As much as fits, with a mark that there is more; nothing when not even a letter does. */
export function shortened(words: string, room: number, letterPx: number): string {
  if (widthOf(words, letterPx) <= room) return words
  const letters = [...words]
  while (letters.length > 0 && widthOf(`${letters.join('')}…`, letterPx) > room) letters.pop()
  return letters.length === 0 ? '' : `${letters.join('').trimEnd()}…`
}

/** At most three lines, broken between words; a word that is too long for a line is shortened. */
function wrapped(words: string, room: number, letterPx: number): string[] {
  const lines = ['']
  for (const word of words.split(/\s+/)) {
    const longer = `${lines.at(-1)} ${word}`.trim()
    if (widthOf(longer, letterPx) <= room || lines.at(-1) === '') lines[lines.length - 1] = longer
    else lines.push(word)
  }
  const shown = lines.length > 3 ? [...lines.slice(0, 2), lines.slice(2).join(' ')] : lines
  return shown.map((line) => shortened(line, room, letterPx))
}
