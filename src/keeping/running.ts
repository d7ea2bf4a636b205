import type { Clock } from '../clock.ts'
import type { Database } from '../db/client.ts'
import type { Settings } from '../settings.ts'
import { createBackups } from './backups.ts'
import { startDailyBackups } from './daily.ts'
import { BackupError } from './format.ts'
import { answerBackupRequests } from './on-request.ts'
import { dailyBackupTurn } from './turns.ts'

/** What is written about backups into the log. */
export type KeepingLog = {
  info(details: object, words: string): void
  error(details: object, words: string): void
}

/** Longest that stopping waits for a backup that is being made; it is left out then, and the one before stays. */
const GRACE_MS = 3_000

/**
 * What a running service does about backups: each day's, where the settings have a folder for them; and on the embedded
 * database those that the command asks for.
 */
export async function startKeeping(given: {
  settings: Settings
  database: Pick<Database, 'kind' | 'withMigrationConnection'>
  clock: Clock
  log: KeepingLog
}): Promise<{ close(): Promise<void> }> {
  const { settings, database, clock, log } = given
  const { dataDir } = settings
  const backups = createBackups({ database, dataDir, clock })
  const failed = (error: unknown) => log.error({ error: inShort(error) }, 'a backup could not be made')
  const asked = database.kind === 'embedded' ? await answerBackupRequests(dataDir, backups, failed) : null
  const daily =
    settings.backups === null
      ? null
      : startDailyBackups({
          ...settings.backups,
          backups,
          once: dailyBackupTurn(database),
          clock,
          told: (what) => {
            if ('failed' in what) failed(what.failed)
            else log.info({ ...what.made, removed: what.removed }, 'a backup was made')
          },
        })
  return {
    close: async () => {
      daily?.stop()
      await asked?.close()
      await Promise.race([backups.settled(), new Promise((resolve) => setTimeout(resolve, GRACE_MS).unref())])
    },
  }
}

/** A BackupError has words for whoever hosts the service; another's may quote data. */
function inShort(error: unknown): { kind: string; message?: string } {
  if (error instanceof BackupError) return { kind: error.name, message: error.message }
  return { kind: error instanceof Error ? error.name : typeof error }
}
