import { validate } from '@apidevtools/swagger-parser'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { roles } from '../../../src/web/roles.ts'
import { beginSession, hashOfSecret, randomSecret } from '../../../src/web/sessions/index.ts'
import { cookiesOf, type TestApp, testApp } from '../../support/app.ts'
import { htmlOf, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

let app: TestApp
let steward: string
const start = new Date('2026-09-11T09:00:00Z')
let now = start
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  app.app.clock.now = () => now
  steward = (await app.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })).id
  const householdId = app.householdId
  await app.prisma.member.createMany({
    data: [
      { coopId: app.coopId, id: 'a-helper', householdId, name: 'Ada Pike', role: 'helper' },
      {
        coopId: neighboursId,
        id: 'their-steward',
        householdId: 'their-household',
        name: 'Nan Strange',
        role: 'steward',
      },
    ],
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  now = start
  await app.signInAs(steward)
  // only those that a test makes
  await app.prisma.apiToken.deleteMany({ where: { name: { not: 'a test' } } })
})

const asked = { name: 'Thermometer in the shed', scope: 'read', days: '30' }

/** Makes a token as its page does, and reads it where it is shown once. */
async function make(fields: Partial<typeof asked> = {}): Promise<{ token: string; path: string; cookie: string }> {
  const made = await app.postForm('/account/tokens', { ...asked, ...fields })
  expect(made.statusCode).toBe(303)
  const path = String(made.headers.location)
  const cookie = cookiesOf(made)
  const shown = await app.app.inject({ url: path, headers: { cookie } })
  return { token: textAt(htmlOf(shown.payload), 'code.secret'), path, cookie }
}

const call = (token: string, method: 'GET' | 'POST' | 'DELETE' = 'GET', url = '/api/equipment', payload?: object) =>
  app.app.inject({
    method,
    url,
    headers: { authorization: `Bearer ${token}`, ...(method === 'POST' ? { 'content-type': 'application/json' } : {}) },
    ...(payload === undefined ? {} : { payload }),
  })

const annex = { name: 'Annex' }

describe('SEC-017 a token', () => {
  test('is 32 bytes by chance, shown once, and kept as a hash alone', async () => {
    const { token, path, cookie } = await make()
    expect(token).toMatch(/^glut_[\w-]{43}$/)
    expect(Buffer.from(token.slice('glut_'.length), 'base64url').length).toBe(32)
    const row = await app.prisma.apiToken.findFirstOrThrow({ where: { name: asked.name } })
    expect(row.secretHash).toBe(hashOfSecret(token))
    expect(JSON.stringify(row)).not.toContain(token)
    expect(JSON.stringify(await app.prisma.submission.findMany())).not.toContain(token)
    // the page takes the cookie that carried it back
    const shown = await app.app.inject({ url: path, headers: { cookie } })
    expect(shown.cookies.find(({ name }) => name === 'glut_told')).toMatchObject({ value: '', path })
    expect((await app.getPage(path))('code.secret').length).toBe(0)
    expect((await call(token)).statusCode).toBe(200)
  })

  test('is listed with its last use, and taken back at once', async () => {
    const { token, path } = await make()
    const row = async () => rowsAt(await app.getPage('/account/tokens'), 'table').find(([name]) => name === asked.name)
    expect(await row()).toEqual([asked.name, 'may read', '11 Sept 2026, 10:00', 'never', '11 Oct 2026, 10:00'])
    now = new Date(start.getTime() + 3_600_000)
    await call(token)
    expect((await row())?.[3]).toBe('11 Sept 2026, 11:00')
    await app.getPage(`${path}/removal`)
    expect(await app.postTaken(`${path}/removal`, {})).toBe('/account/tokens')
    const refused = await call(token)
    expect([refused.statusCode, refused.headers['www-authenticate']]).toEqual([401, 'Bearer error="invalid_token"'])
    expect(await row()).toBeUndefined()
    expect((await app.app.inject({ url: path })).statusCode).toBe(404)
    const kinds = (await app.prisma.securityEvent.findMany({ orderBy: { at: 'asc' } })).map(({ kind }) => kind)
    expect(kinds).toEqual(expect.arrayContaining(['token-made', 'token-taken-back']))
  })

  test.each(['7', '30', '90', '365'])('holds for %s days and not a moment longer', async (days) => {
    const { token } = await make({ days })
    now = new Date(start.getTime() + Number(days) * 86_400_000 - 1000)
    expect((await call(token)).statusCode).toBe(200)
    now = new Date(start.getTime() + Number(days) * 86_400_000)
    expect((await call(token)).statusCode).toBe(401)
  })

  test('that may read writes nothing; one that may write does', async () => {
    const { token: reader } = await make()
    const refused = await call(reader, 'POST', '/api/screens', annex)
    expect([refused.statusCode, refused.json().error.code]).toEqual([403, 'forbidden'])
    expect(refused.headers['www-authenticate']).toBe('Bearer error="insufficient_scope", scope="write"')
    expect(await app.prisma.pairing.count({ where: annex })).toBe(0)
    const { token: writer } = await make({ scope: 'write' })
    expect((await call(writer, 'POST', '/api/screens', annex)).statusCode).toBe(201)
    expect(await app.prisma.pairing.count({ where: annex })).toBe(1)
  })

  test('SEC-034 never may more than its member, from the moment that the member may less', async () => {
    const { token } = await make({ scope: 'write' })
    const member = { coopId_id: { coopId: app.coopId, id: steward } }
    await app.prisma.member.update({ where: member, data: { role: 'helper' } })
    expect((await call(token, 'POST', '/api/screens', annex)).statusCode).toBe(403)
    await app.prisma.member.update({ where: member, data: { leftAt: now } })
    expect((await call(token)).statusCode).toBe(401)
    await app.prisma.member.update({ where: member, data: { role: 'steward', leftAt: null } })
    expect((await call(token)).statusCode).toBe(200)
  })

  test('SEC-031 reaches one co-op, and is seen and taken back by its member alone', async () => {
    const { path, token } = await make({ scope: 'write' })
    const id = path.split('/').at(-1)
    expect((await call(token, 'DELETE', '/api/equipment/their-canner')).statusCode).toBe(404)
    for (const other of ['a-helper', 'their-steward']) {
      await app.signInAs(other)
      expect((await app.app.inject({ url: path })).statusCode, other).toBe(404)
      expect((await app.call('DELETE', `/api/tokens/${id}`)).statusCode).toBe(404)
      expect((await app.getPage('/account/tokens'))('table').text()).not.toContain(asked.name)
    }
    expect((await call(token)).statusCode).toBe(200)
  })

  test('opens no page, and goes by the header alone', async () => {
    const { token } = await make({ scope: 'write' })
    await app.signInAs(null)
    const page = await app.app.inject({
      url: '/coop',
      headers: { authorization: `Bearer ${token}`, accept: 'text/html' },
    })
    expect(page.statusCode).toBe(303)
    expect((await app.app.inject({ url: `/api/equipment?token=${token}` })).statusCode).toBe(401)
    expect((await call(`${token}x`)).statusCode).toBe(401)
    expect((await call(token.replace('glut_', 'GLUT_'))).statusCode).toBe(401)
  })

  test('is refused in the form’s words, which keeps what was typed', async () => {
    const $ = await app.postRefused('/account/tokens', { name: '', scope: 'all', days: '1000' })
    expect(problemsIn($)).toEqual([
      'Enter what the token is for',
      'Choose what the token may do',
      'Choose how long it holds',
    ])
    for (let n = 0; n < 20; n++) {
      const count = await app.prisma.apiToken.count({ where: { memberId: steward, revokedAt: null } })
      if (count >= 20) break
      await make({ name: `number ${n}` })
    }
    expect(problemsIn(await app.postRefused('/account/tokens', asked))[0]).toContain('You have 20 tokens')
  })

  test('lists and takes back its own by calls, and makes none', async () => {
    const { token, path } = await make({ scope: 'write' })
    const { tokens } = (await call(token, 'GET', '/api/tokens')).json()
    expect(tokens.find(({ name }: { name: string }) => name === asked.name)).toMatchObject({
      scope: 'write',
      expiresAt: '2026-10-11T09:00:00.000Z',
    })
    expect((await call(token, 'POST', '/api/tokens', asked)).statusCode).toBe(405)
    expect((await call(token, 'DELETE', `/api/tokens/${path.split('/').at(-1)}`)).statusCode).toBe(204)
    expect((await call(token)).statusCode).toBe(401)
  })
})

describe('SEC-022 a call by a browser’s cookie', () => {
  test('writes only with the form’s token, and only as JSON', async () => {
    const session = {
      id: app.app.newId(),
      token: randomSecret(),
      coopId: app.coopId,
      memberId: steward,
      device: 'a tab',
    }
    await beginSession(app.prisma, session, now)
    const cookie = `glut_session=${session.token}`
    const shown = await app.app.inject({ url: '/account/tokens', headers: { cookie } })
    const csrf = String(htmlOf(shown.payload)('input[name=_csrf]').attr('value'))
    const send = (headers: Record<string, string>, payload: string) =>
      app.app.inject({
        method: 'POST',
        url: '/api/screens',
        headers: { cookie: [cookie, cookiesOf(shown)].join('; '), ...headers },
        payload,
      })
    const json = JSON.stringify({ name: 'by cookie' })
    expect((await send({ 'content-type': 'application/json' }, json)).statusCode).toBe(403)
    expect((await send({ 'content-type': 'application/json', 'x-csrf-token': `${csrf}x` }, json)).statusCode).toBe(403)
    expect((await send({ 'content-type': 'text/plain', 'x-csrf-token': csrf }, json)).statusCode).toBe(415)
    expect(await app.prisma.pairing.count({ where: { name: 'by cookie' } })).toBe(0)
    expect((await send({ 'content-type': 'application/json', 'x-csrf-token': csrf }, json)).statusCode).toBe(201)
  })
})

test('the description names the token, and tells scope and roles of each call as the routes have them', async () => {
  const description = (await app.app.inject({ url: '/openapi.json' })).json()
  await validate(structuredClone(description))
  expect(description.components.securitySchemes.token).toMatchObject({ type: 'http', scheme: 'bearer' })
  const { equipment, kitchen } = { equipment: '/api/equipment', kitchen: '/api/kitchen' }
  expect(description.paths[equipment].get.description).toBe('Scope: read. For stewards, planners, members and helpers.')
  expect(description.paths[equipment].post.description).toBe('Scope: write. For stewards and planners.')
  expect(description.paths[kitchen].get.description).toContain('and kitchen screens.')
  const words = {
    steward: 'stewards',
    planner: 'planners',
    member: 'members',
    helper: 'helpers',
    screen: 'kitchen screens',
  }
  let calls = 0
  for (const { method, url, roles: allowed } of app.app.knownRoutes) {
    if (!url.startsWith('/api/') || method === 'HEAD' || allowed === 'anyone') continue
    calls++
    const told = description.paths[url.replace(/:(\w+)/g, '{$1}')][method.toLowerCase()]
    expect(told.security, url).toEqual([{ token: [] }])
    expect(Object.keys(told.responses), url).toEqual(expect.arrayContaining(['401', '403']))
    const [scope, who = ''] = told.description.split(/ For (?=[a-z, ]+\.$)/)
    expect(scope.endsWith(`Scope: ${method === 'GET' ? 'read' : 'write'}.`), url).toBe(true)
    for (const role of roles) expect(who.includes(words[role]), `${method} ${url} ${role}`).toBe(allowed.includes(role))
  }
  expect(calls).toBeGreaterThan(100)
})
