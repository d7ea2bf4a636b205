import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fixedClock } from '../../../src/clock.ts'
import { readSnapshot } from '../../../src/db/session.ts'
import { hashPassword } from '../../../src/features/accounts/index.ts'
import {
  coopRemovalPath,
  dataPath,
  erasurePath,
  everythingPath,
  ownDataPath,
  ownEverythingPath,
  tablesPath,
} from '../../../src/features/data/paths.ts'
import { jarEntryPath } from '../../../src/features/shelf/paths.ts'
import { createBackups } from '../../../src/keeping/backups.ts'
import { coopTables } from '../../../src/keeping/personal.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { hardTexts } from '../../support/hard-rows.ts'
import { addJars } from '../shelf/jars.ts'

const dataDir = mkdtempSync(join(tmpdir(), 'glutworks-data-'))
let app: TestApp
let jarBatchId: string

/** Wilfred, who took jars, finished work and left; and the neighbours, of whom nothing may be seen. */
beforeAll(async () => {
  app = await testApp({ environment: { DATA_DIR: dataDir, BACKUP_DIR: join(dataDir, 'daily'), BACKUP_KEEP: '9' } })
  const { prisma, coopId, householdId } = app
  await prisma.member.create({ data: { coopId, id: 'wilfred', householdId, name: 'Wilfred Marsh', role: 'member' } })
  const account = { coopId, memberId: 'wilfred', signInName: 'wilfred', mail: 'w@marsh.example', handle: 'w' }
  const passwordHash = await hashPassword('a long password of Wilfred')
  await prisma.account.create({ data: { ...account, passwordHash, createdAt: app.app.clock.now() } })
  jarBatchId = (await addJars(app, 20)).jarBatchId
  await app.signInAs('wilfred')
  for (let n = 0; n < 3; n++) {
    const answer = await app.call('POST', `/api${jarEntryPath(jarBatchId, 'take')}`, { units: 1, householdId })
    expect(answer.statusCode, answer.body).toBe(200)
  }
  await app.signInAs('rosalind')
  await prisma.lot.create({
    data: {
      coopId,
      id: 'hard',
      crop: 'damson',
      source: 'gleaned',
      broughtBy: 'Wilfred Marsh',
      arrivedOn: new Date('2026-09-01T00:00:00Z'),
      storage: 'cool',
      weightGrams: 1000,
      weightTyped: '1 kg',
      note: `=1+1 ${hardTexts.join(' ')}`,
    },
  })
  await prisma.coop.create({
    data: {
      id: 'tanner-row',
      name: 'Tanner Row Larder',
      town: 'Nether Ansley',
      altitudeM: 210,
      timeZone: 'Europe/London',
      locale: 'en-GB',
      units: 'metric',
      currency: 'GBP',
      createdAt: new Date('2099-01-01T00:00:00Z'),
      households: { create: { id: 'tanner', name: 'Tanner' } },
    },
  })
  await prisma.member.create({
    data: { coopId: 'tanner-row', id: 'hob', householdId: 'tanner', name: 'Wilfred Marsh', role: 'steward' },
  })
}, 120_000)
afterAll(async () => {
  await app?.close()
  rmSync(dataDir, { recursive: true, force: true })
})

type Taken = { coop: string; tables: Record<string, Record<string, unknown>[]> }

/** A file asked for by its form. */
async function taken(path: string, from: string): Promise<Buffer> {
  const answer = await app.postForm(path, {}, { from })
  expect(answer.statusCode, answer.body.slice(0, 300)).toBe(200)
  expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="[a-z-]+\.(json|zip)"$/)
  return answer.rawPayload
}

describe('taking data out', () => {
  test('REL-056 SEC-075 a steward takes everything of the co-op as JSON: all its rows, no secret, nothing of neighbours', async () => {
    const text = (await taken(everythingPath(), dataPath())).toString('utf8')
    const { coop, tables } = JSON.parse(text) as Taken
    expect(coop).toBe('Larkrise Lane Kitchen')
    expect(tables['ShelfEntry']).toHaveLength(4)
    expect(tables['Lot']).toEqual([
      expect.objectContaining({
        id: 'hard',
        arrivedOn: '2026-09-01',
        weightGrams: 1000,
        note: `=1+1 ${hardTexts.join(' ')}`,
      }),
    ])
    expect(tables['Account']).toEqual([expect.objectContaining({ signInName: 'wilfred', mail: 'w@marsh.example' })])
    expect(text).not.toMatch(/argon2|Tanner|tanner/)
    expect(Object.keys(tables)).toEqual(expect.not.arrayContaining(['Session', 'Submission']))
    const event = await app.prisma.securityEvent.findFirst({ where: { kind: 'data-taken-out' } })
    expect(event).toMatchObject({ who: 'Rosalind Pike', memberId: 'rosalind' })
  })

  test('REL-056 SEC-043 and as CSV tables in a ZIP file, which agree with it and hold no formula', async () => {
    const { tables } = JSON.parse((await taken(everythingPath(), dataPath())).toString('utf8')) as Taken
    const files = unzipSync(await taken(tablesPath(), dataPath()))
    expect(new TextDecoder().decode(files['READ-ME.txt'])).toContain('RFC 4180')
    for (const [name, rows] of Object.entries(tables)) {
      // the second file was made after the first was noted
      if (name === 'SecurityEvent' || name === 'RateWindow') continue
      const read = parse(new TextDecoder().decode(files[`${name}.csv`]), { columns: true }) as Record<string, string>[]
      expect(read, name).toHaveLength(rows.length)
      for (const [at, row] of rows.entries()) {
        for (const [column, value] of Object.entries(row)) {
          const text = value === null ? '' : typeof value === 'object' ? JSON.stringify(value) : String(value)
          const cell = read[at]?.[column] ?? ''
          const compared = typeof value === 'object' && value !== null ? JSON.stringify(JSON.parse(cell)) : cell
          expect(compared.replace(/^'/, ''), `${name}.${column}`).toBe(text)
          expect(typeof value === 'string' ? cell : '').not.toMatch(/^[=+\-@]/)
        }
      }
    }
  })

  test('SEC-075 holds back every column that names a secret', async () => {
    const columns = await readSnapshot(app.app.longTransactions, async (reader) =>
      (await coopTables(reader, { technical: true })).flatMap(({ table, columns }) =>
        columns.map(({ name }) => `${table.name}.${name}`),
      ),
    )
    expect(columns.length).toBeGreaterThan(200)
    expect(
      columns.filter((name) => /hash|secret|token|password|publicKey|handle|code/i.test(name.replace(/^.*\./, ''))),
    ).toEqual(['Account.passwordChangedAt', 'Batch.code', 'Submission.bodyHash'])
  })

  test('SEC-075 a member takes out what is known of them, and nothing else', async () => {
    await app.signInAs('wilfred')
    const text = (await taken(ownEverythingPath(), ownDataPath())).toString('utf8')
    const { tables } = JSON.parse(text) as Taken
    expect(tables['Member']).toEqual([expect.objectContaining({ id: 'wilfred' })])
    expect(tables['Account']).toHaveLength(1)
    expect(tables['ShelfEntry']).toHaveLength(3)
    expect(tables['Lot']).toHaveLength(1)
    expect(tables['Session']?.length).toBeGreaterThan(0)
    expect(text).not.toMatch(/argon2|Rosalind|Tanner/)
    const locked = await app.app.inject({ url: dataPath() })
    expect(locked.statusCode).toBe(403)
    await app.signInAs('rosalind')
  })
})

describe('what stewards are told of backups', () => {
  test('REL-055 that there is none, how old the last one is, when it is older than a week, and when one failed', async () => {
    const warnings = async () => (await app.getPage(dataPath()))('.refused').text()
    expect(await warnings()).toContain('No backup is known of')
    expect((await app.getPage('/coop'))('main').text()).toContain('No backup is known of yet')
    const { longTransactions: database } = app.app
    const at = (day: string) => createBackups({ database, dataDir, clock: fixedClock(`${day}T09:00:00Z`) })
    await at('2026-09-03').make(join(dataDir, 'a.backup'))
    expect(await warnings()).toContain('The last good backup is 8 days old.')
    expect((await app.getPage('/coop'))('main').text()).toContain('Too old: last backup 8 days ago')
    await at('2026-09-10').make(join(dataDir, 'b.backup'))
    const page = await app.getPage(dataPath())
    expect(page('.refused').text()).toBe('')
    expect(page('main').text()).toContain('b.backup')
    expect(page('main').text()).toContain('keeps the newest 9')
    await expect(at('2026-09-11').make(join(dataDir, 'none', 'c.backup'))).rejects.toThrow()
    expect(await warnings()).toMatch(/The last try, .* gave no backup\. There is no folder/)
  })
})

describe('deleting', () => {
  test('SEC-075 of a member who left the personal data goes, and the ledger’s sums stay', async () => {
    const { prisma, coopId } = app
    const form = await app.app.inject({ url: erasurePath('wilfred') })
    expect(form.statusCode, 'still a member').toBe(404)
    await prisma.member.updateMany({
      where: { coopId, id: 'wilfred' },
      data: { leftAt: new Date('2026-09-10T09:00:00Z') },
    })
    await prisma.change.create({
      data: {
        coopId,
        id: 'c',
        at: new Date(),
        who: 'x',
        noun: 'lot',
        nounId: 'hard',
        what: 'brought by Wilfred Marsh, weighed',
      },
    })
    const sums = () =>
      prisma.shelfEntry.groupBy({
        by: ['jarBatchId', 'kind'],
        _sum: { units: true, stockAfter: true },
        orderBy: { kind: 'asc' },
      })
    const before = await sums()
    expect(await app.postTaken(erasurePath('wilfred'), {})).toBe(dataPath())

    expect(await sums()).toEqual(before)
    expect(await prisma.member.findFirst({ where: { coopId, id: 'wilfred' } })).toMatchObject({
      name: 'a former member',
    })
    expect(await prisma.account.count({ where: { memberId: 'wilfred' } })).toBe(0)
    expect(await prisma.session.count({ where: { coopId, memberId: 'wilfred' } })).toBe(0)
    expect(await prisma.shelfEntry.count({ where: { coopId, by: 'a former member' } })).toBe(3)
    expect(await prisma.change.findFirst({ where: { id: 'c' } })).toMatchObject({
      what: 'brought by a former member, weighed',
    })
    const text = (await taken(everythingPath(), dataPath())).toString('utf8')
    expect(text).not.toMatch(/Wilfred|w@marsh/)
    // his namesake among the neighbours stays, and so does the ledger's own guard
    expect(await prisma.member.count({ where: { coopId: 'tanner-row', name: 'Wilfred Marsh' } })).toBe(1)
    await expect(prisma.shelfEntry.updateMany({ data: { note: 'x' } })).rejects.toThrow(/never changed or erased/)
  })

  test('SEC-075 the co-op goes with all its rows when its name is typed, says what backups keep, and leaves neighbours whole', async () => {
    const { prisma, coopId } = app
    await prisma.coop.update({ where: { id: coopId }, data: { demonstration: true } })
    const closed = await app.getPage(coopRemovalPath())
    expect(closed('main').text()).toContain('The demonstration is everybody’s')
    expect(closed('main form')).toHaveLength(0)
    await prisma.coop.update({ where: { id: coopId }, data: { demonstration: false } })
    const page = await app.getPage(coopRemovalPath())
    expect(page('main').text()).toContain('keeps the newest 9 daily backups')
    expect((await app.postRefused(coopRemovalPath(), { name: 'Larkrise' }))('.refused').text()).toContain(
      'That is not its name',
    )
    expect(await prisma.coop.count()).toBe(2)

    expect(await app.postTaken(coopRemovalPath(), { name: 'Larkrise Lane Kitchen' })).toBe('/sign-in')
    const tables = await prisma.$queryRaw<{ name: string }[]>`
      SELECT table_name AS name FROM information_schema.columns WHERE table_schema = 'public' AND column_name = 'coopId'`
    expect(tables.length).toBeGreaterThan(30)
    for (const { name } of tables) {
      const left = await prisma.$queryRawUnsafe(`SELECT count(*)::int AS n FROM "${name}" WHERE "coopId" = $1`, coopId)
      expect(left, name).toEqual([{ n: 0 }])
    }
    expect(await prisma.coop.findMany({ select: { id: true } })).toEqual([{ id: 'tanner-row' }])
    expect(await prisma.household.count()).toBe(1)
    expect(await prisma.securityEvent.findMany()).toEqual([
      expect.objectContaining({
        kind: 'data-deleted',
        coopId: null,
        who: '',
        what: 'A co-op was deleted with all its data, by its steward.',
      }),
    ])
    expect((await app.app.inject({ url: '/lots', headers: { accept: 'text/html' } })).statusCode).not.toBe(200)
  })
})
