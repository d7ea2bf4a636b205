import { fieldReader } from '../../../web/field-reader.ts'
import { type ReadForm, type Typed, wholeNumber } from '../../../web/forms.ts'
import { MOST_UNITS } from '../jars/forms.ts'

/** What was counted of a line, and what the page had shown before. */
export type LineCount = { id: string; shown: number; counted: number }

/**
 * Reads a stock-take: `counted.<id>` as typed, `shown.<id>` as the page had it, in the order of their ids so that two
 * counters do not wait for each other. Lines that the form does not name are left alone.
 */
export function readStockTake(typed: Typed): ReadForm<LineCount[]> {
  const reader = fieldReader(typed)
  const counted = wholeNumber('Enter how many there are: a whole number, 0 for none', 0, MOST_UNITS)
  const shown = wholeNumber('Open the page again', 0, 1_000_000_000)
  const values = Object.keys(typed)
    .filter((name) => name.startsWith('counted.'))
    .map((name) => name.slice('counted.'.length))
    .sort()
    .map((id) => ({
      id,
      shown: reader.get(`shown.${id}`, shown, 0),
      counted: reader.get(`counted.${id}`, counted, 0),
    }))
  const { errors } = reader
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}

/** What stands in the fields before anybody typed. */
export function stockTakeTyped(lines: readonly { id: string; stock: number }[]): Record<string, string> {
  return Object.fromEntries(
    lines.flatMap(({ id, stock }) => [
      [`counted.${id}`, String(stock)],
      [`shown.${id}`, String(stock)],
    ]),
  )
}

/** Words at each line whose stock is no longer what the page had shown. */
export function movedMeanwhile(typed: Typed, lines: readonly { id: string; stock: number }[]): Record<string, string> {
  return Object.fromEntries(
    lines
      .filter(({ id, stock }) => typed[`shown.${id}`] !== undefined && typed[`shown.${id}`] !== String(stock))
      .map(({ id, stock }) => [
        `counted.${id}`,
        `${stock} should be there now, not ${typed[`shown.${id}`]} as when you began: count again`,
      ]),
  )
}
