import type { LightMyRequestResponse } from 'fastify'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { codeAlphabet, codeTyped, randomCode } from '../../../src/features/screens/codes.ts'
import { beginSession, hashOfSecret, randomSecret } from '../../../src/web/sessions/index.ts'
import { cookiesOf, type TestApp, testApp } from '../../support/app.ts'
import { htmlOf, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

let app: TestApp
let steward: string
let now = new Date('2026-09-11T09:00:00Z')
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  // a clock that the tests move
  app.app.clock.now = () => now
  steward = (await app.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })).id
})
afterAll(() => app?.close())
beforeEach(async () => {
  now = new Date('2026-09-11T09:00:00Z')
  await app.prisma.pairing.deleteMany()
  await app.prisma.session.deleteMany({ where: { memberId: null } })
  await app.prisma.attempt.deleteMany()
  await app.signInAs(steward)
})

const later = (minutes: number) => {
  now = new Date(now.getTime() + minutes * 60_000)
}

/** Makes a code as the page does, and reads it from the page that shows it. */
async function makeCode(name = 'Tablet by the stove'): Promise<{ code: string; path: string }> {
  const made = await app.postForm('/coop/screens', { name })
  expect(made.statusCode).toBe(303)
  const path = String(made.headers.location)
  const shown = await app.app.inject({ url: path, headers: { cookie: cookiesOf(made) } })
  return { code: textAt(htmlOf(shown.payload), '.pairing-code [aria-hidden]'), path }
}

/** Types a code at a tablet that nobody is signed in at, or that brings this cookie. */
async function pair(code: string, cookie = ''): Promise<LightMyRequestResponse> {
  const shown = await app.app.inject({ url: '/pair', headers: { cookie: cookie || 'glut_session=none' } })
  expect(shown.statusCode).toBe(200)
  const _csrf = String(htmlOf(shown.payload)('input[name=_csrf]').attr('value'))
  return app.app.inject({
    method: 'POST',
    url: '/pair',
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      'sec-fetch-site': 'same-origin',
      cookie: [cookiesOf(shown), cookie || 'glut_session=none'].join('; '),
    },
    payload: String(new URLSearchParams({ code, _csrf })),
  })
}

function sessionIn(answer: LightMyRequestResponse): string {
  const cookie = answer.cookies.find(({ name }) => name === 'glut_session')
  return cookie === undefined ? expect.fail('no session was begun') : `glut_session=${cookie.value}`
}

const get = (url: string, cookie: string, accept = 'text/html') => app.app.inject({ url, headers: { cookie, accept } })

describe('a code', () => {
  test('has eight characters of which no two look alike, and is read however it is typed', () => {
    for (const one of '0O1IL2Z5S8B') expect(codeAlphabet).not.toContain(one)
    const codes = Array.from({ length: 200 }, randomCode)
    for (const code of codes) expect(code).toMatch(new RegExp(`^[${codeAlphabet}]{8}$`))
    expect(new Set(codes).size).toBe(200)
    for (const typed of ['ACDE FG37', 'acdefg37', 'acde-fg37', ' AcDe fG37 ']) expect(codeTyped(typed)).toBe('ACDEFG37')
    for (const typed of ['ACDEFG3', 'ACDEFG377', 'ACDEFG30', 'ÄCDEFG37', '']) expect(codeTyped(typed)).toBeNull()
  })

  test('is shown to whoever made it while it holds, and is nowhere in the database', async () => {
    const { code, path } = await makeCode()
    expect(code).toMatch(/^\w{4} \w{4}$/)
    const plain = code.replace(' ', '')
    const [stored] = await app.prisma.pairing.findMany()
    expect(JSON.stringify(stored)).not.toContain(plain)
    // not the code's own hash either: that could be tried through
    expect(stored?.codeHash).not.toBe(hashOfSecret(plain))
    // another browser of the same steward sees none
    expect((await app.getPage(path))('.pairing-code').length).toBe(0)
  })

  test.each(['Tablet by the stove', 'tablet BY the stove'])('%s: two screens never have one name', async (name) => {
    await pair((await makeCode()).code)
    const $ = await app.postRefused('/coop/screens', { name })
    expect(problemsIn($)).toEqual(['A screen has this name already. Choose another, or remove that screen first'])
    expect($('#field-name').attr('value')).toBe(name)
  })

  test('a new one for the same name ends the one before', async () => {
    const first = await makeCode()
    const second = await makeCode()
    expect((await pair(first.code)).statusCode).toBe(422)
    expect((await pair(second.code)).statusCode).toBe(303)
  })
})

describe('pairing', () => {
  test('begins a session that is nobody’s, named, and leads to the kitchen', async () => {
    const answer = await pair((await makeCode()).code)
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/kitchen'])
    const set = answer.cookies.find(({ name }) => name === 'glut_session')
    expect(set).toMatchObject({ httpOnly: true, sameSite: 'Lax', path: '/', maxAge: 365 * 86_400 })
    expect((await get('/kitchen', sessionIn(answer))).statusCode).toBe(200)
    const session = await app.prisma.session.findFirstOrThrow({ where: { memberId: null } })
    expect([session.coopId, session.device]).toEqual([app.coopId, 'Tablet by the stove'])
    const event = await app.prisma.securityEvent.findFirstOrThrow({ where: { kind: 'screen-paired' } })
    expect([event.coopId, event.what]).toEqual([
      app.coopId,
      'screen Tablet by the stove paired with the code that Rosalind Pike made',
    ])
    expect(rowsAt(await app.getPage('/coop/screens'), 'table')[1]?.slice(0, 3)).toEqual([
      'Tablet by the stove',
      '11 Sept 2026, 10:00',
      '11 Sept 2026, 10:00',
    ])
  })

  test('works once, of five at the same moment for one', async () => {
    const { code } = await makeCode()
    const answers = await Promise.all(Array.from({ length: 5 }, () => pair(code)))
    expect(answers.filter(({ statusCode }) => statusCode === 303).length).toBe(1)
    expect(await app.prisma.session.count({ where: { memberId: null } })).toBe(1)
    await app.prisma.attempt.deleteMany()
    expect((await pair(code)).statusCode).toBe(422)
  })

  test('is over after ten minutes', async () => {
    const { code, path } = await makeCode()
    later(10)
    const $ = htmlOf((await pair(code)).payload)
    expect(problemsIn($)).toEqual(['This code does not hold: it is another, was used, or is more than 10 minutes old'])
    expect(textAt(await app.getPage(path), '.lead')).toBe('This code is over.')
    expect(await app.prisma.session.count({ where: { memberId: null } })).toBe(0)
  })

  test('SEC-007 wrong codes are slowed, and told how long; the right one waits as well', async () => {
    const { code } = await makeCode()
    for (let n = 0; n < 5; n++) expect((await pair('ACDEFGHJ')).statusCode).toBe(422)
    const slowed = await pair(code)
    expect([slowed.statusCode, slowed.headers['retry-after']]).toEqual([429, '30'])
    expect(problemsIn(htmlOf(slowed.payload))).toEqual([
      'Too many codes were wrong. Wait 30 seconds, then type it again',
    ])
    later(1)
    expect((await pair(code)).statusCode).toBe(303)
    expect(await app.prisma.attempt.count()).toBe(0)
  })

  test('what can be no code is told, costs no try, and is kept', async () => {
    for (let n = 0; n < 8; n++) {
      const $ = htmlOf((await pair('O0O0')).payload)
      expect(problemsIn($)[0]).toMatch(/^A code has 8 letters and digits/)
      expect($('#field-code').attr('value')).toBe('O0O0')
    }
    expect(await app.prisma.attempt.count()).toBe(0)
  })

  test('SEC-011 whoever was signed in there is signed out, and a planted cookie opens nothing', async () => {
    const token = randomSecret()
    const session = { id: app.app.newId(), token, coopId: app.coopId, memberId: steward, device: 'a tablet' }
    await beginSession(app.prisma, session, now)
    const answer = await pair((await makeCode()).code, `glut_session=${token}`)
    expect(answer.statusCode).toBe(303)
    expect(sessionIn(answer)).not.toBe(`glut_session=${token}`)
    expect((await get('/coop', `glut_session=${token}`)).statusCode).toBe(303)
    expect(await app.prisma.session.count({ where: { id: session.id } })).toBe(0)
  })

  test('SEC-025 without the form’s token nothing is paired', async () => {
    const { code } = await makeCode()
    const answer = await app.app.inject({
      method: 'POST',
      url: '/pair',
      headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: 'glut_session=none' },
      payload: `code=${encodeURIComponent(code)}`,
    })
    expect(answer.statusCode).toBe(403)
    expect(await app.prisma.session.count({ where: { memberId: null } })).toBe(0)
  })
})

describe('a screen', () => {
  test('may see the kitchen and no other page, and is told so in words', async () => {
    const cookie = sessionIn(await pair((await makeCode()).code))
    const bare = await get('/', cookie)
    expect([bare.statusCode, bare.headers.location]).toEqual([303, '/kitchen'])
    for (const url of ['/coop', '/shelf', '/lots/new', '/coop/screens']) {
      const answer = await get(url, cookie)
      expect(answer.statusCode, url).toBe(403)
      const $ = htmlOf(answer.payload)
      expect($('main').text()).toContain(
        'A kitchen screen shows the work of the day and lets it be ticked off, no more.',
      )
      expect($('main a[href="/kitchen"]').text()).toBe('See the work of the day')
    }
    expect((await get('/api/lots', cookie)).statusCode).toBe(403)
  })

  test('SEC-012 is signed out by its removal at once, and a page that looks again by itself is led away', async () => {
    const cookie = sessionIn(await pair((await makeCode()).code))
    const $ = await app.getPage('/coop/screens')
    const removal = $('td a').attr('href') ?? ''
    await app.getPage(removal)
    expect(await app.postTaken(removal, {})).toBe('/coop/screens')
    expect((await get('/kitchen', cookie)).headers.location).toBe('/sign-in?next=%2Fkitchen')
    const part = await app.app.inject({ url: '/kitchen', headers: { cookie, 'hx-request': 'true' } })
    expect([part.statusCode, part.headers['hx-refresh']]).toEqual([401, 'true'])
    expect((await app.getPage('/coop/screens'))('table').length).toBe(0)
    expect(await app.prisma.securityEvent.count({ where: { kind: 'screen-removed' } })).toBe(1)
  })

  test('signs itself out on the tablet', async () => {
    const cookie = sessionIn(await pair((await makeCode()).code))
    const shown = await get('/kitchen', cookie)
    const fields = htmlOf(shown.payload)('form[action="/sign-out"]').serializeArray()
    const out = await app.app.inject({
      method: 'POST',
      url: '/sign-out',
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        cookie: [cookie, cookiesOf(shown)].join('; '),
      },
      payload: String(new URLSearchParams(Object.fromEntries(fields.map(({ name, value }) => [name, value])))),
    })
    expect(out.statusCode).toBe(303)
    expect(await app.prisma.session.count({ where: { memberId: null } })).toBe(0)
    expect((await get('/kitchen', cookie)).statusCode).toBe(303)
  })

  test('SEC-013 ends when nobody looked at it for thirty days, and after a year', async () => {
    const cookie = sessionIn(await pair((await makeCode()).code))
    // looked at every 29 days, it lasts twelve times, and not a thirteenth
    const looks: number[] = []
    for (let n = 0; n < 13; n++) {
      later(29 * 1440)
      looks.push((await get('/kitchen', cookie)).statusCode)
    }
    expect(looks).toEqual([...Array(12).fill(200), 303])
    await app.signInAs(steward)
    const other = sessionIn(await pair((await makeCode('Another')).code))
    later(30 * 1440 + 1)
    expect((await get('/kitchen', other)).statusCode).toBe(303)
    await app.signInAs(steward)
    expect((await app.getPage('/coop/screens'))('table').length).toBe(0)
  })

  test('of another co-op is neither listed nor removed, and its code opens only there', async () => {
    const theirs = { id: 'their-screen', token: randomSecret(), coopId: neighboursId, memberId: null, device: 'Theirs' }
    await beginSession(app.prisma, theirs, now)
    expect((await app.call('GET', '/api/screens')).json()).toEqual({ screens: [] })
    for (const path of ['/coop/screens/their-screen/removal', '/coop/screens/codes/their-code'])
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
    expect((await app.call('DELETE', '/api/screens/their-screen')).statusCode).toBe(404)
    // a person's session is no screen
    const own = await app.prisma.session.findFirstOrThrow({ where: { memberId: steward } })
    expect((await app.call('DELETE', `/api/screens/${own.id}`)).statusCode).toBe(404)
    expect(await app.prisma.session.count({ where: { id: { in: [theirs.id, own.id] } } })).toBe(2)
  })
})

test('the calls make a code that is told once, list screens and remove them', async () => {
  const headers = { 'idempotency-key': 'a-key-of-this-test' }
  const made = await app.call('POST', '/api/screens', { name: 'Annex' }, headers)
  expect(made.statusCode).toBe(201)
  const again = await app.call('POST', '/api/screens', { name: 'Annex' }, headers)
  expect(again.json()).toEqual({ id: made.json().id, expiresAt: '2026-09-11T09:10:00.000Z' })
  expect((await pair(made.json().code)).statusCode).toBe(303)
  const { screens } = (await app.call('GET', '/api/screens')).json()
  expect(screens).toMatchObject([{ name: 'Annex', since: '2026-09-11T09:00:00.000Z' }])
  expect((await app.call('DELETE', `/api/screens/${screens[0].id}`)).statusCode).toBe(204)
  expect((await app.call('GET', '/api/screens')).json()).toEqual({ screens: [] })
})
