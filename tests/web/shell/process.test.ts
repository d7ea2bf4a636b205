import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, it } from 'vitest'
import { openDatabase } from '../../../src/db/client.ts'
import { encodeFields } from '../../support/app.ts'
import { freshPlace } from '../../support/database.ts'
import { formFields, htmlOf, textAt, textsAt } from '../../support/html.ts'

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
    const door = await fetch(`${address}coop`)
    expect(door.url).toBe(`${address}sign-in?next=%2Fcoop`)
    const $ = htmlOf(await door.text())
    expect(textsAt($, '.entrances button')[0]).toBe('Enter as Mara Fenwick, steward')
    const entered = await fetch(`${address}demonstration`, {
      method: 'POST',
      redirect: 'manual',
      headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: cookiesOf(door) },
      body: encodeFields({
        ...formFields($, '[action="/demonstration"]'),
        member: $('.entrances button').attr('value') ?? '',
      }),
    })
    expect(entered.headers.get('location')).toBe('/coop')
    const page = await fetch(`${address}coop`, { headers: { cookie: cookiesOf(entered) } })
    expect(page.status).toBe(200)
    expect(textAt(htmlOf(await page.text()), '.masthead > a:first-child')).toBe('Larkrise Lane Kitchen')

    const before = Date.now()
    started.child.kill('SIGTERM')
    expect(await started.exit).toBe(0)
    expect(Date.now() - before).toBeLessThan(10_000)
    await expect(fetch(`${address}live`)).rejects.toThrow()
    for (const line of started.out().trim().split('\n')) expect(JSON.parse(line).time).toMatch(/Z$/)
  }, 120_000)

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
  }, 180_000)

  it('SEC-005 starts empty with DEMO=no, prints a code once, and lets a co-op be set up by it', async () => {
    const place = { ...(await emptyPlace()), DEMO: 'no' }
    const started = await start(place)
    const address = await started.address
    await untilReady(address)
    await expect.poll(started.err).toMatch(/with this code/)
    const told = /There is no co-op of your own yet\. Set one up at (\S+) with this code, which works once: (\S+)/.exec(
      started.err(),
    )
    const [, where = '', code = ''] = told ?? []
    expect(where).toBe(`${address}set-up`)
    expect(code).toMatch(/^(\w{4}-){4}\w{4}$/)
    await expect.poll(started.out).toContain(code)

    const shown = await fetch(`${address}lots`)
    expect(shown.url).toBe(where)
    const $ = htmlOf(await shown.text())
    const founded = await fetch(where, {
      method: 'POST',
      redirect: 'manual',
      headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: cookiesOf(shown) },
      body: encodeFields({
        ...formFields($, '[action="/set-up"]'),
        ...{ setUpCode: code, name: 'Plum Row', town: 'Nether Ansley', altitudeM: '120 m', currency: 'GBP' },
        ...{ timeZone: 'Europe/London', household: 'Lind', steward: 'Bea Lind', signInName: 'bea' },
        newPassword: `four plain words ${code}`,
      }),
    })
    expect(founded.status).toBe(303)
    const page = await fetch(address, { headers: { cookie: cookiesOf(founded) } })
    expect(textAt(htmlOf(await page.text()), '.masthead > a:first-child')).toBe('Plum Row')
    expect((await fetch(where)).status).toBe(404)
    started.child.kill('SIGTERM')
    expect(await started.exit).toBe(0)

    const again = await start(place)
    await untilReady(await again.address)
    expect((await fetch(`${await again.address}set-up`)).status).toBe(404)
    expect(again.err()).not.toContain('code')
    again.child.kill('SIGTERM')
    expect(await again.exit).toBe(0)
  }, 120_000)

  it.each([
    ['its folder is made', (started) => existsSync(`${started.dataDir}/secret`)],
    ['the database is up to date', (started) => started.out().includes('the database is up to date')],
    ['the demonstration was loaded', (started) => started.out().includes('the demonstration kitchen was loaded')],
    ['it listens, and its first plan is worked out', (started) => started.err().includes('Glutworks is at')],
  ] satisfies [when: string, is: (started: Started) => boolean][])(
    'REL-023 stops well on SIGTERM before it is ready: once %s',
    async (_when, is) => {
      const place = { ...(await emptyPlace()), SOLVE_SECONDS: '20' }
      const started = await start(place)
      await expect.poll(() => is(started), { timeout: 60_000, interval: 2 }).toBe(true)
      const before = Date.now()
      started.child.kill('SIGTERM')
      expect(await started.exit, started.err()).toBe(0)
      expect(Date.now() - before).toBeLessThan(10_000)
      expect(started.out()).not.toMatch(/"level":[56]0/)
      expect(started.err().replace(/^Glutworks is at .*\n/, '')).toBe('')

      const again = await start({ ...place, SOLVE_SECONDS: '1' })
      await untilReady(await again.address)
      again.child.kill('SIGTERM')
      expect(await again.exit).toBe(0)
    },
    180_000,
  )

  it.each(['rejected', 'thrown'])(
    'REL-028 writes down a failure that nobody took care of (%s), and ends in order',
    async (FAILURE) => {
      const place = { ...(await emptyPlace()), DEMO: 'no' }
      const started = await start({ ...place, FAILURE }, ['./tests/web/shell/fail-when-asked.ts'])
      await untilReady(await started.address)
      const { DATA_DIR: dataDir, DATABASE_URL: url } = place
      if (url === undefined) expect(await wasShutDown(dataDir)).toBe(false)
      started.child.kill('SIGUSR2')
      expect(await started.exit).toBe(1)
      const lines = started
        .out()
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line))
      expect(lines.filter(({ level }) => level >= 50)).toEqual([
        expect.objectContaining({
          level: 60,
          what: 'a failure that nobody took care of: stopping',
          error: expect.objectContaining({ kind: 'Error', message: `${FAILURE}, and nobody took care of it` }),
        }),
      ])
      await expect(fetch(`${await started.address}live`)).rejects.toThrow()

      // nothing is left over that a next start would have to mend or wait for
      if (url === undefined) expect(await wasShutDown(dataDir)).toBe(true)
      const database = await openDatabase({ url, dataDir })
      expect(await database.prisma.setUpCode.count()).toBe(1)
      await database.close()
    },
    120_000,
  )

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
  await expect.poll(async () => (await fetch(`${address}ready`)).status, { timeout: 60_000, interval: 200 }).toBe(200)
}

/** The cookies that an answer set, as the next request sends them. */
function cookiesOf(answer: Response): string {
  return answer.headers
    .getSetCookie()
    .map((one) => one.split(';')[0])
    .join('; ')
}

/** What an embedded database says of itself: that it was closed, and does not have to recover. */
async function wasShutDown(dataDir: string): Promise<boolean> {
  // pg_control: the system's id (8 bytes), two versions (4 each), then the state, in which 1 is "shut down"
  const control = await readFile(join(dataDir, 'database', 'global', 'pg_control'))
  return control.readUInt32LE(16) === 1
}

/** The environment for a database of its own, without any table. */
async function emptyPlace(): Promise<{ DATA_DIR: string; DATABASE_URL?: string; [name: string]: string }> {
  const dataDir = await mkdtemp(join(tmpdir(), 'process-'))
  clean.push(() => rm(dataDir, { recursive: true, force: true }))
  const place = await freshPlace({ migrated: false })
  clean.push(place.remove)
  const { url } = place.options
  return { DATA_DIR: dataDir, PORT: '0', SOLVE_SECONDS: '1', ...(url === undefined ? {} : { DATABASE_URL: url }) }
}

type Started = Awaited<ReturnType<typeof start>>

/** @param more modules that the process takes in beside its own */
async function start(environment: Record<string, string>, more: readonly string[] = []) {
  const imports = ['tsx', ...more].flatMap((module) => ['--import', module])
  const child: ChildProcess = spawn(process.execPath, [...imports, 'src/main.ts'], {
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
  return { child, address, exit, dataDir: environment['DATA_DIR'], out: () => out, err: () => err }
}
