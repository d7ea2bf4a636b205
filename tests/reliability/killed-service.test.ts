import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'

// The whole program, killed under load, seen from outside: what a client was told is saved is there afterwards. The
// database alone is killed more often in kill.test.ts.
const rounds = 6
const clients = 4

test(`a service killed ${rounds} times loses no lot that it acknowledged, and works out what it had begun`, async () => {
  const dataDir = mkdtempSync(join(tmpdir(), 'glutworks-killed-'))
  onTestFinished(() => rmSync(dataDir, { recursive: true, force: true }))
  const settings = { DATA_DIR: dataDir, SOLVE_SECONDS: '2', LOG_LEVEL: 'error' }
  const acknowledged = new Set<string>()

  for (let round = 1; round <= rounds; round++) {
    const service = await startService(settings)
    const missing = await lost(service, acknowledged)
    expect(missing, `lost before round ${round}`).toEqual([])
    const before = acknowledged.size
    const writing = Array.from({ length: clients }, () => writeLots(service, acknowledged))
    // From the first lots on to well into the next second: the moment is another one in each round.
    await new Promise((resolve) => setTimeout(resolve, 300 + 170 * round))
    if (round === rounds) await beginDivision(service)
    await service.kill()
    await Promise.all(writing)
    expect(acknowledged.size, `round ${round}: it was killed at work`).toBeGreaterThan(before)
  }

  const service = await startService(settings)
  onTestFinished(() => service.stop())
  expect(await lost(service, acknowledged)).toEqual([])
  process.stdout.write(`${rounds} kills of the service, ${acknowledged.size} lots acknowledged, none lost.\n`)
  await expect.poll(() => newestState(service), { timeout: 60_000, interval: 500 }).toBe('done')
}, 300_000)

/** Adds lots until the service is gone. */
async function writeLots(service: RunningService, acknowledged: Set<string>): Promise<void> {
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
      const answer = await send(service, '/api/lots', lot)
      expect(answer.status).toBe(201)
      acknowledged.add(((await answer.json()) as { id: string }).id)
    } catch (error) {
      // The connection broke: the service was killed. Whether that lot was saved is nobody's promise.
      if (error instanceof TypeError) return
      throw error
    }
  }
}

async function lost(service: RunningService, acknowledged: Set<string>): Promise<string[]> {
  const missing: string[] = []
  for (const id of acknowledged) {
    const answer = await fetch(`${service.address}/api/lots/${id}`)
    if (answer.status !== 200) missing.push(id)
    await answer.arrayBuffer()
  }
  return missing
}

async function beginDivision(service: RunningService): Promise<void> {
  const answer = await send(service, `/api/plans/${await planId(service)}/divisions`, {})
  expect(answer.status).toBe(202)
}

async function newestState(service: RunningService): Promise<string> {
  const answer = await fetch(`${service.address}/api/plans/${await planId(service)}/divisions/2`)
  return ((await answer.json()) as { state: string }).state
}

async function planId(service: RunningService): Promise<string> {
  const { plans } = (await (await fetch(`${service.address}/api/plans`)).json()) as { plans: { id: string }[] }
  return plans[0]?.id ?? expect.fail('the demonstration has a plan')
}

function send(service: RunningService, path: string, body: object): Promise<Response> {
  return fetch(service.address + path, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
}
