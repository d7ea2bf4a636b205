import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import pg from 'pg'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openDatabase } from '../../src/db/client.ts'
import type { MigratableDatabase } from '../../src/db/migrate.ts'
import { jarEntryPath } from '../../src/features/shelf/paths.ts'
import { randomId } from '../../src/ids.ts'
import { restoreBackup } from '../../src/keeping/restore.ts'
import { writeBackup } from '../../src/keeping/write-backup.ts'
import { type TestApp, testApp } from '../support/app.ts'
import { type FreshDatabase, freshDatabase } from '../support/database.ts'
import { type Contents, contentsOf, readContents } from '../support/kept.ts'
import { addJars } from '../web/shelf/jars.ts'

// Twenty clients take, give back and move jars and bring lots, over HTTP and several connections to the database, while
// backups are made. Another connection reads all tables in the same snapshot that a backup sees.
const clients = 20
const backups = 2

const folder = mkdtempSync(join(tmpdir(), 'glutworks-backup-'))
let fresh: FreshDatabase
let app: TestApp
beforeAll(async () => {
  fresh = await freshDatabase()
  const { prisma } = fresh.database
  const coop = { id: 'larkrise-lane', name: 'Larkrise Lane', town: 'Ansley', altitudeM: 640, timeZone: 'Europe/London' }
  await prisma.coop.create({ data: { ...coop, locale: 'en-GB', units: 'metric', currency: 'GBP' } })
  await prisma.household.createMany({ data: ['pike', 'hedger'].map((id) => ({ coopId: coop.id, id, name: id })) })
  await prisma.member.create({
    data: { coopId: coop.id, id: 'rosalind', householdId: 'pike', name: 'Rosalind Pike', role: 'steward' },
  })
  app = await testApp({ database: fresh.database })
})
afterAll(async () => {
  await app?.close()
  await fresh?.dispose()
  rmSync(folder, { recursive: true, force: true })
})

test(`REL-053 a backup made while ${clients} clients write is of one moment, and is put back row for row`, async () => {
  const lines: Awaited<ReturnType<typeof addJars>>[] = []
  for (let line = 1; line <= 4; line++) lines.push(await addJars(app, 2_000))
  const embedded = await openDatabase({ dataDir: join(folder, 'data'), openLimitMs: 300_000, callLimitMs: 120_000 })
  let answered = 0
  for (let round = 1; round <= backups; round++) {
    let going = true
    const work = Array.from({ length: clients }, async (_, client) => {
      for (let n = 0; going; n++) {
        const { jarBatchId } = lines[(client + n) % lines.length] ?? expect.fail('no line')
        const answer = await oneWrite(jarBatchId, client + n)
        // 503: a busy machine had it take too long, and it was undone
        expect([200, 201, 503], answer.body).toContain(answer.statusCode)
        if (answer.statusCode !== 503) answered += 1
      }
    })
    const all = Promise.all(work)
    const before = answered
    while (answered < before + 5 * clients) await Promise.race([sleep(20), all])
    const began = answered
    const file = join(folder, `${round}.backup`)
    const seen: { contents?: Contents } = {}
    await writeBackup(watched(fresh.database, seen), file, { program: '0.1.0', now: new Date() })
    const meanwhile = answered - began
    expect(meanwhile, 'writes answered while it was made').toBeGreaterThan(0)
    going = false
    await all

    await restoreBackup(embedded, file, { replace: round > 1, now: new Date(), newId: randomId })
    const restored = await contentsOf(embedded)
    expect(Object.keys(seen.contents ?? {}).length).toBeGreaterThan(30)
    expect(restored).toEqual(seen.contents)
    await expectSound(embedded.prisma)
    process.stdout.write(
      `backup ${round}: ${restored['ShelfEntry']?.length} entries, ${meanwhile} writes answered meanwhile\n`,
    )
  }
  await embedded.close()
}, 600_000)

function oneWrite(jarBatchId: string, n: number) {
  if (n % 4 === 0) {
    const lot = { crop: 'damson', weight: '3 lb', source: 'gleaned', broughtBy: 'Wren', storage: 'cool', class: 'ripe' }
    return app.call('POST', '/api/lots', lot)
  }
  const householdId = n % 2 === 0 ? 'pike' : 'hedger'
  if (n % 4 === 1) {
    const to = { units: 1, placeId: 'pantry', householdId }
    return app.call('POST', `/api${jarEntryPath(jarBatchId, 'move')}`, to)
  }
  return app.call('POST', `/api${jarEntryPath(jarBatchId, 'take')}`, { units: 1, householdId })
}

/** The same database; whoever begins a transaction on it has another connection read everything in its snapshot. */
function watched(database: MigratableDatabase, seen: { contents?: Contents }): MigratableDatabase {
  return {
    kind: database.kind,
    withMigrationConnection: (work) =>
      database.withMigrationConnection((factory) =>
        work({
          ...factory,
          connect: async () => {
            const adapter = await factory.connect()
            return {
              provider: adapter.provider,
              adapterName: adapter.adapterName,
              queryRaw: (query) => adapter.queryRaw(query),
              executeRaw: (query) => adapter.executeRaw(query),
              executeScript: (script) => adapter.executeScript(script),
              dispose: () => adapter.dispose(),
              startTransaction: async (level) => {
                const transaction = await adapter.startTransaction(level)
                const sql = 'SELECT pg_export_snapshot()'
                const { rows } = await transaction.queryRaw({ sql, args: [], argTypes: [] })
                seen.contents = await contentsAt(String(rows[0]?.[0]))
                return transaction
              },
            }
          },
        }),
      ),
  }
}

async function contentsAt(snapshot: string): Promise<Contents> {
  const client = new pg.Client({ connectionString: fresh.options.url })
  await client.connect()
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY')
    await client.query(`SET TRANSACTION SNAPSHOT '${snapshot}'`)
    const raw = {
      $executeRawUnsafe: async (sql: string) => (await client.query(sql)).rowCount ?? 0,
      $queryRawUnsafe: async (sql: string, ...values: unknown[]) => (await client.query(sql, values)).rows,
    }
    return await readContents(raw as unknown as Parameters<typeof readContents>[0])
  } finally {
    await client.end()
  }
}

/** Sums of the ledger are the stocks and the totals of households; both sides of a move are there; foreign keys hold. */
async function expectSound(prisma: TestApp['prisma']): Promise<void> {
  const [found] = await prisma.$queryRaw<Record<string, number>[]>`
    SELECT
      (SELECT count(*)::int FROM "ShelfEntry") AS entries,
      (SELECT count(*)::int FROM "JarBatch" j WHERE "stock" <> (
        SELECT coalesce(sum("units"), 0) FROM "ShelfEntry" e WHERE e."coopId" = j."coopId" AND e."jarBatchId" = j."id")) AS stocks,
      (SELECT count(*)::int FROM (
        SELECT "movement" FROM "ShelfEntry" WHERE "movement" IS NOT NULL GROUP BY 1 HAVING sum("units") <> 0 OR count(*) <> 2) m) AS halves,
      (SELECT count(*)::int FROM "ShelfEntry" e LEFT JOIN "JarBatch" j ON j."coopId" = e."coopId" AND j."id" = e."jarBatchId"
        WHERE e."jarBatchId" IS NOT NULL AND j."id" IS NULL) AS dangling`
  expect(found).toMatchObject({ stocks: 0, halves: 0, dangling: 0 })
  expect(found?.['entries']).toBeGreaterThan(clients)
  const kept =
    await prisma.$queryRaw`SELECT "coopId", "householdId", "jar", "got", "returned" FROM "HouseholdJars" ORDER BY 2, 3`
  const counted = await prisma.$queryRaw`
    SELECT e."coopId", t."householdId", t."jar", sum(t."got")::int AS "got", sum(t."returned")::int AS "returned"
    FROM "ShelfEntry" e CROSS JOIN LATERAL "household_jars_of"(e) t GROUP BY 1, 2, 3 ORDER BY 2, 3`
  expect(kept).toEqual(counted)
  const broken = await prisma.$queryRaw<{ name: string }[]>`
    SELECT conname AS name FROM pg_constraint WHERE contype = 'f' AND NOT convalidated`
  expect(broken).toEqual([])
}
