import { swatch } from './beam.ts'
import { type Markup, markup } from './markup.ts'
import { checkDrawingId, hueClass, type PatternKey, patternDefinitions, patternFill } from './patterns.ts'

/** One part of every day's bar, in the order in which they are stacked from the ground up. */
export type PlotLayer = {
  label: string
  pattern: PatternKey
  /** For each day, in the axis' unit; null is unknown and leaves a gap. */
  values: readonly (number | null)[]
}

export type PlotOptions = {
  /** Unlike any other drawing's on the page. */
  id: string
  title: string
  /** What it shows, in one sentence with figures. */
  finding: string
  /** The unit of the upright axis: "kg" */
  unit: string
  /** For each day: what stands below its bar ("Sat 14"), and its bar in words for whoever points at it */
  days: readonly { label: string; words: string }[]
  layers: readonly PlotLayer[]
}

/** What `{{> plot plot=plot}}` takes. The page shows the same figures as a table as well. */
export type Plot = { title: string; finding: string; drawing: Markup; key: { label: string; swatch: Markup }[] }

/**
 * Stacked bars by day from zero: the forecast of ripening, kg by class. Throws a RangeError for no day, a layer without
 * a value for each day, and a value below 0.
 */
export function ripeningPlot({ id, title, finding, unit, days, layers }: PlotOptions): Plot {
  checkDrawingId(id)
  checkLayers(days.length, layers)
  const width = LEFT + days.length * STEP + RIGHT
  const ticks = niceTicks(Math.max(...days.map((_, day) => totalOf(layers, day) ?? 0)))
  const top = ticks.at(-1) ?? 1
  const yOf = (value: number) => BASE - (value / top) * (BASE - TOP)
  const drawing = markup`<svg role="img" aria-labelledby="${id}-title ${id}-finding" viewBox="0 0 ${width} ${HEIGHT}" width="${width}" height="${HEIGHT}"><title id="${id}-title">${title}</title><desc id="${id}-finding">${finding}</desc>${patternDefinitions(
    id,
    layers.map(({ pattern }) => pattern),
  )}${ticks.map((tick) => drawTick(tick, yOf(tick), width, unit, tick === top))}${days.map((day, i) => drawDay(id, day, i, layers, yOf))}<line class="axis" x1="${LEFT}" y1="${BASE}" x2="${width - RIGHT}" y2="${BASE}"/></svg>`
  return {
    title,
    finding,
    drawing,
    key: layers.map(({ label, pattern }, i) => ({ label, swatch: swatch(`${id}-${i}`, pattern) })).reverse(),
  }
}

const LEFT = 52
const RIGHT = 8
const TOP = 28
const BASE = 220
const HEIGHT = 262
const STEP = 46
const BAR = 34

function checkLayers(days: number, layers: readonly PlotLayer[]): void {
  if (days === 0 || layers.length === 0) throw new RangeError('a plot has at least one day and one layer')
  for (const { values } of layers) {
    if (values.length !== days) throw new RangeError('a layer of the plot has a value for each day')
    if (!values.every((value) => value === null || (Number.isFinite(value) && value >= 0))) {
      throw new RangeError('values of the plot are not below 0')
    }
  }
}

/** null: something of that day is not known, so that its bar would be too short. */
function totalOf(layers: readonly PlotLayer[], day: number): number | null {
  let total = 0
  for (const { values } of layers) {
    const value = values[day] ?? null
    if (value === null) return null
    total += value
  }
  return total
}

/** From 0 to at least `most`, in steps of 1, 2 or 5 times a power of ten, five steps at most. */
function niceTicks(most: number): number[] {
  if (most <= 0) return [0, 1]
  const rough = most / 5
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= rough * (1 - 1e-9)) ?? 10 * power
  const count = Math.ceil(most / step - 1e-9)
  return Array.from({ length: count + 1 }, (_, i) => Number((i * step).toPrecision(12)))
}

function drawTick(value: number, y: number, width: number, unit: string, last: boolean): Markup {
  const words = last ? `${value} ${unit}` : `${value}`
  return markup`<line class="axis-line" x1="${LEFT}" y1="${y}" x2="${width - RIGHT}" y2="${y}"/><text class="drawn-text drawn-small" x="${LEFT - 6}" y="${y + 4}" text-anchor="end">${words}</text>`
}

function drawDay(
  id: string,
  day: PlotOptions['days'][number],
  i: number,
  layers: readonly PlotLayer[],
  yOf: (value: number) => number,
): Markup {
  const x = LEFT + i * STEP + (STEP - BAR) / 2
  const label = markup`<text class="drawn-text drawn-small" x="${x + BAR / 2}" y="${BASE + 20}" text-anchor="middle">${day.label
    .split(' ')
    .slice(0, 2)
    .map((line, n) => markup`<tspan x="${x + BAR / 2}" y="${BASE + 18 + n * 16}">${line}</tspan>`)}</text>`
  if (totalOf(layers, i) === null) return markup`<g><title>${day.words}</title>${label}</g>`
  let below = 0
  const parts = layers.map(({ values, pattern }) => {
    const value = values[i] ?? 0
    const y = yOf(below + value)
    const height = yOf(below) - y
    below += value
    if (value === 0) return markup``
    const box = (attribute: Markup) => markup`<rect ${attribute} x="${x}" y="${y}" width="${BAR}" height="${height}"/>`
    return markup`${box(markup`class="${hueClass(pattern)}"`)}${box(markup`fill="${patternFill(id, pattern)}"`)}${box(markup`class="edge"`)}`
  })
  return markup`<g><title>${day.words}</title>${parts}${label}</g>`
}
