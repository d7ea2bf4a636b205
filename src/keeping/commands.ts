import { existsSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { systemClock } from '../clock.ts'
import { type Database, openDatabase } from '../db/client.ts'
import { FolderLockError } from '../db/embedded/folder-lock.ts'
import { MigrationError } from '../db/migrate.ts'
import { readSnapshot } from '../db/session.ts'
import { randomId } from '../ids.ts'
import { readSettings, type Settings, SettingsError } from '../settings.ts'
import { createBackups } from './backups.ts'
import { BackupError } from './format.ts'
import { askForBackup } from './on-request.ts'
import { readBackup } from './read-backup.ts'
import { restoreBackup } from './restore.ts'
import type { BackupMade } from './write-backup.ts'

/** One statement over all rows of a table may take long; nobody else waits for it. */
const CALL_LIMIT_MS = 30 * 60_000

type Environment = Record<string, string | undefined>
type Say = (line: string) => void

/**
 * `backup [FILE]`: one file with everything, from the service's own settings; FILE is `glutworks-<date and time>.backup`
 * in the present folder when not given. While the service runs on the embedded database it makes the file itself.
 *
 * @returns the process's exit code: 0 done, 1 not done, 2 asked wrongly
 */
export function backupCommand(args: readonly string[], environment: Environment, say: Say): Promise<number> {
  return toldInWords(say, async () => {
    const { positionals } = parse(args, {}, 1, 'npm run backup -- [FILE]')
    const settings = readSettings(environment)
    const stamp = systemClock.now().toISOString().slice(0, 19).replaceAll(':', '')
    const made = await makeBackup(settings, resolve(positionals[0] ?? `glutworks-${stamp}Z.backup`))
    for await (const part of readBackup(made.file)) void part
    say(`${made.file}: ${made.rows} rows, ${made.bytes} bytes, read back and found whole.`)
    say('The secret in the data folder is not in it, nor who is signed in.')
  })
}

/**
 * `restore FILE [--replace]`: puts a backup into the database of the settings. The service must not run.
 *
 * @returns the process's exit code: 0 done, 1 not done (nothing was changed), 2 asked wrongly
 */
export function restoreCommand(args: readonly string[], environment: Environment, say: Say): Promise<number> {
  return toldInWords(say, async () => {
    const { values, positionals } = parse(
      args,
      { replace: { type: 'boolean' } },
      1,
      'npm run restore -- FILE [--replace]',
    )
    const file = positionals[0]
    if (file === undefined) throw new UsageError('npm run restore -- FILE [--replace]')
    const settings = readSettings(environment)
    await mkdir(settings.dataDir, { recursive: true })
    const database = await open(settings)
    try {
      await refuseOthers(database)
      const replace = values['replace'] === true
      const options = { replace, now: systemClock.now(), newId: randomId }
      const { header, rows, migrated } = await restoreBackup(database, resolve(file), options)
      say(`${rows} rows as they were at ${header.at}, now in: ${database.describe()}.`)
      if (migrated.length > 0) say(`Brought up to this version: ${migrated.join(', ')}.`)
      say('Everybody signs in anew.')
    } finally {
      await database.close()
    }
  })
}

async function makeBackup(settings: Settings, file: string): Promise<BackupMade> {
  if (settings.databaseUrl === null && !existsSync(join(settings.dataDir, 'database')))
    throw new BackupError(`There is no database in ${settings.dataDir}.`)
  let database: Database
  try {
    database = await open(settings)
  } catch (error) {
    if (!(error instanceof FolderLockError)) throw error
    const made = await askForBackup(settings.dataDir, file)
    if (made === null) throw error
    return made
  }
  try {
    await mkdir(settings.dataDir, { recursive: true })
    return await createBackups({ database, dataDir: settings.dataDir, clock: systemClock }).make(file)
  } finally {
    await database.close()
  }
}

function open({ databaseUrl, dataDir }: Settings): Promise<Database> {
  return openDatabase(databaseUrl === null ? { dataDir, callLimitMs: CALL_LIMIT_MS } : { url: databaseUrl })
}

/** The embedded database's folder is locked; on a server others are seen by the name that this program gives itself. */
async function refuseOthers(database: Database): Promise<void> {
  if (database.kind === 'embedded') return
  const others = await readSnapshot(database, (reader) =>
    reader.texts(`SELECT pid::text FROM pg_stat_activity
      WHERE datname = current_database() AND application_name = 'glutworks' AND pid <> pg_backend_pid()`),
  )
  if (others.length > 0) {
    throw new BackupError(
      'The service is running on this database. Stop it first: whoever works on would see it vanish.',
    )
  }
}

class UsageError extends Error {}

function parse(
  args: readonly string[],
  options: Record<string, { type: 'boolean' }>,
  most: number,
  usage: string,
): { values: Record<string, unknown>; positionals: string[] } {
  try {
    const read = parseArgs({ args: [...args], options, allowPositionals: true })
    if (read.positionals.length <= most) return read
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
  }
  throw new UsageError(usage)
}

/** Failures that have words are told in them; any other is a fault of ours and thrown. */
async function toldInWords(say: Say, work: () => Promise<void>): Promise<number> {
  try {
    await work()
    return 0
  } catch (error) {
    if (error instanceof UsageError) say(`Usage: ${error.message}`)
    else if (
      error instanceof BackupError ||
      error instanceof SettingsError ||
      error instanceof FolderLockError ||
      error instanceof MigrationError
    ) {
      say(error.message)
    } else throw error
    return error instanceof UsageError || error instanceof SettingsError ? 2 : 1
  }
}
