import { randomBytes } from 'node:crypto'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { readTables } from '../../../src/db/catalogue.ts'
import { readSnapshot } from '../../../src/db/session.ts'
import { dataPath, everythingPath, ownDataPath, ownEverythingPath } from '../../../src/features/data/paths.ts'
import { roomKinds } from '../../../src/features/data/words.ts'
import { addressesWhenFull, worksWhenFull } from '../../../src/web/room.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { describeServer, freshDatabase } from '../../support/database.ts'
import { htmlOf } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

const outlet = {
  kind: 'feed',
  name: 'two pigs',
  capacityGrams: null,
  worthPerKgMinor: 5,
  takesProduce: true,
  crops: ['apple'],
  classes: ['soft'],
  materials: [],
  open: true,
}
const typed = {
  kind: 'feed',
  name: 'pigs of the <b>Lane</b>',
  takesProduce: 'yes',
  open: 'yes',
  capacityGrams: '55 lb',
}

/** So many characters that nobody can make smaller, in the note of a work day, which can be deleted. */
async function fill({ prisma }: TestApp, coopId: string, id: string, characters: number, year: number): Promise<void> {
  const note = randomBytes(Math.ceil((characters * 3) / 4)).toString('base64')
  const date = new Date(Date.UTC(year, 0, 1))
  await prisma.workDay.create({ data: { coopId, id, date, opensMinute: 480, closesMinute: 960, note } })
}

describe('SEC-050 a co-op that has filled its room', () => {
  let app: TestApp
  beforeAll(async () => {
    app = await testApp({ environment: { MEGABYTES_PER_COOP: '1' } })
    await addNeighbours(app)
    const hob = { coopId: neighboursId, id: 'hob', householdId: 'their-household', name: 'Hob', role: 'steward' }
    await app.prisma.member.create({ data: hob })
    await fill(app, app.coopId, 'full', 1_200_000, 2031)
  })
  afterAll(() => app?.close())

  test('SEC-050 is refused on pages in words, with what was typed, and nothing is done', async () => {
    const answer = await app.postForm('/outlets', typed, { from: '/outlets/new' })
    expect(answer.statusCode).toBe(507)
    const page = htmlOf(answer.payload)
    const words = page('main').text()
    expect(words).toMatch(/Your co-op has filled the room that it has here, 1\.\d of 1 MB, so nothing can be added\./)
    expect(words).toContain('ask the person who hosts the kitchen for more room')
    expect(words).toContain('Nothing was saved.')
    expect(words, 'as it was typed').toContain('pigs of the <b>Lane</b>')
    const again = page('form[action="/outlets"] input[name="name"]')
    expect(again.attr('value')).toBe('pigs of the <b>Lane</b>')
    expect(page(`main a[href="${dataPath()}"]`).length, 'a steward sees what takes the room').toBe(1)
    expect(await app.prisma.outlet.count({ where: { coopId: app.coopId } })).toBe(0)
    expect(await app.prisma.submission.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('SEC-050 is refused calls alike', async () => {
    const answer = await app.call('POST', '/api/outlets', outlet)
    expect(answer.statusCode).toBe(507)
    expect(answer.json()).toEqual({
      error: {
        code: 'full',
        message: expect.stringContaining('of 1 MB, so nothing can be added'),
        requestId: expect.any(String),
      },
    })
    expect(await app.prisma.outlet.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('SEC-050 looks, takes data out, undoes and deletes, and changes a password', async () => {
    for (const path of ['/', '/shelf', '/lots', '/coop', '/api/lots']) {
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(200)
    }
    for (const [path, from] of [
      [everythingPath(), dataPath()],
      [ownEverythingPath(), ownDataPath()],
    ] as const) {
      expect((await app.postForm(path, {}, { from })).statusCode, path).toBe(200)
    }
    // what is not there is told as such: the request came as far as its feature
    for (const path of [
      '/api/shelf/entries/none/undo',
      '/api/shares/none/undo',
      '/api/lots/none/sortings/reversal',
      '/api/recalls/none/lift',
      '/api/slow-jobs/none/end/undo',
      '/api/plans/none/divisions/1/stop',
    ]) {
      expect((await app.call('POST', path, {})).statusCode, path).not.toBe(507)
    }
    expect((await app.call('DELETE', '/api/work-days/none')).statusCode).toBe(404)
    expect((await app.call('DELETE', '/api/people/none')).statusCode, 'leaving').toBe(404)
  })

  test('SEC-050 holds up no other co-op on the same service', async () => {
    await app.signInAs('hob')
    const answer = await app.call('POST', '/api/outlets', outlet)
    expect(answer.statusCode, answer.body).toBe(201)
    await app.signInAs('rosalind')
  })

  test('SEC-050 tells its steward what takes the room', async () => {
    const page = await app.getPage(dataPath())
    const room = page('section[aria-labelledby="room-title"]').text()
    expect(room).toContain('The room is full: nothing can be added.')
    expect(room).toMatch(/1\.\d of 1 MB are used, by \d+ rows\./)
    expect(page('section[aria-labelledby="room-title"] dt').first().text()).toBe('Everything else')
    const tables = await readSnapshot(app.app.longTransactions, readTables)
    const named = roomKinds.flatMap((kind) => kind.tables)
    expect(tables.map(({ name }) => name)).toEqual(expect.arrayContaining(named))
    expect(new Set(named).size, 'each is in one').toBe(named.length)
  })

  test('SEC-050 writes again when something was deleted, and a repeat is told what came of the first', async () => {
    const once = { 'idempotency-key': 'pigs-of-the-lane' }
    expect((await app.call('DELETE', '/api/work-days/full')).statusCode).toBe(204)
    await vi.waitFor(async () => expect((await app.call('POST', '/api/outlets', outlet, once)).statusCode).toBe(201), {
      timeout: 20_000,
      interval: 200,
    })
    await fill(app, app.coopId, 'full-again', 1_200_000, 2032)
    // so much may fill more than is left, so it is looked at anew
    const much = { ...typed, name: 'x'.repeat(4_000) }
    await vi.waitFor(
      async () => expect((await app.postForm('/outlets', much, { from: '/outlets/new' })).statusCode).toBe(507),
      { timeout: 20_000, interval: 200 },
    )
    const repeat = await app.call('POST', '/api/outlets', outlet, once)
    expect(repeat.statusCode, repeat.body).toBe(201)
    expect(repeat.json()).toMatchObject({ name: 'two pigs' })
    expect(await app.prisma.outlet.count({ where: { coopId: app.coopId } })).toBe(1)
  }, 60_000)
})

describe('SEC-050 filling the room', () => {
  test('SEC-050 ends near the limit, however it is filled', async () => {
    const app = await testApp({ environment: { MEGABYTES_PER_COOP: '5' } })
    await fill(app, app.coopId, 'most', 4_900_000, 2031)
    let taken = 0
    for (; taken < 1_000; taken++) {
      const { statusCode } = await app.call('POST', '/api/outlets', { ...outlet, name: `pigs ${taken}` })
      if (statusCode === 507) break
      expect(statusCode).toBe(201)
    }
    const { bytes } = await app.app.rooms.look(app.coopId)
    process.stdout.write(`refused after ${taken} calls, at ${Math.round(bytes / 1000)} KB of 5,000\n`)
    expect(taken).toBeGreaterThan(10)
    expect(bytes).toBeGreaterThanOrEqual(5_000_000)
    expect(bytes).toBeLessThan(5_500_000)
    await app.close()
  }, 120_000)

  test('SEC-050 through one process is refused by another on the same database', async () => {
    const fresh = await freshDatabase()
    const options = { database: fresh.database, environment: { MEGABYTES_PER_COOP: '1' } }
    const first = await testApp(options)
    await addNeighbours(first)
    const hob = { coopId: neighboursId, id: 'hob', householdId: 'their-household', name: 'Hob', role: 'steward' }
    await first.prisma.member.create({ data: hob })
    const both = [first, await testApp(options)]
    for (const app of both) await app.signInAs('hob')
    const answers = async () => {
      const told: number[] = []
      for (const app of both) told.push((await app.call('POST', '/api/outlets', outlet)).statusCode)
      return told
    }
    expect(await answers()).toEqual([201, 201])
    await fill(first, neighboursId, 'full', 1_200_000, 2031)
    await vi.waitFor(async () => expect(await answers()).toEqual([507, 507]), { timeout: 60_000, interval: 50 })
    for (const app of both) await app.close()
    await fresh.dispose()
  }, 90_000)

  test('SEC-050 refuses nobody where it cannot be measured, and the log says so', async () => {
    const fresh = await freshDatabase()
    const lines: string[] = []
    const app = await testApp({
      // what tables there are cannot be read
      database: {
        ...fresh.database,
        withMigrationConnection: () => Promise.reject(new Error('no connection is left')),
      },
      environment: { MEGABYTES_PER_COOP: '1' },
      logLine: (line) => void lines.push(line),
    })
    await addNeighbours(app)
    const hob = { coopId: neighboursId, id: 'hob', householdId: 'their-household', name: 'Hob', role: 'steward' }
    await app.prisma.member.create({ data: hob })
    await app.signInAs('hob')
    expect((await app.call('POST', '/api/outlets', outlet)).statusCode).toBe(201)
    expect(lines.filter((line) => line.includes('what a co-op takes was not measured'))).toHaveLength(1)
    await app.close()
    await fresh.dispose()
  })

  test('SEC-050 does not end where there is no limit', async () => {
    const app = await testApp({ environment: { MEGABYTES_PER_COOP: '0' } })
    await fill(app, app.coopId, 'much', 1_200_000, 2031)
    expect((await app.call('POST', '/api/outlets', outlet)).statusCode).toBe(201)
    const page = await app.getPage(dataPath())
    expect(page('section[aria-labelledby="room-title"]').text()).toContain('There is no limit.')
    await app.close()
  })
})

test('SEC-050 what works when full are routes that there are', async () => {
  const app = await testApp()
  const sent = app.app.knownRoutes.filter(({ method }) => method !== 'GET' && method !== 'HEAD')
  for (const word of worksWhenFull)
    expect(
      sent.some(({ url }) => url.endsWith(`/${word}`)),
      word,
    ).toBe(true)
  for (const address of addressesWhenFull)
    expect(
      sent.some(({ url }) => url === address),
      address,
    ).toBe(true)
  await app.close()
})

// counted at the server's own client, so that whatever a request asks of the database is seen
describeServer('SEC-050 the number of queries', () => {
  test('SEC-050 of what is written is the same with a limit as without, and with many rows as with few', async () => {
    const queries = async (limit: string) => {
      const app = await testApp({ environment: { MEGABYTES_PER_COOP: limit } })
      const count = async (name: string) => {
        const query = vi.spyOn(pg.Client.prototype, 'query')
        expect((await app.call('POST', '/api/outlets', { ...outlet, name })).statusCode).toBe(201)
        const asked = query.mock.calls.length
        query.mockRestore()
        return asked
      }
      const counted = { first: await count('first'), few: await count('few'), many: 0 }
      const { coopId } = app
      await app.prisma.change.createMany({
        data: Array.from({ length: 2_000 }, (_, n) => ({
          ...{ coopId, id: `c${n}`, at: new Date(), who: 'x', noun: 'lot', nounId: 'x', what: 'x' },
        })),
      })
      counted.many = await count('many')
      await app.close()
      return counted
    }
    const without = await queries('0')
    const limited = await queries('1000')
    expect(limited.few).toBe(without.few)
    expect(limited.many).toBe(without.many)
    // the first time also what tables there are
    expect(limited.first - without.first).toBeGreaterThan(0)
    expect(limited.first - without.first).toBeLessThan(20)
  }, 60_000)
})
