import { createHash } from 'node:crypto'
import { columns, type TableIn } from '../columns.ts'
import { readCsv } from '../csv.ts'

/** So many lines come in at once: all are written in one transaction, which may not take long. */
export const MOST_LINES = 2_000
/** So long may a table be, in characters. */
export const MOST_CHARACTERS = 250_000
/** So much may the form have that brings it, in bytes: a letter that is not Latin is sent as six. */
export const MOST_BYTES = 1_536 * 1_024

/** One line of a table, its cells by the words over their columns; a column that is not there reads as ''. */
export type Line = { line: number; cells: Readonly<Record<string, string>> }

/** `ignored`: columns that say nothing to this table. */
export type LinesRead = { ok: true; lines: Line[]; ignored: string[] } | { ok: false; line: number; says: string }

/** What the columns mean that a table cannot be read without: one of each list. */
const needed: Record<TableIn, readonly (readonly string[])[]> = {
  stock: [['code', 'product'], ['place'], ['units']],
  ledger: [['code'], ['place'], ['household'], ['units']],
  lots: [['crop'], ['weight']],
}

/** Spaces around cells are left out, line ends read alike: so is a table that a browser or another program sent again. */
export function readLines(table: TableIn, text: string): LinesRead {
  if (text.includes('\uFFFD'))
    return {
      ok: false,
      line: 1,
      says: 'Some letters could not be read: save the file as CSV in UTF-8, and choose it again.',
    }
  const read = readCsv(text, MOST_LINES + 2)
  if (!read.ok) return read
  const [head, ...rows] = read.rows
  if (head === undefined || rows.length === 0)
    return {
      ok: false,
      line: 1,
      says: 'There is nothing to bring in: the first line names the columns, the others follow it.',
    }
  if (rows.length > MOST_LINES)
    return {
      ok: false,
      line: 1,
      says: `The table has more than ${MOST_LINES} lines: bring it in in parts, each with the first line.`,
    }
  const names = head.cells.map((name) => name.trim().toLowerCase())
  const twice = names.find((name, i) => name !== '' && names.indexOf(name) !== i)
  if (twice !== undefined)
    return { ok: false, line: head.line, says: `Two columns are called “${twice}”: leave one out.` }
  for (const some of needed[table])
    if (!some.some((name) => names.includes(name)))
      return { ok: false, line: head.line, says: `The first line names no column “${some.join('” or “')}”.` }
  const known: readonly string[] = columns[table]
  const long = rows.find(({ cells }) => cells.length > names.length)
  if (long !== undefined)
    return {
      ok: false,
      line: long.line,
      says: 'This line has more fields than the first one names: put a field with a comma in quotes.',
    }
  return {
    ok: true,
    lines: rows
      .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''))
      .map(({ line, cells }) => ({
        line,
        cells: Object.fromEntries(names.map((name, i) => [name, (cells[i] ?? '').normalize('NFC').trim()])),
      })),
    ignored: names.filter((name) => name !== '' && !known.includes(name)),
  }
}

/** A table as it is compared and noted: line ends alike, nothing around it. */
export function plainText(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(/^\uFEFF/, '')
    .trim()
}

/** What tells two tables apart, and what would be done with them. */
export function hashOf(...parts: unknown[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 32)
}
