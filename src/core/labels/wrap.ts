/** The width of a text in a type of size 1, upright or bold. */
export type Measure = (text: string, bold: boolean) => number

/** A text whose words have been measured, in a type of size 1. */
export type Words = {
  words: readonly string[]
  widths: readonly number[]
  space: number
  widthOf(text: string): number
}

export type Row = { text: string; width: number }

/** `most` rows, null: as many as it takes. `cut`: what does not fit ends in an ellipsis. */
export type WrapOptions = { most: number | null; cut: boolean }

export function measured(text: string, bold: boolean, measure: Measure): Words {
  const words = text.split(' ').filter((word) => word !== '')
  const widthOf = (part: string) => measure(part, bold)
  return { words, widths: words.map(widthOf), space: widthOf(' '), widthOf }
}

/**
 * Breaks a text at its spaces into rows, each as full as it goes; a word longer than a row is broken between letters.
 * `roomOf` gives the width of a row, counted from 0, in a type of size 1; null: there is no such row. Returns null where
 * the text does not fit, unless it may be cut; even then where not one letter fits.
 */
export function wrap(
  text: Words,
  roomOf: (row: number) => number | null,
  { most, cut }: WrapOptions,
): { rows: Row[]; cut: boolean } | null {
  const rows: Row[] = []
  let rest = text
  while (rest.words.length > 0) {
    const room = roomOf(rows.length)
    if (room === null) return null
    const { count, width } = fill(rest, room)
    const ends = count === rest.words.length
    if (!ends && rows.length + 1 === most) {
      const shortened = cut ? shorten(rest, room) : null
      return shortened === null ? null : { rows: [...rows, shortened], cut: true }
    }
    if (count > 0) {
      rows.push({ text: rest.words.slice(0, count).join(' '), width })
      rest = without(rest, count)
      continue
    }
    const part = longest(rest.words[0] ?? '', '', rest.widthOf, room)
    if (part === null) return null
    rows.push({ text: part, width: rest.widthOf(part) })
    const left = (rest.words[0] ?? '').slice(part.length)
    const after = without(rest, 1)
    rest = { ...after, words: [left, ...after.words], widths: [rest.widthOf(left), ...after.widths] }
  }
  return { rows, cut: false }
}

/** How many whole words fit, and how wide they are together. */
function fill({ words, widths, space }: Words, room: number): { count: number; width: number } {
  let width = 0
  for (let count = 0; count < words.length; count++) {
    const wider = width + (count === 0 ? 0 : space) + (widths[count] ?? 0)
    if (wider > room) return { count, width }
    width = wider
  }
  return { count: words.length, width }
}

function without(text: Words, count: number): Words {
  return { ...text, words: text.words.slice(count), widths: text.widths.slice(count) }
}

function shorten({ words, widthOf }: Words, room: number): Row | null {
  const kept = longest(words.join(' '), '…', widthOf, room)
  if (kept === null) return null
  const ended = `${kept.trimEnd()}…`
  return { text: ended, width: widthOf(ended) }
}

/** As many letters as fit with an end behind them; a mark stays with its letter. Null where not even one fits. */
function longest(text: string, end: string, widthOf: (text: string) => number, room: number): string | null {
  let kept = ''
  for (const { segment } of letters.segment(text)) {
    if (widthOf(kept + segment + end) > room) break
    kept += segment
  }
  return kept === '' ? null : kept
}

const letters = new Intl.Segmenter('en', { granularity: 'grapheme' })
