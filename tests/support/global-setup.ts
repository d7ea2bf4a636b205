import { cp, mkdir, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { openDatabase } from '../../src/db/client.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { isLeftOver, runName } from './left-overs.ts'
import { createTestDatabase, dropTestDatabase, sweepTestDatabases, urlOf } from './test-server.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** What freshDatabase copies: a folder or a database each. */
    databaseTemplates: { kind: 'embedded' | 'postgres'; run: string; empty: string; migrated: string }
  }
}

/** Once for each run and kind of database: an empty and a migrated one, of which each test file gets a copy. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const kind = project.config.env['GLUTWORKS_TEST_DATABASE']
  if (kind === 'embedded') return setUpEmbedded(project)
  if (kind === 'postgres') return setUpServer(project)
  throw new Error('GLUTWORKS_TEST_DATABASE must be "embedded" or "postgres".')
}

async function setUpEmbedded(project: TestProject): Promise<() => Promise<void>> {
  for (const name of await readdir(tmpdir())) {
    if (isLeftOver(name)) await rm(join(tmpdir(), name), { recursive: true, force: true })
  }
  const run = join(tmpdir(), runName())
  const empty = join(run, 'empty')
  const migrated = join(run, 'migrated')
  await mkdir(run)

  await (await openDatabase({ dataDir: empty })).close()
  await cp(empty, migrated, { recursive: true })
  const database = await openDatabase({ dataDir: migrated })
  await migrateDatabase(database)
  await database.close()

  project.provide('databaseTemplates', { kind: 'embedded', run, empty, migrated })
  return () => rm(run, { recursive: true, force: true })
}

async function setUpServer(project: TestProject): Promise<() => Promise<void>> {
  await sweepTestDatabases()
  const run = runName()
  const empty = 'template0'
  const migrated = `${run}_migrated`
  await createTestDatabase(migrated, empty)
  const database = await openDatabase({ url: urlOf(migrated) })
  await migrateDatabase(database)
  await database.close()

  project.provide('databaseTemplates', { kind: 'postgres', run, empty, migrated })
  return () => dropTestDatabase(migrated)
}
