import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { afterAll, expect, test } from 'vitest'
import { openDatabase } from '../../src/db/client.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { randomId } from '../../src/ids.ts'
import { restoreBackup } from '../../src/keeping/restore.ts'
import { writeBackup } from '../../src/keeping/write-backup.ts'
import { freshDatabase } from '../support/database.ts'
import { addHardRows } from '../support/hard-rows.ts'
import { contentsOf, schemaOf } from '../support/kept.ts'
import { createTestDatabase, dropTestDatabase, TEST_SERVER, urlOf } from '../support/test-server.ts'

const folder = mkdtempSync(join(tmpdir(), 'glutworks-keeping-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const about = { program: '0.1.0', now: new Date('2026-09-12T10:00:00.000Z') }
const how = { replace: false, now: about.now, newId: randomId }

test('REL-054 from the server to the embedded database and back, every row is the same', async () => {
  const server = await freshDatabase()
  await addHardRows(server.database.prisma)
  const first = await contentsOf(server.database)
  await writeBackup(server.database, join(folder, 'server.backup'), about)

  const embedded = await openDatabase({ dataDir: join(folder, 'data') })
  await restoreBackup(embedded, join(folder, 'server.backup'), how)
  expect(await contentsOf(embedded)).toEqual(first)
  expect(await migrateDatabase(embedded)).toEqual([])
  await writeBackup(embedded, join(folder, 'embedded.backup'), about)
  await embedded.close()

  await restoreBackup(server.database, join(folder, 'embedded.backup'), { ...how, replace: true })
  expect(await contentsOf(server.database)).toEqual(first)
  await server.dispose()
}, 180_000)

test('REL-054 whoever merely owns the database can put a backup back, and replace it', async () => {
  const source = await freshDatabase()
  await addHardRows(source.database.prisma)
  const file = join(folder, 'owner.backup')
  await writeBackup(source.database, file, about)

  const name = `glutworks_test_owner_${randomUUID().slice(0, 8)}`
  const admin = new pg.Client({ connectionString: TEST_SERVER })
  await admin.connect()
  await admin.query(`CREATE ROLE ${name} LOGIN PASSWORD 'of a test' NOSUPERUSER NOCREATEDB NOCREATEROLE`)
  try {
    await createTestDatabase(name, 'template0')
    await admin.query(`ALTER DATABASE ${name} OWNER TO ${name}`)
    const url = new URL(urlOf(name))
    url.username = name
    url.password = 'of a test'
    const owned = await openDatabase({ url: url.href })
    expect(
      await owned.prisma.$queryRaw`SELECT current_user::text AS who, current_setting('is_superuser') AS super`,
    ).toEqual([{ who: name, super: 'off' }])
    await restoreBackup(owned, file, how)
    await restoreBackup(owned, file, { ...how, replace: true })
    expect(await contentsOf(owned)).toEqual(await contentsOf(source.database))
    expect(await schemaOf(owned)).toEqual(await schemaOf(source.database))
    await owned.close()
  } finally {
    await dropTestDatabase(name)
    await admin.query(`DROP ROLE ${name}`)
    await admin.end()
    await source.dispose()
  }
}, 120_000)
