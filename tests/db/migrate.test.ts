import { afterEach, describe, expect, it } from 'vitest'
import { openDatabase } from '../../src/db/client.ts'
import { MigrationError, migrateDatabase } from '../../src/db/migrate.ts'
import { type Migration, readMigrations } from '../../src/db/migration-files.ts'
import { type FreshDatabase, freshDatabase } from '../support/database.ts'

type RecordRow = { migration_name: string; finished: boolean; rolled_back: boolean }

const good: Migration = { name: '20270101000000_good', sql: 'CREATE TABLE "Orchard" (id int PRIMARY KEY);' }
const broken: Migration = {
  name: '20270102000000_broken',
  sql: 'CREATE TABLE "Press" (id int PRIMARY KEY);\nINSERT INTO "Nowhere" VALUES (1);',
}

let fresh: FreshDatabase
afterEach(() => fresh.dispose())

describe('migrating', () => {
  it('applies what is missing, records it, and does nothing the second time', async () => {
    fresh = await freshDatabase({ migrated: false })
    const names = (await readMigrations()).map(({ name }) => name)
    expect(names.length).toBeGreaterThan(0)

    expect(await migrateDatabase(fresh.database)).toEqual(names)
    expect(await fresh.database.prisma.coop.count()).toBe(0)
    const before = await records()
    expect(before).toEqual(names.map((name) => ({ migration_name: name, finished: true, rolled_back: false })))

    expect(await migrateDatabase(fresh.database)).toEqual([])
    expect(await records()).toEqual(before)
  })

  it('says which migration failed and why, and undoes all of it', async () => {
    fresh = await freshDatabase({ migrated: false })
    const failing = migrateDatabase(fresh.database, { migrations: [good, broken] })
    await expect(failing).rejects.toThrow(MigrationError)
    await expect(failing).rejects.toThrow(/20270102000000_broken failed.*relation "Nowhere" does not exist/)
    expect(await tables()).toEqual(['Orchard', '_prisma_migrations'])
    expect(await records()).toEqual([
      { migration_name: good.name, finished: true, rolled_back: false },
      { migration_name: broken.name, finished: false, rolled_back: false },
    ])
  })

  it('tries a failed migration again, and applies it once it is mended', async () => {
    fresh = await freshDatabase({ migrated: false })
    await expect(migrateDatabase(fresh.database, { migrations: [broken] })).rejects.toThrow(MigrationError)
    await expect(migrateDatabase(fresh.database, { migrations: [broken] })).rejects.toThrow(/"Nowhere" does not exist/)

    const mended = { ...broken, sql: 'CREATE TABLE "Press" (id int PRIMARY KEY);' }
    expect(await migrateDatabase(fresh.database, { migrations: [mended] })).toEqual([broken.name])
    expect(await tables()).toEqual(['Press', '_prisma_migrations'])
  })

  it('records a migration in the same transaction, so that a stop between the two leaves nothing half done', async () => {
    fresh = await freshDatabase({ migrated: false })
    // Sees its own record as finished at commit: a deferred trigger runs last of all.
    const witness: Migration = {
      name: '20270103000000_witness',
      sql: `CREATE TABLE "Witness" (finished boolean);
        CREATE FUNCTION look() RETURNS trigger AS $$ BEGIN
          INSERT INTO "Witness" SELECT finished_at IS NOT NULL FROM _prisma_migrations; RETURN NULL;
        END $$ LANGUAGE plpgsql;
        CREATE TABLE "Bell" (id int);
        CREATE CONSTRAINT TRIGGER ring AFTER INSERT ON "Bell" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION look();
        INSERT INTO "Bell" VALUES (1) -- a comment without an end of line`,
    }
    await migrateDatabase(fresh.database, { migrations: [witness] })
    expect(await fresh.database.prisma.$queryRaw`SELECT finished FROM "Witness"`).toEqual([{ finished: true }])
  })

  it('refuses a database that is newer than the program', async () => {
    fresh = await freshDatabase({ migrated: false })
    await migrateDatabase(fresh.database, { migrations: [good, { ...broken, sql: 'SELECT 1' }] })
    const older = migrateDatabase(fresh.database, { migrations: [good] })
    await expect(older).rejects.toThrow(MigrationError)
    await expect(older).rejects.toThrow(/newer than this program.*20270102000000_broken/)
  })

  it('refuses a database whose migrations were worded otherwise', async () => {
    fresh = await freshDatabase({ migrated: false })
    await migrateDatabase(fresh.database, { migrations: [good] })
    const reworded = { ...good, sql: 'CREATE TABLE "Orchard" (id bigint PRIMARY KEY);' }
    await expect(migrateDatabase(fresh.database, { migrations: [reworded] })).rejects.toThrow(/another wording/)
  })

  it('lets two servers that start together both come up, one of them migrating', async () => {
    fresh = await freshDatabase({ migrated: false })
    if (fresh.database.kind === 'embedded') {
      // The embedded database has one process: the second is refused its folder, so there is nobody to collide with.
      await expect(openDatabase(fresh.options)).rejects.toThrow(/in use by process/)
      return
    }
    const other = await openDatabase(fresh.options)
    const migrations = [
      good,
      { name: '20270104000000_slow', sql: 'SELECT pg_sleep(0.5); CREATE TABLE "Slow" (id int);' },
    ]
    const applied = await Promise.all([
      migrateDatabase(fresh.database, { migrations }),
      migrateDatabase(other, { migrations }),
    ])
    await other.close()
    expect(applied.map((names) => names.length).sort()).toEqual([0, 2])
    expect(await records()).toHaveLength(2)
  })

  it('gives up waiting for another that migrates, and says so', async () => {
    fresh = await freshDatabase({ migrated: false })
    if (fresh.database.kind === 'embedded') {
      expect(await migrateDatabase(fresh.database, { migrations: [good], lockLimitMs: 1 }), 'waits for nobody').toEqual(
        [good.name],
      )
      return
    }
    await fresh.database.withMigrationConnection(async (factory) => {
      const connection = await factory.connect()
      await connection.executeRaw({ sql: 'SELECT pg_advisory_lock(72707369)', args: [], argTypes: [] })
      await expect(migrateDatabase(fresh.database, { migrations: [good], lockLimitMs: 500 })).rejects.toThrow(
        /Another process has been migrating/,
      )
    })
    expect(await migrateDatabase(fresh.database, { migrations: [good] })).toEqual([good.name])
  })
})

async function tables(): Promise<string[]> {
  const rows = await fresh.database.prisma.$queryRaw<{ name: string }[]>`
    SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename COLLATE "C"`
  return rows.map(({ name }) => name)
}

function records(): Promise<RecordRow[]> {
  return fresh.database.prisma.$queryRaw`
    SELECT migration_name, finished_at IS NOT NULL AS finished, rolled_back_at IS NOT NULL AS rolled_back
    FROM _prisma_migrations ORDER BY started_at, migration_name`
}
