import { createHash, randomUUID } from 'node:crypto'
import { once } from 'node:events'
import { createWriteStream } from 'node:fs'
import { open, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { finished } from 'node:stream/promises'
import { createGzip } from 'node:zlib'
import { inDependencyOrder, readApplied, readForeignKeys, readTables } from '../db/catalogue.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { quoted, type Reader, readSnapshot } from '../db/session.ts'
import { BackupError, FORMAT, FORMAT_VERSION, type Header, type LastLine, leftOutOfBackups } from './format.ts'

export type BackupMade = {
  /** where it is */
  file: string
  rows: number
  bytes: number
  /** how long the database was read, in milliseconds; on the embedded one everybody else waited so long */
  readMs: number
}

/**
 * Writes a backup of everything at one moment to `file`, replacing what was there: under another name beside it first,
 * flushed, then renamed, so that a file of that name is a whole one. The database may be of an older version: it is read
 * as it is. Readable by its owner alone.
 *
 * @param about.program the version that makes it
 * @throws BackupError when there is nothing to back up or the place cannot be written
 */
export async function writeBackup(
  database: MigratableDatabase,
  file: string,
  about: { program: string; now: Date },
): Promise<BackupMade> {
  const draft = join(dirname(file), `.${basename(file)}.${randomUUID().slice(0, 8)}.part`)
  try {
    const done = await readSnapshot(database, async (reader) => {
      const began = performance.now()
      const rows = await writeDraft(reader, draft, { ...about, kind: database.kind })
      return { rows, readMs: Math.round(performance.now() - began) }
    })
    const { size } = await stat(draft)
    await flush(draft)
    await rename(draft, file)
    await flush(dirname(file))
    return { file, bytes: size, ...done }
  } catch (error) {
    await rm(draft, { force: true })
    throw inWords(error, file)
  }
}

async function writeDraft(
  reader: Reader,
  draft: string,
  { program, now, kind }: { program: string; now: Date; kind: MigratableDatabase['kind'] },
): Promise<number> {
  const migrations = await readApplied(reader)
  if (migrations.length === 0) throw new BackupError('There is nothing to back up: the database has no tables yet.')
  const out = lineWriter(draft)
  try {
    const at = now.toISOString()
    const header: Header = {
      format: FORMAT,
      formatVersion: FORMAT_VERSION,
      program,
      at,
      database: kind,
      migrations,
      leftOut: [...leftOutOfBackups],
    }
    await out.write(`${JSON.stringify(header)}\n`)
    const rows: LastLine['rows'] = {}
    const tables = (await readTables(reader)).filter(({ name }) => !leftOutOfBackups.includes(name))
    for (const { name, columns } of inDependencyOrder(tables, await readForeignKeys(reader))) {
      await out.write(
        `${JSON.stringify({ table: name, columns: columns.map((column) => ({ name: column.name, type: column.type })) })}\n`,
      )
      const values = columns.map((column) => `${quoted(column.name)}::text`).join(', ')
      let many = 0
      for await (const batch of reader.batches(
        // in the order in which they lie: sorting them takes longer than reading them
        `SELECT to_json(ARRAY[${values}])::text FROM ${quoted(name)}`,
      )) {
        many += batch.length
        await out.write(`${batch.join('\n')}\n`)
      }
      rows[name] = many
    }
    const total = Object.values(rows).reduce((sum, many) => sum + many, 0)
    await out.end({ rows, total })
    return total
  } catch (error) {
    out.drop()
    throw error
  }
}

/** Lines into a gzip file, hashed on the way; waits whenever the disk is slower. */
function lineWriter(path: string) {
  const hash = createHash('sha256')
  // level 3 takes half the time of the usual 6 for a tenth more bytes; on the embedded database everybody waits for it
  const gzip = createGzip({ level: 3 })
  const target = createWriteStream(path, { mode: 0o600, flags: 'wx' })
  gzip.pipe(target)
  let failure: unknown
  target.on('error', (error) => {
    failure = error
    gzip.destroy(error)
  })
  gzip.on('error', (error) => {
    failure = error
  })
  const send = async (text: string): Promise<void> => {
    if (failure !== undefined) throw failure
    // rejects with the failure when the file breaks while it waits
    if (!gzip.write(text)) await once(gzip, 'drain')
  }
  return {
    async write(text: string): Promise<void> {
      hash.update(text)
      await send(text)
    },
    async end(counted: Omit<LastLine, 'sha256'>): Promise<void> {
      await send(`${JSON.stringify({ ...counted, sha256: hash.digest('hex') })}\n`)
      gzip.end()
      await finished(target)
    },
    drop(): void {
      gzip.destroy()
      target.destroy()
    },
  }
}

/** Has the disk take what is in a file, or the names in a folder. */
async function flush(path: string): Promise<void> {
  const handle = await open(path, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

function inWords(error: unknown, file: string): unknown {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  const folder = dirname(file)
  if (code === 'ENOENT' || code === 'ENOTDIR') return new BackupError(`There is no folder ${folder}.`, { cause: error })
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS')
    return new BackupError(`The folder ${folder} may not be written to.`, { cause: error })
  if (code === 'ENOSPC') return new BackupError(`There is no room left in ${folder}.`, { cause: error })
  if (code === 'EISDIR' || code === 'ENOTEMPTY') return new BackupError(`${file} is a folder.`, { cause: error })
  return error
}
