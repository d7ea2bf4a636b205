import {
  isDriverAdapterError,
  type SqlDriverAdapter,
  type SqlMigrationAwareDriverAdapterFactory,
} from '@prisma/driver-adapter-utils'
import { type Migration, readMigrations, toMigrationList } from './migration-files.ts'
import { NO_FILTERS, type SchemaEngine, withSchemaEngine } from './schema-engine.ts'

/** The database cannot be brought to, or is not in, the state this program needs. The message is for the operator. */
export class MigrationError extends Error {
  override readonly name = 'MigrationError'
}

export type MigrateOptions = {
  /** The project's own when not given. */
  migrations?: Migration[]
  /** How long to wait for another process that is migrating; 60,000 ms when not given. */
  lockLimitMs?: number
}

/** What can lend a connection on which a lock taken holds until the work is done. */
export type MigratableDatabase = {
  kind: 'embedded' | 'server'
  withMigrationConnection<T>(work: (factory: SqlMigrationAwareDriverAdapterFactory) => Promise<T>): Promise<T>
}

/**
 * Brings the database to this program's schema. What is applied is recorded in `_prisma_migrations`, as Prisma's own
 * command line does, so that either may be used.
 *
 * A migration is done as a whole together with its record, or not at all: it may not hold what PostgreSQL refuses inside
 * a transaction, such as CREATE INDEX CONCURRENTLY. One that failed, or was cut off, is tried again at the next start.
 *
 * @returns the names of the migrations applied now, oldest first; empty when there was nothing to do
 * @throws MigrationError when the database is newer than the program, its history is another one, a migration fails, or
 *   another process is migrating all the while
 */
export async function migrateDatabase(database: MigratableDatabase, options: MigrateOptions = {}): Promise<string[]> {
  const migrations = options.migrations ?? (await readMigrations())
  return database.withMigrationConnection(async (factory) => {
    const failure: { reason?: string } = {}
    return withSchemaEngine(finishWithScript(factory, migrations, failure), async (engine) => {
      // The embedded database has one process only, which its folder lock sees to. On a server the lock is asked for
      // after the engine's turn has come: whoever held it and waited for the turn would block the one at work, whose
      // engine gives the lock back and takes it again between its steps.
      if (database.kind === 'server') await takeLock(factory, options.lockLimitMs ?? 60_000)
      await checkHistory(engine, migrations)
      return apply(engine, migrations, failure)
    })
  })
}

/** The advisory lock of Prisma's own migrations, so that its command line and this program keep out of each other's way. */
const MIGRATION_LOCK = 72_707_369
const LOCK_POLL_MS = 200

/** Asked for again and again rather than waited for, so that the wait has an end. Goes with the connection. */
async function takeLock(factory: SqlMigrationAwareDriverAdapterFactory, limitMs: number): Promise<void> {
  const connection = await factory.connect()
  const deadline = performance.now() + limitMs
  while (!(await tryLock(connection))) {
    if (performance.now() > deadline) {
      throw new MigrationError(
        `Another process has been migrating this database for ${limitMs / 1000} seconds. Try again when it is done.`,
      )
    }
    await new Promise((resolve) => setTimeout(resolve, LOCK_POLL_MS))
  }
}

async function tryLock(connection: SqlDriverAdapter): Promise<boolean> {
  const sql = `SELECT pg_try_advisory_lock(${MIGRATION_LOCK})`
  const { rows } = await connection.queryRaw({ sql, args: [], argTypes: [] })
  return rows[0]?.[0] === true
}

/**
 * The engine runs a migration first and records it as finished afterwards; a process killed between the two would leave
 * a migration that is done but looks undone. So the record is made by the script itself, in the same transaction.
 */
function finishWithScript(
  factory: SqlMigrationAwareDriverAdapterFactory,
  migrations: Migration[],
  failure: { reason?: string },
): SqlMigrationAwareDriverAdapterFactory {
  const nameOf = new Map(migrations.map(({ name, sql }) => [sql, name]))
  return {
    provider: factory.provider,
    adapterName: factory.adapterName,
    connectToShadowDb: () => factory.connectToShadowDb(),
    connect: async () => {
      const adapter = await factory.connect()
      return {
        provider: adapter.provider,
        adapterName: adapter.adapterName,
        queryRaw: (query) => adapter.queryRaw(query),
        executeRaw: (query) => adapter.executeRaw(query),
        startTransaction: (isolationLevel) => adapter.startTransaction(isolationLevel),
        getConnectionInfo: () => adapter.getConnectionInfo?.() ?? { supportsRelationJoins: true },
        dispose: () => adapter.dispose(),
        executeScript: async (script) => {
          const name = nameOf.get(script)
          try {
            await adapter.executeScript(name === undefined ? script : `${script}\n;${finishRecord(name)}`)
          } catch (error) {
            failure.reason = databaseWords(error)
            throw error
          }
        },
      }
    },
  }
}

function finishRecord(name: string): string {
  if (!/^\w+$/.test(name))
    throw new MigrationError(`The migration's name "${name}" has more than letters, digits and _.`)
  return `UPDATE "_prisma_migrations" SET "finished_at" = now() WHERE "migration_name" = '${name}' AND "finished_at" IS NULL AND "rolled_back_at" IS NULL;`
}

async function checkHistory(engine: SchemaEngine, migrations: Migration[]): Promise<void> {
  const diagnose = () =>
    engine.diagnoseMigrationHistory({
      migrationsList: toMigrationList(migrations),
      optInToShadowDatabase: false,
      filters: NO_FILTERS,
    })
  // An unfinished record is of a migration that PostgreSQL has undone: see finishWithScript.
  const unfinished = (await diagnose()).failedMigrationNames
  for (const migrationName of unfinished) await engine.markMigrationRolledBack({ migrationName })

  const { history, editedMigrationNames: edited } = await diagnose()
  const unknown = history !== null && 'unpersistedMigrationNames' in history ? history.unpersistedMigrationNames : []
  if (unknown.length > 0) {
    throw new MigrationError(
      `The database is newer than this program: it has ${unknown.join(', ')}, which this version does not know. Start the version that made it or a later one, or restore a backup from before.`,
    )
  }
  if (edited.length > 0) {
    throw new MigrationError(
      `The database was made with another wording of ${edited.join(', ')} than this program has. Start the version that made it, or restore its data into a new database.`,
    )
  }
}

async function apply(engine: SchemaEngine, migrations: Migration[], failure: { reason?: string }): Promise<string[]> {
  try {
    const done = await engine.applyMigrations({ migrationsList: toMigrationList(migrations), filters: NO_FILTERS })
    return done.appliedMigrationNames
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error)
    const name = /migration_name="(\w+)"/.exec(words)?.[1]
    if (name === undefined || failure.reason === undefined) throw error
    throw new MigrationError(
      `Migration ${name} failed and was undone: ${failure.reason}. The database is as it was before it; earlier migrations stay.`,
      { cause: error },
    )
  }
}

function databaseWords(error: unknown): string {
  if (isDriverAdapterError(error)) return error.cause.originalMessage ?? error.message
  return error instanceof Error ? error.message : String(error)
}
