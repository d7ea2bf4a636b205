import type { LabelLine, LabelLineKind } from './label-text.ts'
import type { Region } from './region.ts'
import { type Measure, measured, type Words, type WrapOptions, wrap } from './wrap.ts'

/** A row of letters where it stands: `x` and `baseline` in millimetres from the label's top left corner. */
export type SetRow = { text: string; bold: boolean; sizePt: number; x: number; baseline: number }

/** The letters of a label, and what did not go on it: kinds of lines left off, and whether the name was cut short. */
export type Composition = { rows: SetRow[]; leftOff: LabelLineKind[]; shortened: boolean }

/** Sizes of the words in points, least to most, by steps. */
export const leastSizePt = 5
const mostSizePt = 10
const stepPt = 0.5

/**
 * A product's name may be larger than the words by so many tenths, where room is short by fewer; the batch's code always
 * is by a quarter. Our choice.
 */
const nameStepsTried = [8, 4, 0]
const codeScale = 1.25

/** Share of a letter's size above and below its line: DejaVu's own (0.928 and 0.236), so that marks over capitals have room. */
const ascent = 0.93
const descent = 0.24
const mmPerPoint = 25.4 / 72

/**
 * Sets the lines of a label in its region, as large as they all fit. The name shrinks down to the size of the other
 * words, then goes over two rows, then ends in an ellipsis, and that only where even the least size does not hold it.
 * Other lines go over as many rows as they need and are never cut. Where room is short, or a name would be cut shorter,
 * lines that are not `needed` are left off, the last first. Returns null where what is needed does not fit.
 *
 * @param measure the width of a text in a type of size 1; a row's width is that times its size
 */
export function compose(lines: readonly LabelLine[], region: Region, measure: Measure): Composition | null {
  const texts = lines.map((line): Text => {
    const bold = isBold(line.kind)
    return { line, bold, words: measured(line.text, bold, measure) }
  })
  const steps = everShorter(texts)
  for (const kept of steps) {
    for (const nameSteps of nameStepsTried) {
      const terms = { nameSteps, mayShorten: false }
      const least = settle(kept, region, leastSizePt, terms)
      if (least !== null) return composition(largest(kept, region, least, terms), texts, kept)
    }
  }
  let best: { kept: readonly Text[]; setting: Setting } | null = null
  for (const kept of steps) {
    const setting = settle(kept, region, leastSizePt, { nameSteps: 0, mayShorten: true })
    if (setting !== null && setting.nameLength > (best?.setting.nameLength ?? 0)) best = { kept, setting }
  }
  return best === null ? null : composition(best.setting, texts, best.kept)
}

function composition({ rows, shortened }: Setting, all: readonly Text[], kept: readonly Text[]): Composition {
  return { rows, shortened, leftOff: all.filter((text) => !kept.includes(text)).map(({ line }) => line.kind) }
}

/** The setting of the largest size that fits, found by halving; `least` is known to. */
function largest(texts: readonly Text[], region: Region, least: Setting, terms: Terms): Setting {
  let best = least
  let [fits, fails] = [0, Math.round((mostSizePt - leastSizePt) / stepPt) + 1]
  while (fails - fits > 1) {
    const middle = Math.floor((fits + fails) / 2)
    const setting = settle(texts, region, leastSizePt + middle * stepPt, terms)
    if (setting === null) fails = middle
    else [fits, best] = [middle, setting]
  }
  return best
}

/** Whether lines of a kind are set in bold letters. */
export function isBold(kind: LabelLineKind): boolean {
  return boldKinds.includes(kind)
}

const boldKinds: readonly LabelLineKind[] = ['product', 'allergens', 'caution', 'code']

/** All lines, then without the last that is not needed, and so on. */
function everShorter(texts: readonly Text[]): (readonly Text[])[] {
  const steps: (readonly Text[])[] = [texts]
  for (const text of texts.filter(({ line }) => !line.needed).reverse()) {
    steps.push((steps.at(-1) ?? []).filter((other) => other !== text))
  }
  return steps
}

/** By how many tenths the name may be larger, and whether it may end in an ellipsis. */
type Terms = { nameSteps: number; mayShorten: boolean }

type Text = { line: LabelLine; bold: boolean; words: Words }
/** `nameLength`: how many letters of the name are on it. */
type Setting = { rows: SetRow[]; shortened: boolean; bottom: number; nameLength: number }

/** In the middle of the region's height, or as near to it as there are the fewest rows. */
function settle(texts: readonly Text[], region: Region, size: number, terms: Terms): Setting | null {
  if (!region.bent) {
    const first = setFrom(region.top, texts, region, size, terms)
    if (first === null) return null
    return setFrom(region.top + (region.bottom - first.bottom) / 2, texts, region, size, terms) ?? first
  }
  let best: { setting: Setting; off: number } | null = null
  for (let top = region.top; top < region.bottom; top += stepMm) {
    const setting = setFrom(top, texts, region, size, terms)
    if (setting === null) continue
    const off = Math.abs(top - region.top - (region.bottom - setting.bottom))
    if (best === null || better(setting, best.setting, best.off - off)) best = { setting, off }
  }
  return best?.setting ?? null
}
const stepMm = 1

/** More of the name counts first, then fewer rows, then to be nearer to the middle. */
function better(one: Setting, other: Setting, nearer: number): boolean {
  const order = [one.nameLength - other.nameLength, other.rows.length - one.rows.length, nearer]
  return (order.find((difference) => difference !== 0) ?? 0) > 0
}

function setFrom(top: number, texts: readonly Text[], region: Region, size: number, terms: Terms): Setting | null {
  const rows: SetRow[] = []
  let shortened = false
  let nameLength = 0
  let bottom = top
  for (const text of texts) {
    const set =
      text.line.kind === 'product'
        ? setName(text, bottom, region, size, terms)
        : setRows(text, bottom, region, text.line.kind === 'code' ? size * codeScale : size, anyRows)
    if (set === null) return null
    rows.push(...set.rows)
    shortened ||= set.shortened
    nameLength += set.nameLength
    bottom = set.bottom
  }
  return { rows, shortened, nameLength, bottom }
}

const anyRows: WrapOptions = { most: null, cut: false }

function setName(text: Text, y: number, region: Region, size: number, terms: Terms): Setting | null {
  for (const most of [1, 2]) {
    for (let step = terms.nameSteps; step >= 0; step--) {
      const set = setRows(text, y, region, size * (1 + step / 10), { most, cut: false })
      if (set !== null) return set
    }
  }
  return terms.mayShorten ? setRows(text, y, region, size, { most: 2, cut: true }) : null
}

function setRows(text: Text, y: number, region: Region, size: number, options: WrapOptions): Setting | null {
  const em = size * mmPerPoint
  const high = em * (ascent + descent)
  const spans: { left: number; right: number }[] = []
  const roomOf = (row: number) => {
    const from = y + row * high
    const span = from + high > region.bottom + rounding ? null : region.span(from, from + high)
    if (span === null) return null
    spans.push(span)
    return (span.right - span.left) / em
  }
  const wrapped = wrap(text.words, roomOf, options)
  if (wrapped === null) return null
  const rows = wrapped.rows.map((row, index) => {
    const { left, right } = spans[index] ?? { left: 0, right: 0 }
    return {
      text: row.text,
      bold: text.bold,
      sizePt: size,
      x: region.align === 'left' ? left : (left + right - row.width * em) / 2,
      baseline: y + index * high + ascent * em,
    }
  })
  const length = rows.reduce((sum, row) => sum + row.text.length, 0)
  return {
    rows,
    shortened: wrapped.cut,
    nameLength: text.line.kind === 'product' ? length : 0,
    bottom: y + rows.length * high,
  }
}

/** Sums of heights may miss the region's end by so much, in millimetres. */
const rounding = 1e-9
