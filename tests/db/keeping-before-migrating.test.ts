import { join } from 'node:path'
import { expect, test } from 'vitest'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { readMigrations } from '../../src/db/migration-files.ts'
import { backupBeforeMigrating } from '../../src/keeping/before-migrating.ts'
import { checkBackup } from '../../src/keeping/read-backup.ts'
import { freshDatabase } from '../support/database.ts'

test('REL-052 the embedded database is backed up before migrations change it, when there is something to lose', async () => {
  const migrations = await readMigrations()
  const fresh = await freshDatabase({ migrated: false })
  const dataDir = fresh.options.dataDir ?? ''
  const now = new Date('2026-09-12T10:00:00Z')
  expect(await backupBeforeMigrating(fresh.database, dataDir, now), 'empty').toBeNull()
  await migrateDatabase(fresh.database, { migrations: migrations.slice(0, 2) })
  expect(await backupBeforeMigrating(fresh.database, dataDir, now), 'no co-op').toBeNull()
  await fresh.database.prisma.$executeRaw`
    INSERT INTO "Coop" ("id", "name", "town", "altitudeM", "timeZone", "locale", "units", "currency")
    VALUES ('old', 'Larkrise Lane', 'Ansley', 300, 'Europe/London', 'en-GB', 'metric', 'GBP')`
  const made = await backupBeforeMigrating(fresh.database, dataDir, now)
  expect(made).toMatchObject({ file: join(dataDir, `before-${migrations[2]?.name}.backup`), rows: 1 })
  const { header } = await checkBackup(made?.file ?? '', migrations)
  expect(header.migrations.map(({ name }) => name)).toEqual(migrations.slice(0, 2).map(({ name }) => name))
  await migrateDatabase(fresh.database)
  expect(await backupBeforeMigrating(fresh.database, dataDir, now), 'up to date').toBeNull()
  await fresh.dispose()
}, 60_000)
