import { join } from 'node:path'
import { hasTable, readApplied } from '../db/catalogue.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { type Migration, readMigrations } from '../db/migration-files.ts'
import { readSnapshot } from '../db/session.ts'
import { programVersion } from './program.ts'
import { type BackupMade, writeBackup } from './write-backup.ts'

/**
 * Backs the embedded database up before this program's migrations change it, to `before-<first of them>.backup` in the
 * data folder; the file stays until somebody removes it. On a server that is its operator's to do.
 *
 * @returns null when there is nothing to migrate or no co-op to lose
 * @throws when the backup cannot be made: nothing must be migrated then
 */
export async function backupBeforeMigrating(
  database: MigratableDatabase,
  dataDir: string,
  now: Date,
  migrations?: readonly Migration[],
): Promise<BackupMade | null> {
  if (database.kind === 'server') return null
  const known = migrations ?? (await readMigrations())
  const { applied, coops } = await readSnapshot(database, async (reader) => ({
    applied: new Set((await readApplied(reader)).map(({ name }) => name)),
    coops: (await hasTable(reader, 'Coop')) ? await reader.texts('SELECT 1 FROM "Coop" LIMIT 1') : [],
  }))
  const next = known.find(({ name }) => !applied.has(name))
  if (next === undefined || coops.length === 0) return null
  return writeBackup(database, join(dataDir, `before-${next.name}.backup`), { program: programVersion, now })
}
