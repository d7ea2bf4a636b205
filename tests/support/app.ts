import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify'
import { expect } from 'vitest'
import { type Additions, buildApp } from '../../src/app.ts'
import { fixedClock } from '../../src/clock.ts'
import { randomId } from '../../src/ids.ts'
import { createAllocationJobs } from '../../src/jobs/allocation.ts'
import { readSettings } from '../../src/settings.ts'
import type { Dependencies, Jobs } from '../../src/web/dependencies.ts'
import { makeLog } from '../../src/web/log.ts'
import { beginSession, findSteward, hashOfSecret, randomSecret, sessionCookie } from '../../src/web/sessions/index.ts'
import { type FreshDatabase, freshDatabase } from './database.ts'
import { expectSoundPage, formFields, type Html, htmlOf } from './html.ts'

export type TestAppOptions = {
  /** ISO instant at which the clock stands; a Friday morning in September when not given. */
  now?: string
  /** Settings by name, as in the environment. */
  environment?: Record<string, string>
  /** false: no co-op in the database. */
  coop?: boolean
  /** Other jobs than the real ones, whose threads start with the first division. */
  jobs?: Jobs
  /** Routes and templates that only this test has. */
  more?: Additions
  /** Given each line of the log, which is silent otherwise. */
  logLine?: (line: string) => void
  /** Another database than a fresh one; who made it closes it. */
  database?: Dependencies['database']
}

export type Fields = Record<string, string | readonly string[]>
export type PostOptions = {
  /** The page that has the form, when it is not the address that the form is sent to. */
  from?: string
}

export type TestApp = {
  app: FastifyInstance
  prisma: Dependencies['database']['prisma']
  state: Dependencies['state']
  /** The co-op's id and the household's; the steward's name is Rosalind Pike. */
  coopId: string
  householdId: string
  /** Who asks from now on: a member's id, or null for nobody. At first the steward. */
  signInAs(memberId: string | null): Promise<void>
  /** A page that must be there (200) and sound. */
  getPage(path: string): Promise<Html>
  /** Sends the form that the page at `from` (or `path`) has for `path`, with these fields changed. Follows nothing. */
  postForm(path: string, fields: Fields, options?: PostOptions): Promise<LightMyRequestResponse>
  /** As postForm, for a form that must be refused (422) and show itself again. */
  postRefused(path: string, fields: Fields, options?: PostOptions): Promise<Html>
  /** As postForm, for a form that must be taken: the path that it led to. */
  postTaken(path: string, fields: Fields, options?: PostOptions): Promise<string>
  /** A call below /api with a JSON body. */
  call(
    method: 'GET' | 'POST' | 'PUT' | 'DELETE',
    path: string,
    body?: object,
    headers?: Record<string, string>,
  ): Promise<LightMyRequestResponse>
  close(): Promise<void>
}

/** The whole service on a database of its own, without listening. Close it in afterAll. */
export async function testApp(options: TestAppOptions = {}): Promise<TestApp> {
  const fresh: FreshDatabase | null = options.database === undefined ? await freshDatabase() : null
  const database = options.database ?? fresh?.database
  if (database === undefined) throw new Error('no database')
  const state: Dependencies['state'] = { phase: 'ready' }
  const { logLine } = options
  const log = logLine ? makeLog('trace', { write: logLine }) : makeLog('silent')
  const jobs = options.jobs ?? createAllocationJobs({ threads: 1, log })
  const app = await buildApp(
    {
      settings: readSettings({ REQUESTS_PER_MINUTE: '0', ...options.environment }),
      secret: 'a secret that only these tests know of, long enough',
      database,
      jobs,
      clock: fixedClock(options.now ?? '2026-09-11T09:00:00Z'),
      newId: randomId,
      log,
      state,
    },
    options.more ?? {},
  )
  const coopId = 'larkrise-lane'
  const householdId = 'pike'
  if (options.coop !== false && fresh !== null) await addCoop(database.prisma, coopId, householdId)

  const door = await openDoor(app, database.prisma)

  async function postForm(path: string, fields: Fields, { from = path }: PostOptions = {}) {
    const shown = await app.inject({ url: from })
    expect(shown.statusCode, `page with the form for ${path}`).toBe(200)
    const $ = htmlOf(shown.payload)
    const form = `form[method="post"][action="${path}"]`
    expect($(form).length, `forms for ${path} at ${from}`).toBeGreaterThan(0)
    return app.inject({
      method: 'POST',
      url: path,
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        cookie: cookiesOf(shown),
      },
      payload: encodeFields({ ...formFields($, form), ...fields }),
    })
  }

  return {
    app,
    prisma: database.prisma,
    state,
    coopId,
    householdId,
    signInAs: door.signInAs,
    async getPage(path) {
      const answer = await app.inject({ url: path, headers: { accept: 'text/html' } })
      expect(answer.statusCode, `${path}: ${htmlOf(answer.payload)('main').text().trim().slice(0, 200)}`).toBe(200)
      return expectSoundPage(answer.payload)
    },
    postForm,
    async postRefused(path, fields, more) {
      const answer = await postForm(path, fields, more)
      expect(answer.statusCode).toBe(422)
      return expectSoundPage(answer.payload)
    },
    async postTaken(path, fields, more) {
      const answer = await postForm(path, fields, more)
      expect(answer.statusCode, htmlOf(answer.payload)('main').text().trim().slice(0, 400)).toBe(303)
      return String(answer.headers.location)
    },
    call: (method, path, body, headers = {}) =>
      app.inject({ method, url: path, headers, ...(body === undefined ? {} : { payload: body }) }),
    async close() {
      await app.close()
      await jobs.close({ graceMs: 0 })
      await fresh?.dispose()
    },
  }
}

/**
 * Has every request that brings neither a session's cookie nor a token come from whoever is signed in: pages with the
 * cookie of a session, calls with a token that may write. At first that is the first steward, if there is one.
 */
async function openDoor(app: FastifyInstance, prisma: TestApp['prisma']) {
  let cookie: string | null = null
  let token: string | null = null

  async function signInAs(memberId: string | null): Promise<void> {
    cookie = null
    token = null
    if (memberId === null) return
    const { coopId } = await prisma.member.findFirstOrThrow({ where: { id: memberId } })
    const now = app.clock.now()
    const session = { id: app.newId(), token: randomSecret(), coopId, memberId, device: 'a test' }
    await beginSession(prisma, session, now)
    cookie = `${sessionCookie(app.settings)}=${session.token}`
    token = `glut_${randomSecret()}`
    const expiresAt = new Date(now.getTime() + 366 * 86_400_000)
    const what = { id: app.newId(), name: 'a test', scope: 'write', secretHash: hashOfSecret(token) }
    await prisma.apiToken.create({ data: { coopId, memberId, ...what, createdAt: now, lastUsedAt: now, expiresAt } })
  }

  const inject = app.inject.bind(app) as (options: InjectOptions | string) => Promise<LightMyRequestResponse>
  const injectAsked = async (given: InjectOptions | string) => {
    const options = typeof given === 'string' ? { url: given } : given
    const headers: Record<string, unknown> = { ...options.headers }
    if (typeof options.url === 'string' && options.url.startsWith('/api')) {
      if (token !== null && headers['authorization'] === undefined && headers['cookie'] === undefined)
        headers['authorization'] = `Bearer ${token}`
    } else if (cookie !== null && !String(headers['cookie'] ?? '').includes(sessionCookie(app.settings))) {
      headers['cookie'] = [headers['cookie'], cookie].filter((one) => one !== undefined && one !== '').join('; ')
    }
    return inject({ ...options, headers: headers as NonNullable<InjectOptions['headers']> })
  }
  Object.assign(app, { inject: injectAsked })

  const steward = await findSteward(prisma)
  if (steward !== null) await signInAs(steward.memberId)
  return { signInAs }
}

/** Form fields as a browser writes them; a list gives its name once for each entry. */
export function encodeFields(fields: Fields): string {
  const pairs = Object.entries(fields).flatMap(([name, value]) =>
    (typeof value === 'string' ? [value] : value).map((one): [string, string] => [name, one]),
  )
  return new URLSearchParams(pairs).toString()
}

/** The cookies that an answer set, as the next request sends them. */
export function cookiesOf(answer: LightMyRequestResponse): string {
  return answer.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ')
}

async function addCoop(prisma: TestApp['prisma'], coopId: string, householdId: string): Promise<void> {
  await prisma.coop.create({
    data: {
      id: coopId,
      name: 'Larkrise Lane Kitchen',
      town: 'Upper Ansley',
      altitudeM: 640,
      timeZone: 'Europe/London',
      locale: 'en-GB',
      units: 'metric',
      currency: 'GBP',
      households: { create: { id: householdId, name: 'Pike' } },
    },
  })
  await prisma.member.create({
    data: { coopId, id: 'rosalind', householdId, name: 'Rosalind Pike', role: 'steward' },
  })
}
