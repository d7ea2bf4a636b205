import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gunzipSync, gzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readForeignKeys, readTables } from '../../src/db/catalogue.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { readMigrations } from '../../src/db/migration-files.ts'
import { readSnapshot } from '../../src/db/session.ts'
import { randomId } from '../../src/ids.ts'
import { BackupError, leftOutOfBackups } from '../../src/keeping/format.ts'
import { checkBackup } from '../../src/keeping/read-backup.ts'
import { restoreBackup } from '../../src/keeping/restore.ts'
import { writeBackup } from '../../src/keeping/write-backup.ts'
import { type FreshDatabase, freshDatabase } from '../support/database.ts'
import { addHardRows } from '../support/hard-rows.ts'
import { contentsOf, linesOf, schemaOf, sealed } from '../support/kept.ts'

const folder = mkdtempSync(join(tmpdir(), 'glutworks-keeping-'))
const file = join(folder, 'all.backup')
const now = new Date('2026-09-12T10:00:00.000Z')
const about = { program: '0.1.0', now }
const how = { replace: false, now, newId: randomId }
const embedded = process.env['GLUTWORKS_TEST_DATABASE'] === 'embedded'

let source: FreshDatabase
let target: FreshDatabase
beforeAll(async () => {
  source = await freshDatabase()
  await addHardRows(source.database.prisma)
  target = await freshDatabase({ migrated: false })
  await writeBackup(source.database, file, about)
}, 120_000)
afterAll(async () => {
  await source?.dispose()
  await target?.dispose()
  rmSync(folder, { recursive: true, force: true })
})

describe('a backup', () => {
  test('REL-053 is one file under its own name, for its owner alone, with nothing half written beside it', () => {
    expect(readdirSync(folder)).toEqual(['all.backup'])
    expect(statSync(file).mode & 0o777).toBe(0o600)
  })

  test('REL-053 holds nobody’s session and no secret of the service', async () => {
    const text = linesOf(readFileSync(file)).join('\n')
    expect(text).toContain('$argon2id$v=19$hard')
    expect(text).not.toContain('must-not-be-kept')
    const tables = linesOf(readFileSync(file)).filter((line) => line.startsWith('{"table"'))
    for (const name of leftOutOfBackups) expect(tables.some((line) => JSON.parse(line).table === name)).toBe(false)
  })

  test('is refused in words where it cannot be written, and leaves nothing', async () => {
    const there = writeBackup(source.database, join(folder, 'nowhere', 'x.backup'), about)
    await expect(there).rejects.toThrow(/There is no folder/)
    await expect(writeBackup(target.database, join(folder, 'x.backup'), about)).rejects.toThrow(/nothing to back up/)
    expect(readdirSync(folder)).toEqual(['all.backup'])
  })

  test('REL-053 leaves out no table that another one refers to, and no table of a co-op save those named', async () => {
    const { tables, keys } = await readSnapshot(source.database, async (reader) => ({
      tables: (await readTables(reader)).map(({ name }) => name),
      keys: await readForeignKeys(reader),
    }))
    expect(
      leftOutOfBackups.filter((name) => !tables.includes(name)),
      'are there',
    ).toEqual([])
    const dangling = keys.filter(
      ({ table, refersTo }) => leftOutOfBackups.includes(refersTo) && !leftOutOfBackups.includes(table),
    )
    expect(dangling).toEqual([])
  })
})

describe('a backup put back', () => {
  test('REL-054 gives every row as it was, in tables as migrating makes them', async () => {
    const { rows, migrated } = await restoreBackup(target.database, file, how)
    expect(migrated).toEqual([])
    const before = await contentsOf(source.database)
    const kept = Object.values(before).reduce((sum, list) => sum + list.length, 0)
    expect(rows).toBe(kept)
    expect(kept).toBeGreaterThan(100)
    expect(await contentsOf(target.database)).toEqual(before)
    expect(await schemaOf(target.database)).toEqual(await schemaOf(source.database))
    expect(await migrateDatabase(target.database)).toEqual([])
    expect(await target.database.prisma.session.count()).toBe(0)
    const [noted] = await target.database.prisma.securityEvent.findMany({ where: { kind: 'restored' } })
    expect(noted).toMatchObject({ at: now, what: expect.stringContaining('2026-09-12 10:00 UTC') })
  })

  test('REL-002 goes on as a ledger: entries move stock, are numbered on, and nothing else may', async () => {
    const { prisma } = target.database
    const supply = await prisma.supply.findFirstOrThrow({ where: { onHand: { gt: 5 } } })
    const last = await prisma.shelfEntry.findFirstOrThrow({ orderBy: { order: 'desc' } })
    const entry = { coopId: supply.coopId, id: 'after', at: now, supplyId: supply.id, kind: 'use', units: -2, by: 'x' }
    const made = await prisma.shelfEntry.create({ data: entry })
    expect(made).toMatchObject({ order: last.order + 1 })
    const { onHand } = await prisma.supply.findFirstOrThrow({ where: { coopId: supply.coopId, id: supply.id } })
    expect(onHand).toBe(supply.onHand - 2)
    await expect(prisma.supply.updateMany({ where: { id: supply.id }, data: { onHand: 1 } })).rejects.toThrow(
      /entry of the shelf/,
    )
    await expect(prisma.shelfEntry.deleteMany({ where: { id: 'after' } })).rejects.toThrow(/never changed or erased/)
    for (const table of ['ShelfEntry', 'Change', 'SecurityEvent']) {
      await expect(prisma.$executeRawUnsafe(`TRUNCATE "${table}"`), table).rejects.toThrow(/is never emptied/)
    }
    const sums = await prisma.$queryRaw<{ wrong: number }[]>`
      SELECT count(*)::int AS wrong FROM "JarBatch" j WHERE "stock" <> (
        SELECT coalesce(sum("units"), 0) FROM "ShelfEntry" e WHERE e."coopId" = j."coopId" AND e."jarBatchId" = j."id")`
    expect(sums).toEqual([{ wrong: 0 }])
  })

  test('is refused where a co-op is already, unless it is to be replaced; then nothing of that is left', async () => {
    const before = await contentsOf(target.database)
    await expect(restoreBackup(target.database, file, how)).rejects.toThrow(/holds a co-op already.*--replace/)
    expect(await contentsOf(target.database)).toEqual(before)
    await restoreBackup(target.database, file, { ...how, replace: true })
    expect(await contentsOf(target.database)).toEqual(await contentsOf(source.database))
  })

  test('REL-054 leaves what was there when it fails midway', async () => {
    const lines = linesOf(readFileSync(file)).slice(0, -1)
    const at = lines.findIndex((line) => line.startsWith('{"table":"Lot"')) + 1
    const columns = JSON.parse(lines[at - 1] ?? '').columns.map(({ name }: { name: string }) => name)
    const attempts = {
      'a household that is not there': (row: string[]) => row.with(columns.indexOf('householdId'), 'nobody'),
      'a weight that is no number': (row: string[]) => row.with(columns.indexOf('weightGrams'), 'heavy'),
    }
    const before = await contentsOf(target.database)
    const schema = await schemaOf(target.database)
    for (const [what, change] of Object.entries(attempts)) {
      const spoilt = join(folder, 'spoilt.backup')
      writeFileSync(spoilt, sealed(lines.with(at, JSON.stringify(change(JSON.parse(lines[at] ?? ''))))))
      await checkBackup(spoilt, await readMigrations())
      await expect(restoreBackup(target.database, spoilt, { ...how, replace: true }), what).rejects.toThrow()
      expect(await contentsOf(target.database), what).toEqual(before)
      expect(await schemaOf(target.database), what).toEqual(schema)
    }
  }, 60_000)

  test('is refused by a database that holds what is not ours', async () => {
    const other = await freshDatabase({ migrated: false })
    await other.database.prisma.$executeRaw`CREATE TABLE "Accounts of another program" (id int)`
    const restoring = restoreBackup(other.database, file, { ...how, replace: true })
    await expect(restoring).rejects.toThrow(/tables that are not of this service/)
    const left = await other.database.prisma
      .$queryRaw`SELECT count(*)::int AS n FROM pg_tables WHERE schemaname = 'public'`
    expect(left).toEqual([{ n: 1 }])
    await other.dispose()
  })
})

describe('a file that is not sound', () => {
  const whole = () => readFileSync(file)
  const refusal = async (bytes: Buffer | string): Promise<string> => {
    const path = join(folder, 'tried.backup')
    writeFileSync(path, bytes)
    const outcome = checkBackup(path, await readMigrations()).then(
      () => 'taken',
      (error: unknown) => {
        if (error instanceof BackupError) return error.message
        throw error
      },
    )
    return outcome
  }

  test('REL-054 cut anywhere, it is refused', async () => {
    const bytes = whole()
    const lengths = [
      0,
      1,
      9,
      10,
      11,
      100,
      ...Array.from({ length: 40 }, (_, n) => Math.floor((bytes.length * n) / 40)),
      bytes.length - 8,
      bytes.length - 1,
    ]
    for (const length of lengths) {
      expect(await refusal(bytes.subarray(0, length)), `${length} of ${bytes.length} bytes`).toMatch(
        /cut short|no backup|damaged/,
      )
    }
    // whole lines gone, packed anew
    const text = gunzipSync(bytes).toString('utf8')
    const lines = text.split('\n')
    for (const many of [0, 1, 2, Math.floor(lines.length / 2), lines.length - 2]) {
      const cut = lines.slice(0, many).map((line) => `${line}\n`)
      expect(await refusal(gzipSync(cut.join(''))), `${many} lines`).toMatch(/cut short/)
    }
    expect(await refusal(gzipSync(text.slice(0, -1))), 'without its last line feed').toMatch(/cut short/)
  }, 60_000)

  test('REL-054 with any byte altered it is refused, or says the same', async () => {
    const bytes = whole()
    let refused = 0
    for (let n = 0; n < 150; n++) {
      const at = n < 20 ? n : Math.floor(((n - 20) * bytes.length) / 130)
      const altered = Buffer.from(bytes)
      altered[at] = (altered[at] ?? 0) ^ (1 << (n % 8))
      const said = await refusal(altered)
      // bytes 4 to 9 of gzip's head (time, speed, system; RFC 1952) say nothing of what is packed
      if (said === 'taken') expect(gunzipSync(altered).equals(gunzipSync(bytes)), `byte ${at}`).toBe(true)
      else refused += 1
    }
    expect(refused).toBeGreaterThan(140)
  }, 60_000)

  test('REL-054 with a figure, a count or the hash altered and packed anew, it is refused', async () => {
    const text = gunzipSync(whole()).toString('utf8')
    const other = (from: string | RegExp, to: string) => {
      expect(text).toMatch(from)
      return gzipSync(text.replace(from, to))
    }
    expect(await refusal(other('water-bath', 'water-bats'))).toMatch(/not those that were written/)
    expect(await refusal(other(/"sha256":"[0-9a-f]{8}/, '"sha256":"00000000'))).toMatch(/not those that were written/)
    expect(await refusal(other(/"total":\d+/, '"total":3'))).toMatch(/as many rows/)
    const lines = linesOf(whole())
    const place = lines.findIndex((line) => line.startsWith('[') && lines[lines.indexOf(line) + 1]?.startsWith('['))
    expect(await refusal(gzipSync(`${lines.toSpliced(place, 1).join('\n')}\n`))).toMatch(/not those that were written/)
    expect(await refusal(gzipSync(`${text}[]\n`))).toMatch(/after the last line/)
    expect(await refusal('a letter\n')).toBe('This file is no backup of Glutworks.')
    expect(await refusal(gzipSync('{"format":"a letter"}\n'))).toBe('This file is no backup of Glutworks.')
  })

  test('REL-051 of a newer form, with newer migrations, or with others, it is refused in words', async () => {
    const [head = '', ...rest] = linesOf(whole()).slice(0, -1)
    const header = JSON.parse(head)
    const said = (change: object) => refusal(sealed([JSON.stringify({ ...header, ...change }), ...rest]))
    expect(await said({})).toBe('taken')
    expect(await said({ formatVersion: 2, program: '9.0.0', migrations: 'in another way' })).toMatch(
      /newer version \(9\.0\.0\)/,
    )
    const newer = { name: '20990101000000_later', checksum: 'a'.repeat(64) }
    expect(await said({ program: '9.0.0', migrations: [...header.migrations, newer] })).toMatch(
      /newer version \(9\.0\.0\).*20990101000000_later/,
    )
    expect(await said({ migrations: header.migrations.slice(1) })).toMatch(/another edition/)
    const reworded = header.migrations.with(0, { ...header.migrations[0], checksum: 'a'.repeat(64) })
    expect(await said({ migrations: reworded })).toMatch(/another edition/)
  })
})

describe('a backup of an older version', () => {
  const kitchen = `
    INSERT INTO "Coop" ("id", "name", "town", "altitudeM", "timeZone", "locale", "units", "currency")
      VALUES ('old', 'Larkrise Lane', 'Ansley', 300, 'Europe/London', 'en-GB', 'metric', 'GBP');
    INSERT INTO "Household" ("coopId", "id", "name") VALUES ('old', 'pike', 'Pike');
    INSERT INTO "Member" ("coopId", "id", "householdId", "name", "role") VALUES ('old', 'r', 'pike', 'Rosalind Pike', 'steward');
    INSERT INTO "Supply" ("coopId", "id", "key", "name", "unit", "onHand", "packSize", "packPriceMinor", "packsAtMost")
      VALUES ('old', 'pints', 'jar-pint', 'Pint jars', 'jar', 12, 12, 1400, 3);`
  const ledger = `
    INSERT INTO "ShelfEntry" ("coopId", "id", "at", "supplyId", "kind", "units", "householdId", "by")
      VALUES ('old', 'back', now(), 'pints', 'return', 7, 'pike', 'Rosalind Pike');`

  test('REL-050 goes through every migration since, from the first version and from each later one', async () => {
    const migrations = await readMigrations()
    const shelf = migrations.findIndex(({ name }) => name.endsWith('_shelf'))
    expect(shelf).toBeGreaterThan(0)
    // on the embedded database each costs many seconds: the first, the first with a shelf, and the last but one stand for all
    const some = new Set([1, shelf + 1, migrations.length - 1])
    for (let many = 1; many < migrations.length; many++) {
      if (embedded && !some.has(many)) continue
      const old = await freshDatabase({ migrated: false })
      await migrateDatabase(old.database, { migrations: migrations.slice(0, many) })
      const statements = (kitchen + (many > shelf ? ledger : '')).split(';').filter((one) => one.trim() !== '')
      for (const statement of statements) await old.database.prisma.$executeRawUnsafe(statement)
      const oldFile = join(folder, `old-${many}.backup`)
      await writeBackup(old.database, oldFile, about)
      await old.dispose()

      const into = await freshDatabase()
      const { migrated } = await restoreBackup(into.database, oldFile, how)
      expect(migrated).toEqual(migrations.slice(many).map(({ name }) => name))
      expect(await migrateDatabase(into.database)).toEqual([])
      expect(await schemaOf(into.database)).toEqual(await schemaOf(source.database))
      const { prisma } = into.database
      expect(await prisma.member.findMany()).toMatchObject([{ name: 'Rosalind Pike', leftAt: null }])
      const after = many > shelf ? 19 : 12
      expect(await prisma.supply.findMany()).toMatchObject([{ onHand: after }])
      expect((await prisma.shelfEntry.aggregate({ _sum: { units: true } }))._sum.units, `${many} migrations`).toBe(
        after,
      )
      const returned = await prisma.householdJars.aggregate({ _sum: { returned: true } })
      expect(returned._sum.returned).toBe(many > shelf ? 7 : null)
      await into.dispose()
    }
  }, 300_000)
})
