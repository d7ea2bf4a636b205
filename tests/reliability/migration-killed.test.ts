import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { expect, onTestFinished, test } from 'vitest'
import { type Database, type DatabaseOptions, openDatabase } from '../../src/db/client.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { readMigrations } from '../../src/db/migration-files.ts'
import { freshPlace } from '../support/database.ts'

const program = fileURLToPath(new URL('../db/migrator.ts', import.meta.url))
const sql =
  'CREATE TABLE "Half" ("id" TEXT PRIMARY KEY);\nSELECT pg_sleep(4);\nCREATE TABLE "Whole" ("id" TEXT PRIMARY KEY);'
const further = { name: '29990101000000_further', sql }

// SIGKILL while the first statement of a migration is done and the second is not. The server does not notice at once
// that its client is gone, and may bring the transaction to its end; the embedded database dies with its process. Either
// way it is all of the migration or nothing of it, and the next start brings it to its end.
test('a migration that is killed between two statements is there as a whole or not at all, and the next start resumes it', async () => {
  const { options, remove } = await freshPlace()
  onTestFinished(remove)
  for (let round = 1; round <= 2; round++) {
    await killInTheMiddle(options)
    const database = await openDatabase(options)
    try {
      const tables = await tablesOf(database)
      expect([[], ['Half', 'Whole']], `round ${round}`).toContainEqual(tables)
      if (database.kind === 'embedded') {
        expect(tables).toEqual([])
        // the version before it can still be used
        expect(await migrateDatabase(database)).toEqual([])
      }
    } finally {
      await database.close()
    }
  }
  const database = await openDatabase(options)
  try {
    await migrateDatabase(database, { migrations: [...(await readMigrations()), further] })
    expect(await tablesOf(database)).toEqual(['Half', 'Whole'])
    const records = await database.prisma.$queryRaw`
      SELECT count(*)::int AS "done" FROM "_prisma_migrations"
      WHERE "migration_name" = ${further.name} AND "finished_at" IS NOT NULL AND "rolled_back_at" IS NULL`
    expect(records).toEqual([{ done: 1 }])
    expect(await migrateDatabase(database, { migrations: [...(await readMigrations()), further] })).toEqual([])
  } finally {
    await database.close()
  }
}, 240_000)

function killInTheMiddle({ url, dataDir }: DatabaseOptions): Promise<void> {
  const child = spawn(process.execPath, ['--import', 'tsx', program, url ?? dataDir ?? '', sql], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  onTestFinished(() => {
    child.kill('SIGKILL')
  })
  return new Promise((resolve) => {
    // well within the four seconds that it sleeps, or before them on a slow machine: both are moments to be killed in
    child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), 2_000))
    child.once('close', () => resolve())
  })
}

async function tablesOf({ prisma }: Database): Promise<string[]> {
  const rows = await prisma.$queryRaw<{ name: string }[]>`
    SELECT tablename::text AS name FROM pg_tables WHERE tablename IN ('Half', 'Whole') ORDER BY 1`
  return rows.map(({ name }) => name)
}
