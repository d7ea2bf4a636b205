import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { freshPlace } from '../support/database.ts'
import { startService } from '../support/service.ts'
import { enterDemonstration, type Visitor } from '../support/visitor.ts'

// The whole program, killed under load, seen from outside: what a client was told is saved is there afterwards. The
// database alone is killed more often in kill.test.ts.
const rounds = 6
const clients = 4

test(`a service killed ${rounds} times loses no lot that it acknowledged, and works out what it had begun`, async () => {
  const dataDir = mkdtempSync(join(tmpdir(), 'glutworks-killed-'))
  onTestFinished(() => rmSync(dataDir, { recursive: true, force: true }))
  const { options, remove } = await freshPlace()
  onTestFinished(remove)
  const settings = {
    ...{ DATA_DIR: options.dataDir ?? dataDir, SOLVE_SECONDS: '2', LOG_LEVEL: 'error' },
    ...(options.url === undefined ? {} : { DATABASE_URL: options.url }),
  }
  const acknowledged = new Set<string>()

  for (let round = 1; round <= rounds; round++) {
    const service = await startService(settings)
    const visitor = await enterDemonstration(service.address)
    const missing = await lost(visitor, acknowledged)
    expect(missing, `lost before round ${round}`).toEqual([])
    const before = acknowledged.size
    const writing = Array.from({ length: clients }, () => writeLots(visitor, acknowledged))
    await expect.poll(() => acknowledged.size, { timeout: 60_000, interval: 5 }).toBeGreaterThan(before)
    // From the first lots on to well into the next second: the moment is another one in each round.
    await new Promise((resolve) => setTimeout(resolve, 300 + 170 * round))
    if (round === rounds) await beginDivision(visitor)
    await service.kill()
    await Promise.all(writing)
    expect(acknowledged.size, `round ${round}: it was killed at work`).toBeGreaterThan(before)
  }

  const service = await startService(settings)
  onTestFinished(() => service.stop())
  const visitor = await enterDemonstration(service.address)
  expect(await lost(visitor, acknowledged)).toEqual([])
  process.stdout.write(`${rounds} kills of the service, ${acknowledged.size} lots acknowledged, none lost.\n`)
  await expect.poll(() => newestState(visitor), { timeout: 120_000, interval: 500 }).toBe('done')
}, 600_000)

/** Adds lots until the service is gone. */
async function writeLots(visitor: Visitor, acknowledged: Set<string>): Promise<void> {
  const lot = {
    crop: 'damson',
    weight: '3 lb',
    source: 'gleaned',
    broughtBy: 'Wren Tolley',
    storage: 'cool',
    class: 'ripe',
  }
  for (;;) {
    try {
      const answer = await visitor.call('POST', '/api/lots', lot)
      expect(answer.status).toBe(201)
      acknowledged.add(((await answer.json()) as { id: string }).id)
    } catch (error) {
      // The connection broke: the service was killed. Whether that lot was saved is nobody's promise.
      if (error instanceof TypeError) return
      throw error
    }
  }
}

async function lost(visitor: Visitor, acknowledged: Set<string>): Promise<string[]> {
  const missing: string[] = []
  for (const id of acknowledged) {
    const answer = await visitor.get(`/api/lots/${id}`)
    if (answer.status !== 200) missing.push(id)
    await answer.arrayBuffer()
  }
  return missing
}

async function beginDivision(visitor: Visitor): Promise<void> {
  const answer = await visitor.call('POST', `/api/plans/${await planId(visitor)}/divisions`, {})
  expect(answer.status).toBe(202)
}

async function newestState(visitor: Visitor): Promise<string> {
  const answer = await visitor.get(`/api/plans/${await planId(visitor)}/divisions/2`)
  return ((await answer.json()) as { state: string }).state
}

async function planId(visitor: Visitor): Promise<string> {
  const { plans } = (await (await visitor.get('/api/plans')).json()) as { plans: { id: string }[] }
  return plans[0]?.id ?? expect.fail('the demonstration has a plan')
}
