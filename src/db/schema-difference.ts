import { readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import { PGlite } from '@electric-sql/pglite'
import type { SqlMigrationAwareDriverAdapterFactory } from '@prisma/driver-adapter-utils'
import { connectMendedAdapter } from './embedded/mended-adapter.ts'
import { type Migration, toMigrationList } from './migration-files.ts'
import { NO_FILTERS, type SchemaEngine, withSchemaEngine } from './schema-engine.ts'

const SCHEMA = fileURLToPath(new URL('../../prisma/schema.prisma', import.meta.url))

/**
 * The SQL that leads from what the migrations make to prisma/schema.prisma; null when they already make it. For those
 * who write migrations (scripts/migration.ts) and the test that none was forgotten; the service never calls it.
 *
 * The migrations are tried on a PGlite in memory and read back from there, so nothing else has to run.
 *
 * @throws when a migration or the schema is wrong
 */
export async function schemaDifference(migrations: Migration[]): Promise<string | null> {
  const schema = await readFile(SCHEMA, 'utf8')
  const opened: PGlite[] = []
  const work = async (engine: SchemaEngine) => {
    const { stdout } = await engine.diff({
      from: { tag: 'migrations', ...toMigrationList(migrations) },
      to: { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content: schema }] },
      script: true,
      exitCode: null,
      filters: NO_FILTERS,
    })
    const text = stdout?.trim() ?? ''
    return text === '' || text === '-- This is an empty migration.' ? null : `${text}\n`
  }
  try {
    return await withSchemaEngine(memoryDatabases(opened), work, schema)
  } finally {
    for (const database of opened) await database.close()
  }
}

/** An own database in memory for each connection: the engine tries the migrations on one of them. */
function memoryDatabases(opened: PGlite[]): SqlMigrationAwareDriverAdapterFactory {
  const connect = async () => {
    const database = await PGlite.create()
    opened.push(database)
    return connectMendedAdapter(database)
  }
  return { provider: 'postgres', adapterName: 'memory-postgres', connect, connectToShadowDb: connect }
}
