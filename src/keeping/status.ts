import { readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import type { Settings } from '../settings.ts'
import { BackupError } from './format.ts'
import type { BackupMade } from './write-backup.ts'

// What became of the last backup, in a file of the data folder: the command notes it as well as the service, and pages
// tell it. The name of the file alone, without its folder, since stewards read it who may not host the service. Daily
// backups are noted beside themselves as well, since each process has a data folder of its own and one of them makes it.

const status = z.object({
  at: z.iso.datetime(),
  ok: z.boolean(),
  /** why not; '' where it went well */
  says: z.string(),
  /** of the last one that went well; null: none did */
  good: z.object({ at: z.iso.datetime(), file: z.string(), rows: z.int(), bytes: z.int() }).nullable(),
})
export type BackupStatus = z.infer<typeof status>

const STATUS_FILE = 'last-backup.json'

/** A folder that is not there or not for us to read tells of no backup. */
const TELLS_NOTHING: readonly unknown[] = ['ENOENT', 'ENOTDIR', 'EACCES']

/** What became of the last backup of all that this service knows of; null: it knows of none. */
export async function lastBackupKnown(settings: Pick<Settings, 'dataDir' | 'backups'>): Promise<BackupStatus | null> {
  const own = await lastBackup(settings.dataDir)
  const daily = settings.backups === null ? null : await lastBackup(settings.backups.folder)
  if (own === null || daily === null) return own ?? daily
  const [older, newer] = Date.parse(own.at) < Date.parse(daily.at) ? [own, daily] : [daily, own]
  const goods = [newer.good, older.good].flatMap((good) => (good === null ? [] : [good]))
  return { ...newer, good: goods.sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0] ?? null }
}

/** What became of the last backup that is noted in a folder; null: none is. */
export async function lastBackup(folder: string): Promise<BackupStatus | null> {
  let text: string
  try {
    text = await readFile(join(folder, STATUS_FILE), 'utf8')
  } catch (error) {
    if (error instanceof Error && 'code' in error && TELLS_NOTHING.includes(error.code)) return null
    throw error
  }
  return status.parse(JSON.parse(text))
}

/** Notes a backup that was made, in this folder. */
export async function noteBackup(folder: string, made: BackupMade, now: Date): Promise<void> {
  const at = now.toISOString()
  const file = made.file.split(/[\\/]/).at(-1) ?? ''
  await write(folder, { at, ok: true, says: '', good: { at, file, rows: made.rows, bytes: made.bytes } })
}

/** Notes that none could be made. The words of anything but a BackupError are left out: they may quote data. */
export async function noteFailure(dataDir: string, error: unknown, now: Date): Promise<void> {
  const says = error instanceof BackupError ? error.message : 'The reason is in the log of the service.'
  const before = await lastBackup(dataDir)
  await write(dataDir, { at: now.toISOString(), ok: false, says, good: before?.good ?? null })
}

async function write(folder: string, what: BackupStatus): Promise<void> {
  const path = join(folder, STATUS_FILE)
  const draft = `${path}.${process.pid}`
  await writeFile(draft, `${JSON.stringify(what)}\n`, { mode: 0o600 })
  await rename(draft, path)
}
