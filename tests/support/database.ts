import { randomUUID } from 'node:crypto'
import { cp, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, inject } from 'vitest'
import { type Database, type DatabaseOptions, openDatabase } from '../../src/db/client.ts'
import { emptyTables } from './history.ts'
import { createTestDatabase, dropTestDatabase, urlOf } from './test-server.ts'

export type FreshDatabase = {
  database: Database
  /** How it was opened, for a test that opens it again or hands it to another process. */
  options: DatabaseOptions
  /** Empties every table; the migrations stay. For between the tests of a file. */
  truncateAll(): Promise<void>
  /** Closes it, when the test has not, and removes it. */
  dispose(): Promise<void>
}

/**
 * A database of the test file's own, of the kind the run is for (GLUTWORKS_TEST_DATABASE), migrated and empty of data.
 * Opened as the service opens it: the embedded one in its thread with all its guards.
 *
 * @param settings.migrated false for one without any table
 * @throws when the server of the tests cannot be reached
 */
export async function freshDatabase(
  settings: { migrated?: boolean; open?: DatabaseOptions } = {},
): Promise<FreshDatabase> {
  const place = await freshPlace(settings)
  const options = { ...settings.open, ...place.options }
  const database = await openDatabase(options)
  return {
    database,
    options,
    truncateAll: () => truncateAll(database),
    dispose: async () => {
      await database.close()
      await place.remove()
    },
  }
}

/** The same, not opened: for tests of the opening itself. */
export async function freshPlace(
  settings: { migrated?: boolean } = {},
): Promise<{ options: DatabaseOptions; remove(): Promise<void> }> {
  const templates = inject('databaseTemplates')
  const template = settings.migrated === false ? templates.empty : templates.migrated
  const name = randomUUID().slice(0, 8)
  if (templates.kind === 'embedded') {
    const dataDir = join(templates.run, name)
    await cp(template, dataDir, { recursive: true })
    return { options: { dataDir }, remove: () => rm(dataDir, { recursive: true, force: true }) }
  }
  const copy = `${templates.run}_${name}`
  await createTestDatabase(copy, template)
  return { options: { url: urlOf(copy) }, remove: () => dropTestDatabase(copy) }
}

async function truncateAll({ prisma }: Database): Promise<void> {
  const tables = await prisma.$queryRaw<{ name: string }[]>`
    SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' AND tablename <> '_prisma_migrations'`
  if (tables.length > 0) await emptyTables(prisma, ...tables.map(({ name }) => name))
}

/**
 * A group of tests of what only the embedded database has: its thread, its files, its adapter. On a server they are
 * not run, and the run says so.
 */
export function describeEmbedded(title: string, body: () => void): void {
  describeKind('embedded', title, body)
}

/** A group of tests of what only a server has: its connections. */
export function describeServer(title: string, body: () => void): void {
  describeKind('postgres', title, body)
}

function describeKind(kind: 'embedded' | 'postgres', title: string, body: () => void): void {
  const applies = process.env['GLUTWORKS_TEST_DATABASE'] === kind
  if (!applies) process.stdout.write(`Not run here: "${title}" is about the database of the kind "${kind}" only.\n`)
  describe.runIf(applies)(title, body)
}
