import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { jarEntryPath } from '../../src/features/shelf/paths.ts'
import { type TestApp, testApp } from '../support/app.ts'
import { addJars } from '../web/shelf/jars.ts'

// The machine's clock is set while the service runs, and a co-op moves to another zone. Nobody is signed out by that,
// nothing is refused, and the ledger keeps its order.
const start = new Date('2026-09-11T20:00:00Z')
let app: TestApp
beforeAll(async () => {
  app = await testApp({ now: start.toISOString() })
})
afterAll(() => app?.close())

test('a clock that goes back and forward an hour signs nobody out and leaves the ledger in order', async () => {
  const { jarBatchId } = await addJars(app, 10)
  const take = async () => {
    const path = `/api${jarEntryPath(jarBatchId, 'take')}`
    const body = { units: 1, householdId: app.householdId }
    const answer = await app.call('POST', path, body, { 'idempotency-key': randomUUID() })
    expect(answer.statusCode, answer.body).toBe(200)
    return answer.json().stock as number
  }
  const stocks: number[] = []
  for (const hours of [0, -1, 1, 0, -1]) {
    setClock(hours)
    stocks.push(await take())
    for (const path of ['/', '/lots', '/shelf', '/plans']) await app.getPage(path)
  }
  expect(stocks).toEqual([9, 8, 7, 6, 5])
  const entries = await app.prisma.shelfEntry.findMany({
    where: { coopId: app.coopId, jarBatchId, kind: 'take' },
    orderBy: { order: 'asc' },
  })
  expect(entries.map(({ stockAfter }) => stockAfter)).toEqual([9, 8, 7, 6, 5])
  expect(entries.map(({ at }) => (at.getTime() - start.getTime()) / 3_600_000)).toEqual([0, -1, 1, 0, -1])
  setClock(0)
}, 120_000)

test('a co-op that moves to another zone has the day of its new place from then on', async () => {
  expect(await arrivalToday()).toBe('2026-09-11')
  await app.prisma.coop.update({ where: { id: app.coopId }, data: { timeZone: 'Pacific/Auckland' } })
  // UTC+12 in September: daylight saving begins there on the last Sunday of the month (tz database, from memory)
  expect(await arrivalToday()).toBe('2026-09-12')
  for (const path of ['/', '/lots', '/plans', '/work-days']) await app.getPage(path)
}, 120_000)

function setClock(hours: number): void {
  Object.assign(app.app.clock, { now: () => new Date(start.getTime() + hours * 3_600_000) })
}

async function arrivalToday(): Promise<string> {
  const lot = { crop: 'damson', weight: '3 lb', source: 'gleaned', storage: 'cool', class: 'ripe' }
  const answer = await app.call('POST', '/api/lots', { ...lot, broughtBy: 'Wren Tolley' })
  expect(answer.statusCode, answer.body).toBe(201)
  const { id } = answer.json()
  const { arrivedOn } = await app.prisma.lot.findFirstOrThrow({ where: { coopId: app.coopId, id } })
  return arrivedOn.toISOString().slice(0, 10)
}
