import { CsvError, parse } from 'csv-parse/sync'
import { stringify } from 'csv-stringify/sync'

// Tables as CSV (RFC 4180): fields between commas, lines end in CRLF, a field with a comma, quote or line break in
// quotes. A cell that a spreadsheet would take for a formula gets an apostrophe in front; so does one that begins with
// an apostrophe itself, so that reading takes exactly one away again and out-and-in changes nothing.

/** A number is written as one: a spreadsheet takes "-3" for a number, not for a formula. */
export type Cell = string | number | null

/** Lines of a table, each ended by CRLF. */
export function writeCsv(rows: readonly (readonly Cell[])[]): string {
  return stringify(
    rows.map((row) => row.map(apostropheKept)),
    // a lone line feed counts as an end of line to many readers, a semicolon as a comma to some
    { record_delimiter: 'windows', escape_formulas: true, quoted_match: /[\r\n;\t]|^\s|\s$/ },
  )
}

/** What begins a file for programs that do not take it for UTF-8 otherwise. */
export const byteOrderMark = '\uFEFF'

/** `line`: the line of the text on which the row begins, from 1. */
export type CsvRow = { line: number; cells: string[] }
export type CsvReading = { ok: true; rows: CsvRow[] } | { ok: false; line: number; says: string }

/** No row may be longer than this, in characters. */
export const LONGEST_ROW = 8_000

/**
 * Reads CSV. Fields may be divided by commas, semicolons or tabs, as the first line has them; lines end in any usual
 * way. Refused with its line: a quote that is not closed or stands where none may, and a row that is too long.
 *
 * @param most rows after this many are not read
 */
export function readCsv(text: string, most: number): CsvReading {
  const rows: CsvRow[] = []
  let ended = 0
  try {
    parse(text, {
      bom: true,
      delimiter: delimiterOf(text),
      max_record_size: LONGEST_ROW,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: true,
      to: most,
      on_record: (record: string[], { lines }) => {
        const breaks = record.reduce((sum, cell) => sum + (cell.match(/\r\n|\n|\r/g)?.length ?? 0), 0)
        ended = lines
        rows.push({ line: lines - breaks, cells: record.map(apostropheTaken) })
        return null
      },
    })
    return { ok: true, rows }
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    const says = problemWords[error.code]
    if (says === undefined) throw error
    // where the row begins that could not be read: the library tells where it gave up
    return { ok: false, line: ended + 1, says }
  }
}

const problemWords: Partial<Record<string, string>> = {
  CSV_QUOTE_NOT_CLOSED: 'A field begins with a quote that is never closed: close it, or leave it out.',
  CSV_INVALID_CLOSING_QUOTE: 'A quote stands in the middle of a field: write two quotes for one within a field.',
  INVALID_OPENING_QUOTE: 'A quote stands in the middle of a field: put the whole field in quotes.',
  CSV_MAX_RECORD_SIZE: `A line is longer than ${LONGEST_ROW} characters: look for a quote that is not closed.`,
}

const formula = /^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/

function apostropheKept(cell: Cell): Cell {
  return typeof cell === 'string' && cell.startsWith("'") ? `'${cell}` : cell
}

/** Takes away the apostrophe that `writeCsv` puts in front, and no other: "'twas" stays as it is. */
function apostropheTaken(cell: string): string {
  const rest = cell.slice(1)
  return cell.startsWith("'") && (rest.startsWith("'") || formula.test(rest)) ? rest : cell
}

/** The one that the first line has most of, outside of quotes. */
function delimiterOf(text: string): string {
  const [first = ''] = text.replace(/"[^"]*"/g, '').split(/[\r\n]/, 1)
  const count = (one: string) => first.split(one).length
  return [';', '\t'].reduce((best, one) => (count(one) > count(best) ? one : best), ',')
}
