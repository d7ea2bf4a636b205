import { applyWithin, dropEverything } from '../db/applied-by-hand.ts'
import { hasTable, MIGRATIONS_TABLE, readTables } from '../db/catalogue.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { type Migration, readMigrations } from '../db/migration-files.ts'
import { type Reader, type Session, writeAlone } from '../db/session.ts'
import type { NewId } from '../ids.ts'
import { BackupError, type Header } from './format.ts'
import { loadRows } from './load.ts'
import { noteEventBySql } from './note.ts'
import { checkBackup, readBackup } from './read-backup.ts'

export type RestoreOptions = {
  /** true: what the database holds goes */
  replace: boolean
  now: Date
  newId: NewId
  /** the program's own when not given */
  migrations?: readonly Migration[]
}

export type Restored = { header: Header; rows: number; migrated: string[] }

/**
 * Puts a backup into a database, whichever of the two kinds made it and whichever has it now. First the file is read
 * whole (see checkBackup); then, in one transaction: the tables as they were when the backup was made, its rows, and
 * this program's migrations from there. Whatever fails leaves what was there. Nobody is signed in afterwards.
 *
 * The caller sees to it that nobody else uses the database meanwhile.
 *
 * @throws BackupError when the file is not sound or of a newer version, the database holds a co-op and `replace` is
 *   false, or it holds what is not ours; MigrationError when a migration fails on the backup's rows
 */
export async function restoreBackup(
  database: MigratableDatabase,
  file: string,
  { replace, now, newId, migrations }: RestoreOptions,
): Promise<Restored> {
  const known = migrations ?? (await readMigrations())
  const { header, total } = await checkBackup(file, known)
  return writeAlone(database, async (session) => {
    await refuseOccupied(session, replace)
    await dropEverything(session)
    const then = known.slice(0, header.migrations.length)
    const since = known.slice(header.migrations.length)
    await applyWithin(session, then)
    await loadRows(session, readBackup(file))
    await applyWithin(session, since)
    await noteRestored(session, header, { now, newId })
    return { header, rows: total, migrated: since.map(({ name }) => name) }
  })
}

async function refuseOccupied(session: Reader, replace: boolean): Promise<void> {
  const ours = await hasTable(session, MIGRATIONS_TABLE)
  if (!ours && (await readTables(session)).length > 0) {
    throw new BackupError('The database holds tables that are not of this service. Give it a database of its own.')
  }
  if (replace || !(await hasTable(session, 'Coop'))) return
  const [name] = await session.texts('SELECT "name" FROM "Coop" LIMIT 1')
  if (name === undefined) return
  throw new BackupError(
    `The database holds a co-op already (${name}). Nothing was changed. To have it replaced by the backup, say --replace.`,
  )
}

async function noteRestored(
  session: Session,
  header: Header,
  { now, newId }: { now: Date; newId: NewId },
): Promise<void> {
  const at = `${header.at.slice(0, 16).replace('T', ' ')} UTC`
  const what = `Everything was put back as it was at ${at}, from a backup. Who was signed in is no more.`
  for (const coopId of await session.texts('SELECT "id" FROM "Coop"')) {
    const event = { kind: 'restored', coopId, who: 'the service', memberId: null, what } as const
    await noteEventBySql(session, event, { now, newId })
  }
}
