import { afterEach, describe, expect, test } from 'vitest'
import { localCounter, rateKey, storedCounter } from '../../../src/web/rates.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { type FreshDatabase, freshDatabase } from '../../support/database.ts'
import { htmlOf, textAt } from '../../support/html.ts'

// SEC: who asks too often waits, whichever process is asked.
const open: TestApp[] = []
let fresh: FreshDatabase | null = null
afterEach(async () => {
  for (const app of open.splice(0)) await app.close()
  await fresh?.dispose()
  fresh = null
})

async function started(environment: Record<string, string>, database?: FreshDatabase['database']): Promise<TestApp> {
  const app = await testApp({ environment, ...(database === undefined ? {} : { database }) })
  open.push(app)
  return app
}

const get = (app: TestApp, url: string, remoteAddress: string, headers: Record<string, string> = {}) =>
  app.app.inject({ url, remoteAddress, headers: { accept: 'text/html', ...headers } })

describe('requests in a minute', () => {
  test('are limited for an address, signed in or not, with when to come again and in words', async () => {
    const app = await started({ REQUESTS_PER_MINUTE: '5' })
    await app.signInAs(null)
    for (let n = 0; n < 5; n++) expect((await get(app, '/sign-in', '192.0.2.1')).statusCode).not.toBe(429)
    const answer = await get(app, '/sign-in', '192.0.2.1')
    expect(answer.statusCode).toBe(429)
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0)
    expect(Number(answer.headers['retry-after'])).toBeLessThanOrEqual(60)
    expect(textAt(htmlOf(answer.payload), 'main')).toContain('asked too often')
    expect((await get(app, '/sign-in', '192.0.2.2')).statusCode).not.toBe(429)
    // whoever watches over the service is not counted
    for (let n = 0; n < 10; n++) expect((await get(app, '/ready', '192.0.2.1')).statusCode).toBe(200)
  })

  test('are limited for a member from wherever they ask, and not for another member', async () => {
    const app = await started({ REQUESTS_PER_MINUTE: '5' })
    for (let n = 0; n < 5; n++) expect((await get(app, '/lots', `192.0.2.${n}`)).statusCode).toBe(200)
    const answer = await get(app, '/lots', '192.0.2.99')
    expect(answer.statusCode).toBe(429)
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0)
    const { householdId, coopId } = app
    await app.prisma.member.create({ data: { coopId, householdId, id: 'other', name: 'Odile Reed', role: 'member' } })
    await app.signInAs('other')
    expect((await get(app, '/lots', '192.0.2.98')).statusCode).toBe(200)
  })

  test('are fewer for what costs much', async () => {
    const app = await started({ REQUESTS_PER_MINUTE: '20' })
    for (let n = 0; n < 2; n++) expect((await get(app, '/files/lots.csv', '192.0.2.1')).statusCode).toBe(200)
    expect((await get(app, '/files/lots.csv', '192.0.2.2')).statusCode).toBe(429)
    expect((await get(app, '/lots', '192.0.2.2')).statusCode).toBe(200)
  })

  test('count once for each form that is sent, and what is refused for it changes nothing', async () => {
    const app = await started({ REQUESTS_PER_MINUTE: '3' })
    const body = {
      crop: 'damson',
      weight: '3 lb',
      source: 'gleaned',
      broughtBy: 'Pike',
      storage: 'cool',
      class: 'ripe',
    }
    const answers = []
    for (let n = 0; n < 5; n++) answers.push(await app.call('POST', '/api/lots', body))
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([201, 201, 201, 429, 429])
    expect(answers[4]?.json().error.code).toBe('too-many')
    expect(await app.prisma.lot.count()).toBe(3)
  })

  test('on a server are counted across processes; on the embedded database there is one process', async () => {
    fresh = await freshDatabase()
    const first = await started({ REQUESTS_PER_MINUTE: '6' }, fresh.database)
    const second = await started({ REQUESTS_PER_MINUTE: '6' }, fresh.database)
    const told: number[] = []
    for (let n = 0; n < 10; n++) {
      told.push((await get(n % 2 === 0 ? first : second, '/openapi.json', '192.0.2.7')).statusCode)
    }
    const refused = told.filter((status) => status === 429).length
    expect(refused).toBe(fresh.database.kind === 'server' ? 4 : 0)
  })
})

describe('a counter', () => {
  test('begins a new window when the last one has ended, and forgets it', async () => {
    let now = 1000
    const counter = localCounter(() => now)
    expect(await counter.count(['a', 'b', 'a'], 100)).toEqual([
      { current: 1, ttl: 100 },
      { current: 1, ttl: 100 },
      { current: 2, ttl: 100 },
    ])
    now = 1100
    expect(await counter.count(['a'], 100)).toEqual([{ current: 1, ttl: 100 }])
    await counter.sweep()
    expect((await counter.count(['a'], 100))[0]?.current).toBe(2)
  })

  test('in the database counts every one of many at the same moment, and is swept', async () => {
    fresh = await freshDatabase()
    const { prisma } = fresh.database
    const counter = storedCounter(prisma)
    const keys = [rateKey('member', 'x'), rateKey('heavy', 'x')]
    const counted = await Promise.all(
      Array.from({ length: 30 }, (_, n) => counter.count(n % 2 ? keys : [...keys].reverse(), 60_000)),
    )
    const firsts = counted.map((both, n) => (n % 2 ? both[0] : both[1])?.current ?? 0)
    expect(firsts.sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, n) => n + 1))
    const begun = performance.now()
    await counter.count(['short'], 50)
    await new Promise((resolve) => setTimeout(resolve, 80))
    expect((await counter.count(['short'], 50))[0]?.current, `${performance.now() - begun} ms later`).toBe(1)
    await new Promise((resolve) => setTimeout(resolve, 80))
    await counter.sweep()
    expect(await prisma.rateWindow.count()).toBe(2)
    expect(
      await prisma.$queryRaw`SELECT relpersistence::text AS kind FROM pg_class WHERE relname = 'RateWindow'`,
    ).toEqual([{ kind: 'u' }])
  })
})
