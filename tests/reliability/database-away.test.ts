import { afterAll, beforeAll, expect, test } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.ts'
import { freshPlace } from '../support/database.ts'
import { htmlOf, textAt } from '../support/html.ts'
import { type RunningService, startService } from '../support/service.ts'
import { enterDemonstration, type Visitor } from '../support/visitor.ts'
import { startWire, type Wire } from '../support/wire.ts'

// The running service while its PostgreSQL goes away and comes back. It must tell people so, lose nothing that it
// acknowledged, and be itself again within five seconds.
const backWithinMs = 5_000

let remove: () => Promise<void>
let beside: Database
let wire: Wire
let service: RunningService
let visitor: Visitor
const acknowledged: string[] = []

beforeAll(async () => {
  const place = await freshPlace()
  remove = place.remove
  beside = await openDatabase(place.options)
  wire = await startWire(place.options.url ?? '')
  service = await startService({ DATABASE_URL: wire.url, SOLVE_SECONDS: '1', LOG_LEVEL: 'error' })
  visitor = await enterDemonstration(service.address)
}, 300_000)

afterAll(async () => {
  await service?.stop()
  await wire?.close()
  await beside?.close()
  await remove?.()
}, 60_000)

test('connections that the server ends are replaced: the next requests are answered', async () => {
  await addLot()
  const ended = await beside.prisma.$queryRaw<{ ended: boolean }[]>`
    SELECT pg_terminate_backend(pid) AS ended FROM pg_stat_activity
    WHERE datname = current_database() AND pid <> pg_backend_pid() AND application_name = 'glutworks'
      AND pid NOT IN (SELECT pid FROM pg_stat_activity WHERE query LIKE '%pg_terminate_backend%')`
  expect(ended.length).toBeGreaterThan(0)
  const began = performance.now()
  await expect.poll(async () => (await visitor.get('/lots')).status, { timeout: backWithinMs, interval: 50 }).toBe(200)
  process.stdout.write(
    `${ended.length} connections ended, answered after ${Math.round(performance.now() - began)} ms\n`,
  )
  await addLot()
}, 60_000)

test('while the server is away people are told so; afterwards nothing is lost and what was begun is worked out', async () => {
  const { plans } = (await (await visitor.get('/api/plans')).json()) as { plans: { id: string }[] }
  const plan = `/api/plans/${plans[0]?.id}`
  const asked = await visitor.call('POST', `${plan}/divisions`, {})
  expect(asked.status).toBe(202)
  const { number } = (await asked.json()) as { number: number }
  await addLot()

  await wire.cut()
  const page = await visitor.get('/lots', { accept: 'text/html' })
  expect(page.status).toBe(503)
  expect(page.headers.get('retry-after')).toMatch(/^\d+$/)
  expect(textAt(htmlOf(await page.text()), 'main')).toContain('Try again in a few seconds')
  const call = await visitor.call('POST', '/api/lots', lot)
  expect(call.status).toBe(503)
  expect(((await call.json()) as { error: { code: string } }).error.code).toBe('unreachable')
  const ready = await fetch(`${service.address}/ready`)
  expect([ready.status, await ready.json()]).toEqual([503, { ready: false, because: 'database' }])
  expect((await fetch(`${service.address}/live`)).status).toBe(200)
  // long enough for the answer of the division to find nobody to save it
  await new Promise((resolve) => setTimeout(resolve, 6_000))

  await wire.mend()
  const began = performance.now()
  const status = async () => (await visitor.get('/lots')).status
  await expect.poll(status, { timeout: backWithinMs, interval: 50 }).toBe(200)
  process.stdout.write(`back ${Math.round(performance.now() - began)} ms after the server was\n`)
  expect((await fetch(`${service.address}/ready`)).status).toBe(200)
  await addLot()
  for (const id of acknowledged) expect((await visitor.get(`/api/lots/${id}`)).status, id).toBe(200)
  const state = async () =>
    ((await (await visitor.get(`${plan}/divisions/${number}`)).json()) as { state: string }).state
  await expect.poll(state, { timeout: 90_000, interval: 500 }).toBe('done')
}, 240_000)

const lot = {
  crop: 'damson',
  weight: '3 lb',
  source: 'gleaned',
  broughtBy: 'Wren Tolley',
  storage: 'cool',
  class: 'ripe',
}

async function addLot(): Promise<void> {
  const answer = await visitor.call('POST', '/api/lots', lot)
  expect(answer.status).toBe(201)
  acknowledged.push(((await answer.json()) as { id: string }).id)
}
