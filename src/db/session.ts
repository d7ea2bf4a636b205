import type { SqlDriverAdapter, SqlQueryable, SqlResultSet } from '@prisma/driver-adapter-utils'
import type { MigratableDatabase } from './migrate.ts'

/** Reads by plain SQL. Values of a statement are texts; what it selects is texts, or read as JSON. */
export type Reader = {
  /** The first column of every row, as text. */
  texts(sql: string, values?: readonly string[]): Promise<string[]>
  /** Every row as an object: numbers, texts, lists and nulls as JSON has them. */
  objects<T>(sql: string, values?: readonly string[]): Promise<T[]>
  /**
   * The first column of every row, as text, some rows at a time, so that memory stays flat however long the table is:
   * about `BATCH_CHARACTERS` each, a longer row by itself. Within a transaction only.
   */
  batches(sql: string, values?: readonly string[]): AsyncGenerator<string[]>
}

/** As a reader, and writes. */
export type Session = Reader & {
  /** One statement; answers how many rows it wrote. */
  run(sql: string, values?: readonly string[]): Promise<number>
  /** Statements without values, parted by semicolons. */
  script(sql: string): Promise<void>
}

/** How much is read, and written, at a time. */
export const BATCH_CHARACTERS = 1_000_000
const ROWS_AT_MOST = 2_000

/** How values look as text, whatever the server or the session is set to: exact, and read back alike. */
export const EXACT_TEXT = [
  "SET LOCAL TimeZone = 'UTC'",
  "SET LOCAL DateStyle = 'ISO, YMD'",
  "SET LOCAL IntervalStyle = 'postgres'",
  "SET LOCAL bytea_output = 'hex'",
  'SET LOCAL extra_float_digits = 1',
] as const

/**
 * Reads the database as it is at one moment while others go on: one REPEATABLE READ transaction that may not write. On a
 * server others do not notice; the embedded database has one session, in which they wait until `work` is done.
 */
export function readSnapshot<T>(database: MigratableDatabase, work: (reader: Reader) => Promise<T>): Promise<T> {
  return longTransaction(database, 'REPEATABLE READ', async ({ run, ...reader }) => {
    await run('SET TRANSACTION READ ONLY')
    return work(reader)
  })
}

/**
 * All that `work` writes, or nothing of it, while others go on: without the short limit that other transactions have. On
 * the embedded database they wait until it is done.
 */
export function writeBesideOthers<T>(
  database: MigratableDatabase,
  work: (session: Omit<Session, 'script'>) => Promise<T>,
): Promise<T> {
  return longTransaction(database, 'READ COMMITTED', work)
}

function longTransaction<T>(
  database: MigratableDatabase,
  level: 'REPEATABLE READ' | 'READ COMMITTED',
  work: (session: Omit<Session, 'script'>) => Promise<T>,
): Promise<T> {
  return database.withMigrationConnection(async (factory) => {
    const adapter = await factory.connect()
    const transaction = await adapter.startTransaction(level)
    // for the server the statement ends it, and the call gives the connection back, also one that broke: closing waits for
    // it; the embedded database has the call alone
    const end = async (how: 'COMMIT' | 'ROLLBACK') => {
      try {
        if (!transaction.options.usePhantomQuery) await transaction.executeRaw({ sql: how, args: [], argTypes: [] })
      } finally {
        await (how === 'COMMIT' ? transaction.commit() : transaction.rollback())
      }
    }
    let result: T
    try {
      const session = statements(transaction)
      for (const setting of EXACT_TEXT) await session.run(setting)
      result = await work(session)
    } catch (error) {
      // a connection that broke has undone it by itself; what went wrong first is what is told
      await end('ROLLBACK').catch(() => undefined)
      throw error
    }
    await end('COMMIT')
    return result
  })
}

/**
 * All that `work` writes, tables included, or nothing of it. For a database that nobody else uses meanwhile: on the
 * embedded one, whose session is everybody's, another's statement would get into it.
 */
export function writeAlone<T>(database: MigratableDatabase, work: (session: Session) => Promise<T>): Promise<T> {
  return database.withMigrationConnection(async (factory) => {
    const adapter = await factory.connect()
    await adapter.executeScript('BEGIN')
    try {
      for (const setting of EXACT_TEXT) await adapter.executeScript(setting)
      const result = await work({ ...statements(adapter), script: (sql) => adapter.executeScript(sql) })
      await adapter.executeScript('COMMIT')
      return result
    } catch (error) {
      await undo(adapter)
      throw error
    }
  })
}

/** A connection that broke has undone it by itself; what went wrong first is what is told. */
async function undo(adapter: SqlDriverAdapter): Promise<void> {
  await adapter.executeScript('ROLLBACK').catch(() => undefined)
}

function statements(target: SqlQueryable): Reader & Pick<Session, 'run'> {
  const query = (sql: string, values: readonly string[]): Promise<SqlResultSet> => target.queryRaw(bound(sql, values))
  const texts = async (sql: string, values: readonly string[] = []) =>
    (await query(sql, values)).rows.map(([first]) => String(first))
  return {
    texts,
    async objects<T>(sql: string, values: readonly string[] = []) {
      const rows = await texts(`SELECT row_to_json(found)::text FROM (${sql}) found`, values)
      return rows.map((row) => JSON.parse(row) as T)
    },
    async *batches(sql, values = []) {
      await target.executeRaw(bound(`DECLARE batches NO SCROLL CURSOR FOR ${sql}`, values))
      let many = 50
      for (;;) {
        const rows = await texts(`FETCH ${many} FROM batches`)
        if (rows.length === 0) break
        yield rows
        const characters = rows.reduce((sum, row) => sum + row.length, 0)
        many = Math.max(1, Math.min(ROWS_AT_MOST, Math.floor((rows.length * BATCH_CHARACTERS) / (characters + 1))))
      }
      await target.executeRaw(bound('CLOSE batches', []))
    },
    run: (sql, values = []) => target.executeRaw(bound(sql, values)),
  }
}

function bound(sql: string, values: readonly string[]) {
  return { sql, args: [...values], argTypes: values.map(() => ({ scalarType: 'string', arity: 'scalar' }) as const) }
}

/** A name as SQL has it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`
}
