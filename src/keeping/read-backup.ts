import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
import { createGunzip } from 'node:zlib'
import { sha256Of } from '../db/applied-by-hand.ts'
import type { Migration } from '../db/migration-files.ts'
import {
  BackupError,
  FORMAT,
  FORMAT_VERSION,
  type Header,
  headerLine,
  type LastLine,
  lastLine,
  rowLine,
  type TableLine,
  tableLine,
} from './format.ts'

export type Row = (string | null)[]
export type BackupPart =
  | { header: Header }
  | { table: TableLine }
  | { row: Row; characters: number }
  | { last: LastLine }

/** What a backup holds, once all of it was found sound. */
export type Checked = { header: Header; rows: Record<string, number>; total: number }

/** Longer than this no line can be: PostgreSQL takes no value of more than 1 GB, a JavaScript text no more than half that. */
const LONGEST_LINE = 400_000_000

/**
 * Reads a whole backup without touching anything: that it is whole (nothing cut, no byte altered, as many rows as it
 * says), and that this program knows its format and its migrations.
 *
 * @param known this program's migrations, oldest first
 * @throws BackupError in words otherwise
 */
export async function checkBackup(file: string, known: readonly Migration[]): Promise<Checked> {
  let header: Header | undefined
  let last: LastLine | undefined
  for await (const part of readBackup(file)) {
    if ('header' in part) {
      header = part.header
      refuseUnknown(header, known)
    } else if ('last' in part) last = part.last
  }
  if (header === undefined || last === undefined) throw cutShort()
  return { header, rows: last.rows, total: last.total }
}

/**
 * The parts of a backup in their order; memory stays flat. What the last line says is compared with what came before it:
 * whoever reads to the end has had the whole of it.
 *
 * @throws BackupError when the file is none, is of a newer format, is cut short or damaged
 */
export async function* readBackup(file: string): AsyncGenerator<BackupPart> {
  const hash = createHash('sha256')
  const rows: Record<string, number> = {}
  let table: TableLine | undefined
  let number = 0
  let last: LastLine | undefined
  for await (const line of linesOf(file)) {
    number += 1
    if (last !== undefined) throw damaged(`there is more after the last line`)
    const text = line.toString('utf8')
    const said = number === 1 ? readHeader(text) : parsed(text, number)
    if (number === 1) yield { header: said as Header }
    else if (Array.isArray(said)) {
      const row = rowLine.safeParse(said)
      if (table === undefined || row.data?.length !== table.columns.length)
        throw damaged(`line ${number} is no row of its table`)
      rows[table.table] = (rows[table.table] ?? 0) + 1
      yield { row: row.data, characters: text.length }
    } else if (typeof said === 'object' && said !== null && 'sha256' in said) {
      last = readLast(said, number)
      if (last.sha256 !== hash.digest('hex')) throw damaged('its contents are not those that were written')
      refuseMiscounted(last, rows)
      yield { last }
      continue
    } else {
      table = tableLine.safeParse(said).data
      if (table === undefined || rows[table.table] !== undefined) throw damaged(`line ${number} is no table`)
      rows[table.table] = 0
      yield { table }
    }
    hash.update(line).update('\n')
  }
  if (last === undefined) throw cutShort()
}

function readHeader(text: string): Header {
  let said: unknown
  try {
    said = JSON.parse(text)
  } catch (error) {
    throw new BackupError('This file is no backup of Glutworks.', { cause: error })
  }
  const outline = typeof said === 'object' && said !== null ? (said as Record<string, unknown>) : {}
  if (outline['format'] !== FORMAT) throw new BackupError('This file is no backup of Glutworks.')
  if (typeof outline['formatVersion'] === 'number' && outline['formatVersion'] > FORMAT_VERSION) {
    throw new BackupError(
      `This backup was made by a newer version${typeof outline['program'] === 'string' ? ` (${outline['program']})` : ''}, in a form that this one does not know. Restore it with that version or a later one.`,
    )
  }
  const header = headerLine.safeParse(said)
  if (!header.success) throw damaged('its first line is not complete')
  return header.data
}

function parsed(text: string, number: number): unknown {
  try {
    return JSON.parse(text)
  } catch (error) {
    throw damaged(`line ${number} cannot be read`, error)
  }
}

function readLast(said: unknown, number: number): LastLine {
  const read = lastLine.safeParse(said)
  if (!read.success) throw damaged(`line ${number} cannot be read`)
  return read.data
}

function refuseMiscounted(last: LastLine, rows: Record<string, number>): void {
  const names = new Set([...Object.keys(last.rows), ...Object.keys(rows)])
  const total = Object.values(rows).reduce((sum, many) => sum + many, 0)
  if ([...names].some((name) => last.rows[name] !== rows[name]) || total !== last.total)
    throw damaged('it does not have as many rows as it says')
}

/** The migrations of a backup must be the first of this program's, worded alike: then the others lead on from there. */
function refuseUnknown({ migrations, program }: Header, known: readonly Migration[]): void {
  const unknown = migrations.filter(({ name }) => !known.some((one) => one.name === name))
  if (unknown.length > 0) {
    throw new BackupError(
      `This backup was made by a newer version (${program}): it has ${unknown.map(({ name }) => name).join(', ')}, which this one does not know. Restore it with that version or a later one.`,
    )
  }
  migrations.forEach(({ name, checksum }, at) => {
    const mine = known[at]
    if (mine?.name !== name || sha256Of(mine.sql) !== checksum) {
      throw new BackupError(
        `This backup was made by another edition of Glutworks (${program}): ${name} is not what it is here. Restore it with the version that made it.`,
      )
    }
  })
}

function damaged(how: string, cause?: unknown): BackupError {
  return new BackupError(`This backup is damaged: ${how}. Nothing of it was used.`, { cause })
}

function cutShort(cause?: unknown): BackupError {
  return new BackupError('This backup is cut short: its end is missing. Nothing of it was used.', { cause })
}

/** The lines without their line feeds; one that is not ended is cut short. */
async function* linesOf(file: string): AsyncGenerator<Buffer> {
  const unzipped = createGunzip()
  let failure: unknown
  const reading = pipeline(createReadStream(file), unzipped).catch((error: unknown) => {
    failure = error
  })
  let begun: Buffer[] = []
  let length = 0
  try {
    for await (const chunk of unzipped as AsyncIterable<Buffer>) {
      let from = 0
      for (let end = chunk.indexOf(10); end >= 0; end = chunk.indexOf(10, from)) {
        const rest = chunk.subarray(from, end)
        yield begun.length === 0 ? rest : Buffer.concat([...begun, rest])
        begun = []
        length = 0
        from = end + 1
      }
      if (from < chunk.length) {
        begun.push(chunk.subarray(from))
        length += chunk.length - from
        if (length > LONGEST_LINE) throw damaged('a line has no end')
      }
    }
  } catch (error) {
    if (error instanceof BackupError) throw error
    await reading
    throw unreadable(failure ?? error)
  } finally {
    unzipped.destroy()
    await reading
  }
  if (begun.length > 0) throw cutShort()
}

function unreadable(error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'ENOENT') return new BackupError('There is no such file.', { cause: error })
  if (code === 'EISDIR') return new BackupError('That is a folder, not a file.', { cause: error })
  if (code === 'EACCES') return new BackupError('The file may not be read.', { cause: error })
  if (code === 'Z_BUF_ERROR') return cutShort(error)
  if (code === 'Z_DATA_ERROR' || code === 'Z_STREAM_ERROR' || code === 'Z_NEED_DICT') {
    const says = error instanceof Error ? error.message : ''
    return says === 'incorrect header check'
      ? new BackupError('This file is no backup of Glutworks.', { cause: error })
      : damaged('it does not unpack', error)
  }
  return error
}
