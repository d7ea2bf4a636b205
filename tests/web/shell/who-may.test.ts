import type { LightMyRequestResponse } from 'fastify'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { batchCode } from '../../../src/core/labels/index.ts'
import { type KnownRoute, routeFor } from '../../../src/web/known-routes.ts'
import { type Role, roles } from '../../../src/web/roles.ts'
import { beginSession, hashOfSecret, randomSecret, sessionCookie } from '../../../src/web/sessions/index.ts'
import { cookiesOf } from '../../support/app.ts'
import { htmlOf } from '../../support/html.ts'
import { type Everything, everything } from './everything.ts'

// Every route of the service, asked for by every role of the co-op it belongs to and of another one, by nobody, and by
// a token that may only read. The list is the router's own: a route that is added is asked for, too.

/** In the order in which they are tried: what is looked at is removed afterwards. */
const methods = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE']

/** Whoever asks: how requests are marked as theirs, and what they are. */
type Asker = { name: string; role: Role; own: boolean; cookie: string; token: string | null }

const neighbours = 'tanner-row'
let whole: Everything
let routes: KnownRoute[]
let askers: Asker[]
let reader: string

beforeAll(async () => {
  whole = await everything()
  const { app, prisma } = whole.app
  // routes made for assets and by HEAD are what their GET is
  routes = app.knownRoutes
    .filter(({ method, url }) => method !== 'HEAD' && !url.startsWith('/assets/'))
    .sort((a, b) => methods.indexOf(a.method) - methods.indexOf(b.method))
  const own = (await prisma.coop.findFirstOrThrow()).id
  // in a demonstration nobody has an account of their own
  await prisma.coop.updateMany({ data: { demonstration: false } })
  await prisma.coop.create({
    data: {
      id: neighbours,
      name: 'Tanner Row Larder',
      town: 'Nether Ansley',
      altitudeM: 210,
      timeZone: 'Europe/London',
      locale: 'en-GB',
      units: 'metric',
      currency: 'GBP',
      createdAt: new Date('2099-01-01T00:00:00Z'),
      households: { create: { id: 'their-household', name: 'Strange' } },
    },
  })
  const askerOf = async (coopId: string, role: Role): Promise<Asker> => {
    const now = app.clock.now()
    let memberId: string | null = null
    if (role !== 'screen') {
      const household = await prisma.household.findFirstOrThrow({ where: { coopId } })
      const data = { coopId, id: app.newId(), householdId: household.id, name: `the ${role}`, role }
      memberId = (await prisma.member.create({ data })).id
      const account = { coopId, memberId, signInName: memberId, handle: memberId, createdAt: now }
      await prisma.account.create({ data: account })
    }
    const session = { id: app.newId(), token: randomSecret(), coopId, memberId, device: 'a test' }
    await beginSession(prisma, session, now)
    const token = memberId === null ? null : await tokenOf(coopId, memberId, 'write')
    if (role === 'steward' && coopId === own && memberId !== null) reader = await tokenOf(coopId, memberId, 'read')
    const cookie = `${sessionCookie(app.settings)}=${session.token}`
    return { name: `${role} of ${coopId === own ? 'this co-op' : 'another'}`, role, own: coopId === own, cookie, token }
  }
  askers = []
  for (const coopId of [own, neighbours]) for (const role of roles) askers.push(await askerOf(coopId, role))
}, 120_000)
afterAll(() => whole?.app.close())

async function tokenOf(coopId: string, memberId: string, scope: string): Promise<string> {
  const { app, prisma } = whole.app
  const token = `glut_${randomSecret()}`
  const createdAt = app.clock.now()
  const expiresAt = new Date(createdAt.getTime() + 86_400_000)
  const data = { coopId, id: app.newId(), memberId, name: scope, scope, secretHash: hashOfSecret(token) }
  await prisma.apiToken.create({ data: { ...data, createdAt, expiresAt } })
  return token
}

test('SEC-030 every route says who may', () => {
  expect(routes.length).toBeGreaterThan(300)
  expect(routes.filter(({ roles: allowed }) => allowed.length === 0)).toEqual([])
  // what anybody may: the list is short, and each entry was thought about
  const open = routes.filter(({ roles: allowed }) => allowed === 'anyone').map(({ method, url }) => `${method} ${url}`)
  expect(open.sort()).toEqual(openRoutes)
})

test('SEC-030, SEC-031 every role gets at its own what it may, and at another co-op’s nothing', async () => {
  const faults: string[] = []
  let checks = 0
  const forms = new Map<Asker, Form | null>()
  for (const asker of askers) forms.set(asker, await formOf(asker))
  for (const route of routes) {
    if (route.roles === 'anyone') continue
    const address = filled(route.url)
    if (address === null) {
      faults.push(`${route.method} ${route.url}: no example to ask for`)
      continue
    }
    for (const asker of askers) {
      if (isApi(route.url) && asker.token === null) continue
      checks++
      const answer = await ask(route.method, address, asker)
      const said = `${route.method} ${address} as ${asker.name}: ${answer.statusCode} ${codeOf(answer)}`
      if (!route.roles.includes(asker.role)) {
        if (answer.statusCode !== 403 || codeOf(answer) !== 'forbidden') faults.push(`${said}, not refused`)
      } else if (asker.own) {
        const fault = ownFault(route, answer)
        if (fault !== null) faults.push(`${said}, ${fault}`)
        for (const locked of lockedIn(answer, asker.role)) faults.push(`${said}, offers ${locked}`)
      } else if (route.url.includes('/:') && isThere(route.url) && !belongsToAll(route.url)) {
        // another co-op's thing is answered as one that is not there at all
        checks++
        const form = route.method === 'GET' || isApi(route.url) ? null : (forms.get(asker) ?? null)
        const theirs = form === null ? answer : await ask(route.method, address, asker, form)
        const nothing = await ask(route.method, unknown(route.url), asker, form)
        if (theirs.statusCode < 400) faults.push(`${said}, ${theirs.statusCode} given to another co-op`)
        if (alike(theirs, address) !== alike(nothing, unknown(route.url)))
          faults.push(`${said}, told apart from what is not there`)
      }
    }
  }
  process.stdout.write(`who may: ${checks} checks of ${routes.length} routes, ${askers.length} askers\n`)
  expect(faults).toEqual([])
}, 600_000)

test('SEC-022 nobody gets a page or a call, and a token that may read writes nothing', async () => {
  const faults: string[] = []
  let checks = 0
  const { app } = whole.app
  await whole.app.signInAs(null)
  for (const { method, url, roles: allowed } of routes) {
    if (allowed === 'anyone') continue
    const address = filled(url) ?? url
    const request = {
      method: method as 'GET',
      url: address,
      headers: { accept: isApi(url) ? 'application/json' : 'text/html' },
    }
    const answer = await app.inject(method === 'GET' ? request : withBody(request, url))
    checks++
    const led = answer.statusCode === 303 && String(answer.headers.location).startsWith('/sign-in')
    const refused = answer.statusCode === 401
    if (!(refused || (method === 'GET' && !isApi(url) && led)))
      faults.push(`${method} ${address}: ${answer.statusCode} for nobody`)
    if (!isApi(url) || method === 'GET') continue
    checks++
    const read = await app.inject(withBody({ ...request, headers: { authorization: `Bearer ${reader}` } }, url))
    if (read.statusCode !== 403) faults.push(`${method} ${address}: ${read.statusCode} for a token that may read`)
  }
  process.stdout.write(`nobody and tokens that read: ${checks} checks\n`)
  expect(faults).toEqual([])
}, 300_000)

/** Open to anybody: health, the description of the calls, calendars and invitations by their secret, and the door. */
const openRoutes = [
  'GET /calendar/:secret',
  'GET /join/:secret',
  'GET /reset/:secret',
  'POST /join/:secret',
  'POST /reset/:secret',
  'GET /live',
  'GET /openapi.json',
  'GET /pair',
  'GET /ready',
  'GET /set-up',
  'GET /sign-in',
  'POST /demonstration',
  'POST /pair',
  'POST /set-up',
  'POST /sign-in',
  'POST /sign-in/passkey',
  'POST /sign-in/passkey/options',
].sort()

const isApi = (url: string): boolean => url.startsWith('/api/')

/** Knowledge that is the service's, not a co-op's: crops and starters are the same to everybody. */
const belongsToAll = (url: string): boolean => /^(\/api)?\/(crops|recipes\/starters|recipe-starters)\//.test(url)

function filled(url: string): string | null {
  if (url === '/') return url
  let address = ''
  for (const part of url.split('/').slice(1)) {
    const value = part.startsWith(':') ? whole.example(`${patternUpTo(url, part)}`) : part
    if (value === null || value === '') return null
    address += `/${value}`
  }
  return address + (queries[url] ?? '')
}

/** What some addresses must be asked with. */
const queries: Record<string, string> = {
  '/plans/:id/compare': '?a=1&b=1',
  '/api/plans/:id/compare': '?a=1&b=1',
  '/api/processes/look-up': '?product=plums&jar=quart&method=boiling-water&altitudeM=300',
}

/** The pattern up to and with this part. */
function patternUpTo(url: string, part: string): string {
  return url.slice(0, url.indexOf(part) + part.length)
}

function unknown(url: string): string {
  return (
    url
      .replace(/:(number|version)/g, '1')
      .replace(/:code/, batchCode(999))
      .replace(/:[a-z]+/g, 'nobody-has-this') + (queries[url] ?? '')
  )
}

/** A failure is always asked for as JSON, which names its kind. */
function ask(method: string, url: string, asker: Asker, form: Form | null = null): Promise<LightMyRequestResponse> {
  const cookie = form === null ? asker.cookie : `${asker.cookie}; ${form.cookie}`
  const who = isApi(url) ? { authorization: `Bearer ${asker.token}` } : { cookie }
  const request = { method: method as 'GET', url, headers: { ...who, accept: 'application/json' } }
  return whole.app.app.inject(method === 'GET' ? request : withBody(request, url, form))
}

/** An empty body of the kind that the address takes. Without a form: what a role may is settled before its token is asked for. */
function withBody<R extends { headers: Record<string, string> }>(request: R, url: string, form: Form | null = null) {
  const type = isApi(url) ? 'application/json' : 'application/x-www-form-urlencoded'
  const fields = form === null ? '' : new URLSearchParams({ _csrf: form.token, _submission: whole.app.app.newId() })
  const payload = isApi(url) ? '{}' : String(fields)
  return { ...request, headers: { ...request.headers, 'content-type': type }, payload }
}

/** What a form of this visitor's own brings along. */
type Form = { token: string; cookie: string }

async function formOf(asker: Asker): Promise<Form | null> {
  if (asker.role === 'screen') return null
  const shown = await whole.app.app.inject({ url: '/coop/my-units', headers: { cookie: asker.cookie } })
  return { token: String(htmlOf(shown.payload)('input[name="_csrf"]').attr('value')), cookie: cookiesOf(shown) }
}

/** What is wrong with the answer to one who may; null: nothing. */
function ownFault({ method, url }: KnownRoute, answer: LightMyRequestResponse): string | null {
  const { statusCode } = answer
  if (method !== 'GET' && !isApi(url)) {
    // it came as far as the form's token, which it did not bring
    return statusCode === 403 && codeOf(answer) === 'form-expired' ? null : 'not let through to the form'
  }
  if (method !== 'GET') return statusCode !== 401 && statusCode !== 403 && statusCode < 500 ? null : 'not let through'
  // asked without saying which jars, it says what is missing
  if (url === '/labels/print.pdf') return statusCode === 422 ? null : 'not shown'
  if (!isThere(url)) return statusCode === 404 ? null : 'there after all'
  return statusCode === 200 || ((statusCode === 302 || statusCode === 303) && isRedirecting(url)) ? null : 'not shown'
}

/** Pages that lead on to another one; those of a timetable do while it is worked out, as here. */
const leadOn = ['/j/:code', '/plans/:id/divisions']
const isRedirecting = (url: string): boolean => leadOn.includes(url) || /\/timetables\/:number\/\w+$/.test(url)

/** What nobody has asked for here, so that there is none; tokens and passkeys are one member’s alone. */
const isThere = (url: string): boolean =>
  url !== '/api/plans/:id/timetables/:number/worth' && !/\/(tokens|passkeys)\/:id/.test(url)

function codeOf(answer: LightMyRequestResponse): string {
  if (answer.statusCode < 400) return ''
  if (String(answer.headers['content-type']).includes('json')) return answer.json().error?.code ?? ''
  return 'page'
}

/** Forms and links of a page that its reader may not use. */
function lockedIn(answer: LightMyRequestResponse, role: Role): string[] {
  if (!String(answer.headers['content-type']).startsWith('text/html')) return []
  const $ = htmlOf(answer.payload)
  const offered = [
    ...$('form[method="post"]').map((_, form) => `POST ${$(form).attr('action')}`),
    ...$('a[href^="/"]').map((_, link) => `GET ${$(link).attr('href')}`),
  ]
  return offered.filter((one) => {
    const [method = '', address = ''] = one.split(' ')
    const route = routeFor(whole.app.app.knownRoutes, method, address)
    return route !== null && route.roles !== 'anyone' && !route.roles.includes(role)
  })
}

/** The answer without what differs in each: the request's number, tokens, and the address itself. */
function alike(answer: LightMyRequestResponse, address: string): string {
  const text = answer.payload
    .replaceAll(address, 'ADDRESS')
    .replaceAll(String(address.split('/').at(-1)), 'IT')
    .replace(/"requestId":"[^"]*"/g, '')
  return `${answer.statusCode} ${text}`
}
