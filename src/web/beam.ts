import { type Markup, markup } from './markup.ts'
import { checkDrawingId, hueClass, type PatternKey, patternDefinitions, patternFill } from './patterns.ts'

/** A part of the whole. Parts come in their fixed order: products, outlets from best to worst use, lost. */
export type Segment = {
  label: string
  /** Grams, or jars: whole and not below 0; of the same kind as the whole. */
  amount: number
  /** The amount for eyes: "12.4 kg" */
  text: string
  pattern: PatternKey
  /** What it stands for; without, it is no link */
  href?: string
}

export type BeamOptions = {
  /** Unlike any other drawing's on the page. */
  id: string
  /** What is divided: "Where 86 kg of damsons go" */
  title: string
  /** What must be accounted for, in the unit of the segments. */
  whole: number
  segments: readonly Segment[]
}

/** What `{{> beam beam=beam}}` takes: the drawing, and the same figures as a list. */
export type Beam = {
  title: string
  drawing: Markup
  rows: { key: string; label: string; text: string; percent: string; href: string; swatch: Markup }[]
}

/**
 * A bar as wide as its box that shows where a weight (or a number of jars) goes. Segments of 0 keep their line in the
 * list and have no width. Throws a RangeError when the segments do not sum to the whole, to the gram: a gap is a fault
 * of whoever computed it. A whole of 0 cannot be drawn and is refused the same way.
 */
export function beam({ id, title, whole, segments }: BeamOptions): Beam {
  checkDrawingId(id)
  checkFull(whole, segments)
  const keys = segments.map((_, i) => keyOf(i))
  let before = 0
  const drawn = segments.map((segment, i) => {
    const start = before
    before += segment.amount
    return segment.amount === 0
      ? markup``
      : drawSegment(id, segment, keys[i] ?? '', start / whole, segment.amount / whole)
  })
  const finding = segments
    .filter(({ amount }) => amount > 0)
    .map(({ label, text }) => `${label} ${text}`)
    .join(', ')
  return {
    title,
    drawing: markup`<svg role="group" aria-labelledby="${id}-title ${id}-finding" width="100%" height="${HEIGHT}"><title id="${id}-title">${title}</title><desc id="${id}-finding">${finding}</desc>${patternDefinitions(
      id,
      segments.map(({ pattern }) => pattern),
    )}${drawn}</svg>`,
    rows: segments.map((segment, i) => ({
      key: keys[i] ?? '',
      label: segment.label,
      text: segment.text,
      percent: percentOf(segment.amount / whole),
      href: segment.href ?? '',
      swatch: swatch(`${id}-${i}`, segment.pattern),
    })),
  }
}

/** A small field of a pattern for a list or a key beside a drawing. Says nothing: its label stands beside it. */
export function swatch(id: string, pattern: PatternKey): Markup {
  const swatchId = `${id}-swatch`
  return markup`<svg aria-hidden="true" width="28" height="28">${patternDefinitions(swatchId, [pattern])}<rect class="${hueClass(pattern)}" width="28" height="28"/><rect fill="${patternFill(swatchId, pattern)}" width="28" height="28"/><rect class="edge" x="0.75" y="0.75" width="26.5" height="26.5"/></svg>`
}

const HEIGHT = 60
const BAR_TOP = 2
const BAR_HEIGHT = 56
/** Widths of the box at which words must fit: the narrowest phone and the narrow end of a wide box, less a margin. */
const NARROW_PX = 288
const WIDE_PX = 600
/** A bold system letter of 16 px is at most about this wide on average (measured on the demonstration's words). */
const LETTER_PX = 9
const PADDING_PX = 16

function checkFull(whole: number, segments: readonly Segment[]): void {
  if (!(Number.isSafeInteger(whole) && whole > 0)) throw new RangeError('a beam divides a whole number above 0')
  if (!segments.every(({ amount }) => Number.isSafeInteger(amount) && amount >= 0)) {
    throw new RangeError('the parts of a beam are whole numbers, not below 0')
  }
  const sum = segments.reduce((total, { amount }) => total + amount, 0)
  if (sum !== whole) throw new RangeError(`the beam is not full: its parts sum to ${sum} of ${whole}`)
}

/** A, B, ... Z, A2, B2, ... */
function keyOf(i: number): string {
  const letter = String.fromCharCode(65 + (i % 26))
  return i < 26 ? letter : `${letter}${Math.floor(i / 26) + 1}`
}

function drawSegment(id: string, segment: Segment, key: string, from: number, share: number): Markup {
  const x = `${decimal(from * 100)}%`
  const width = `${decimal(share * 100)}%`
  const box = (name: string, fill = '') =>
    markup`<rect ${name === '' ? markup`fill="${fill}"` : markup`class="${name}"`} x="${x}" y="${BAR_TOP}" width="${width}" height="${BAR_HEIGHT}"/>`
  const words = `${segment.label} ${segment.text}`
  const middle = `${decimal((from + share / 2) * 100)}%`
  const content = markup`<title>${key}: ${words}</title>${box(hueClass(segment.pattern))}${box('', patternFill(id, segment.pattern))}${box('edge')}${writeIn(words, key, middle, share)}`
  return segment.href === undefined
    ? markup`<g>${content}</g>`
    : markup`<a href="${segment.href}" aria-label="${words}">${content}</a>`
}

/** The words where they fit, else the key of the list, else nothing: the list says it. Once for each width of the box. */
function writeIn(words: string, key: string, middle: string, share: number): Markup {
  const narrow = fitting(words, key, share * NARROW_PX)
  const wide = fitting(words, key, share * WIDE_PX)
  if (narrow === wide) return narrow === '' ? markup`` : text(narrow, middle, '')
  return markup`${narrow === '' ? markup`` : text(narrow, middle, ' narrow-only')}${text(wide, middle, ' wide-only')}`
}

function fitting(words: string, key: string, room: number): string {
  if (words.length * LETTER_PX + PADDING_PX <= room) return words
  return key.length * LETTER_PX + PADDING_PX / 2 <= room ? key : ''
}

/** On a plate of the ground, so that the pattern does not run through the letters. */
function text(words: string, middle: string, extra: string): Markup {
  const width = words.length * LETTER_PX + PADDING_PX / 2
  const plate = markup`<svg x="${middle}" y="${BAR_TOP + 16}" overflow="visible"><rect class="drawn-plate" x="${-width / 2}" y="0" width="${width}" height="24"/><text class="drawn-text" x="0" y="18" text-anchor="middle">${words}</text></svg>`
  return markup`<g aria-hidden="true" class="in-beam${extra}">${plate}</g>`
}

function percentOf(share: number): string {
  if (share > 0 && share < 0.001) return 'under 0.1 %'
  return `${Math.round(share * 1000) / 10} %`
}

function decimal(value: number): number {
  return Math.round(value * 1000) / 1000
}
