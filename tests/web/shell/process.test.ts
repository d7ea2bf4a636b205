import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, it } from 'vitest'
import { freshPlace } from '../../support/database.ts'
import { htmlOf, textAt } from '../../support/html.ts'

const root = fileURLToPath(new URL('../../../', import.meta.url))
const clean: (() => Promise<void>)[] = []
afterEach(async () => {
  for (const one of clean.splice(0).reverse()) await one()
})

describe('the process', () => {
  it('starts with nothing, prints its address, serves, and stops well on SIGTERM', async () => {
    const started = await start(await emptyPlace())
    const address = await started.address
    await untilReady(address)
    const page = await fetch(`${address}coop`)
    expect(page.status).toBe(200)
    expect(textAt(htmlOf(await page.text()), '.masthead')).toBe('Larkrise Lane Kitchen')

    const before = Date.now()
    started.child.kill('SIGTERM')
    expect(await started.exit).toBe(0)
    expect(Date.now() - before).toBeLessThan(10_000)
    await expect(fetch(`${address}live`)).rejects.toThrow()
    for (const line of started.out().trim().split('\n')) expect(JSON.parse(line).time).toMatch(/Z$/)
  })

  it('starts again on the same data without loading the demonstration twice', async () => {
    const place = await emptyPlace()
    for (const time of [1, 2]) {
      const started = await start(place)
      await untilReady(await started.address)
      expect(started.out().includes('the demonstration kitchen was loaded')).toBe(time === 1)
      started.child.kill('SIGINT')
      expect(await started.exit).toBe(0)
    }
    // two starts, the first of which works a plan out
  }, 60_000)

  it('refuses settings that it cannot use, naming them and no value', async () => {
    const started = await start({ PORT: 'canary', DATA_DIR: '/nowhere' })
    expect(await started.exit).toBe(2)
    expect(started.err()).toContain('PORT: give a whole number')
    expect(started.err()).not.toContain('canary')
  })
})

/** On the first start the demonstration's plan is worked out before the service is ready; its pages answer meanwhile. */
async function untilReady(address: string): Promise<void> {
  expect((await fetch(`${address}live`)).status).toBe(200)
  await expect.poll(async () => (await fetch(`${address}ready`)).status, { timeout: 25_000, interval: 200 }).toBe(200)
}

/** The environment for a database of its own, without any table. */
async function emptyPlace(): Promise<Record<string, string>> {
  const dataDir = await mkdtemp(join(tmpdir(), 'process-'))
  clean.push(() => rm(dataDir, { recursive: true, force: true }))
  const place = await freshPlace({ migrated: false })
  clean.push(place.remove)
  const { url } = place.options
  return { DATA_DIR: dataDir, PORT: '0', SOLVE_SECONDS: '1', ...(url === undefined ? {} : { DATABASE_URL: url }) }
}

async function start(environment: Record<string, string>) {
  const child: ChildProcess = spawn(process.execPath, ['--import', 'tsx', 'src/main.ts'], {
    cwd: root,
    env: { PATH: process.env['PATH'], ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  clean.push(async () => {
    if (child.exitCode === null && child.signalCode === null) child.kill('SIGKILL')
  })
  let out = ''
  let err = ''
  const exit = new Promise<number | null>((resolve) => child.on('exit', resolve))
  const address = new Promise<string>((resolve, reject) => {
    child.stdout?.on('data', (chunk) => {
      out += chunk
    })
    child.stderr?.on('data', (chunk) => {
      err += chunk
      const found = /http:\/\/\S+/.exec(err)
      if (found) resolve(found[0])
    })
    child.on('exit', () => reject(new Error(`it ended before it listened: ${err}`)))
  })
  // who only waits for the exit does not look at it
  address.catch(() => {})
  return { child, address, exit, out: () => out, err: () => err }
}
