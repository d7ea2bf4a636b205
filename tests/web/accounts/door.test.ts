import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { loadDemonstration } from '../../../seed/load.ts'
import { randomId } from '../../../src/ids.ts'
import { hashOfSecret, randomSecret } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { expectSoundPage, htmlOf, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { type Browser, browser, giveAccount, type Person, signInWith } from './people.ts'

let on: TestApp
let rosalind: Person
const lines: string[] = []
const MAIL = 'rosalind@kitchen.example'

beforeAll(async () => {
  on = await testApp({ logLine: (line) => lines.push(line) })
  rosalind = await giveAccount(on, 'rosalind', { signInName: 'rosalind', mail: MAIL })
  await on.signInAs(null)
})
afterAll(() => on?.close())
beforeEach(async () => {
  await on.prisma.attempt.deleteMany()
})

const session = ({ jar }: Browser) => jar.get('glut_session')

describe('whoever is not signed in', () => {
  test('is led to the door from every page, and back to it afterwards', async () => {
    const visitor = browser(on)
    const led = await visitor.get('/lots?all=1&sort=name')
    expect(led.statusCode).toBe(303)
    expect(led.headers.location).toBe('/sign-in?next=%2Flots%3Fall%3D1%26sort%3Dname')
    const door = await visitor.get(String(led.headers.location))
    expect(door.statusCode).toBe(200)
    expect(door.headers['cache-control']).toBe('no-store')
    const $ = expectSoundPage(door.payload)
    expect(textAt($, 'h1')).toBe('Sign in')
    expect(textAt($, '.masthead')).toBe('Glutworks')
    expect($('.places').length).toBe(0)
    const entered = await signInWith(visitor, rosalind, '/lots?all=1&sort=name')
    expect(entered.statusCode).toBe(303)
    expect(entered.headers.location).toBe('/lots?all=1&sort=name')
    expect((await visitor.get('/lots?all=1&sort=name')).statusCode).toBe(200)
  })

  test('gets 401 where no page was asked for: calls, parts of pages, pictures', async () => {
    const visitor = browser(on)
    const call = await visitor.get('/api/coop', { accept: '*/*' })
    expect(call.statusCode).toBe(401)
    expect(call.json().error).toMatchObject({ code: 'unauthorized' })
    for (const headers of [{ 'hx-request': 'true' }, { accept: 'image/png' }, { 'sec-fetch-dest': 'image' }]) {
      expect((await visitor.get('/lots', headers)).statusCode, JSON.stringify(headers)).toBe(401)
    }
    const head = await on.app.inject({ method: 'HEAD', url: '/lots', headers: { accept: 'text/html' } })
    expect(head.statusCode).toBe(303)
  })

  test('keeps what was typed in a form, and sends it again after signing in', async () => {
    const author = browser(on)
    await signInWith(author, rosalind)
    const form = htmlOf((await author.get('/helpers/new')).payload)
    const action = form('main form').attr('action') ?? ''
    const typed = {
      ...Object.fromEntries(
        form('main form')
          .serializeArray()
          .map(({ name, value }) => [name, value]),
      ),
      name: 'Bea Lind',
      ageBand: 'adult',
    }
    await on.prisma.session.deleteMany()
    const page = 'http://localhost:8080/helpers/new?from=list'
    const led = async (referer: string) =>
      htmlOf((await author.post(action, typed, { host: 'localhost:8080', referer })).payload)('.onward a').attr('href')
    expect(await led(page)).toBe('/sign-in?next=%2Fhelpers%2Fnew%3Ffrom%3Dlist')
    for (const other of ['http://elsewhere.example/helpers/new', 'http://localhost/helpers/new', 'about:blank', 'none'])
      expect(await led(other), other).toBe('/sign-in')
    const refused = await author.post(action, typed)
    expect(refused.statusCode).toBe(401)
    const $ = expectSoundPage(refused.payload)
    expect(textAt($, 'h1')).toBe('Please sign in')
    expect(textAt($, '.lead')).toBe(
      'You are not signed in, or were signed out meanwhile. Leave this page open, sign in in another window, and then send the form again.',
    )
    expect(textsAt($, 'dd')).toContain('Bea Lind')
    expect($('.onward a').attr('href')).toBe('/sign-in')
    expect(refused.payload).toContain('Nothing was saved.')
    const kept = Object.fromEntries(
      $('main form')
        .serializeArray()
        .map(({ name, value }) => [name, value]),
    )

    // signed in meanwhile in another window; the form's own session is over, so it is shown once more
    await signInWith(author, rosalind)
    const shown = await author.post(action, kept)
    expect(shown.statusCode).toBe(403)
    const again = Object.fromEntries(
      htmlOf(shown.payload)('main form')
        .serializeArray()
        .map(({ name, value }) => [name, value]),
    )
    const saved = await author.post(action, again)
    expect(saved.statusCode).toBe(303)
    expect(await on.prisma.helper.count({ where: { name: 'Bea Lind' } })).toBe(1)
  })
})

describe('the door', () => {
  test('takes the name or the mail address, in any capitals', async () => {
    for (const signInName of ['rosalind', 'ROSALIND', ' Rosalind ', MAIL, MAIL.toUpperCase()]) {
      const visitor = browser(on)
      const answer = await signInWith(visitor, { signInName, password: rosalind.password })
      expect(answer.statusCode, signInName).toBe(303)
      expect(session(visitor)).toMatch(/^[\w-]{43}$/)
    }
  })

  test('SEC-004 works with password managers: the fields say what they are', async () => {
    const $ = htmlOf((await browser(on).get('/sign-in')).payload)
    expect($('[name=name]').attr('autocomplete')).toBe('username')
    expect($('[name=password]').attr('autocomplete')).toBe('current-password')
    expect($('[name=password]').attr('type')).toBe('password')
  })

  test('SEC-006 answers the same whether or not there is such an account', async () => {
    await on.prisma.member.create({
      data: {
        coopId: on.coopId,
        id: 'gone',
        householdId: on.householdId,
        name: 'Gone',
        role: 'member',
        leftAt: new Date(),
      },
    })
    const gone = await giveAccount(on, 'gone', { signInName: 'gone' })
    await on.prisma.member.create({
      data: { coopId: on.coopId, id: 'keyed', householdId: on.householdId, name: 'Keyed', role: 'member' },
    })
    await giveAccount(on, 'keyed', { signInName: 'keyed' })
    await on.prisma.account.updateMany({ where: { memberId: 'keyed' }, data: { passwordHash: null } })
    const password = randomSecret()
    const pages = []
    for (const typed of [
      { signInName: 'rosalind', password },
      { signInName: 'nobody-here', password },
      { signInName: 'nobody@kitchen.example', password },
      { signInName: 'keyed', password },
      gone,
    ]) {
      const answer = await signInWith(browser(on), typed)
      expect(answer.statusCode).toBe(422)
      expect(answer.payload).not.toContain(typed.password)
      const $ = htmlOf(answer.payload)
      expect(problemsIn($)).toEqual([
        'The name or the password is not right. Look whether capitals are on, and try again.',
      ])
      expect($('[name=name]').attr('value')).toBe(typed.signInName)
      $('[name=name], [name=_csrf]').removeAttr('value')
      pages.push($('main').html())
    }
    expect(new Set(pages).size).toBe(1)
  })

  test('SEC-006 takes about as long whether or not there is such an account', async () => {
    const password = randomSecret()
    const took = { there: [] as number[], missing: [] as number[] }
    for (let n = 0; n < 12; n++) {
      await on.prisma.attempt.deleteMany()
      for (const [kind, signInName] of [
        ['there', 'rosalind'],
        ['missing', `nobody-${n}`],
      ] as const) {
        const visitor = browser(on)
        const token = String(htmlOf((await visitor.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
        const began = performance.now()
        await visitor.post('/sign-in', { _csrf: token, name: signInName, password })
        took[kind].push(performance.now() - began)
      }
    }
    const median = (times: number[]) => times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0
    // hashing takes most of it; without it a missing account would answer in a fraction of the time
    expect(median(took.missing) / median(took.there)).toBeGreaterThan(0.6)
    expect(median(took.missing) / median(took.there)).toBeLessThan(1.67)
  })

  test('SEC-025 has its own protection: no token, another browser’s token or another site are refused', async () => {
    const fields = { name: 'rosalind', password: rosalind.password }
    const visitor = browser(on)
    const other = browser(on)
    const others = String(htmlOf((await other.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
    const own = String(htmlOf((await visitor.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
    for (const [what, sent, headers] of [
      ['no token', fields, {}],
      ['another one', { ...fields, _csrf: others }, {}],
      ['another site', { ...fields, _csrf: own }, { 'sec-fetch-site': 'cross-site' }],
      ['another origin', { ...fields, _csrf: own }, { 'sec-fetch-site': 'same-site' }],
    ] as const) {
      const answer = await visitor.post('/sign-in', sent, headers)
      expect(answer.statusCode, what).toBe(403)
      expect(session(visitor), what).toBeUndefined()
      expect(answer.payload, what).not.toContain(rosalind.password)
      expect(htmlOf(answer.payload)('main form').length, what).toBe(0)
    }
    expect((await visitor.post('/sign-in', { ...fields, _csrf: own })).statusCode).toBe(303)
  })

  test.each([
    '//elsewhere.example',
    '/\\elsewhere.example',
    'https://elsewhere.example',
    '/%2felsewhere.example',
    '%2f%2felsewhere.example',
  ])('SEC-024 leads to a path of its own and not to %s', async (next) => {
    const shown = htmlOf((await browser(on).get(`/sign-in?next=${encodeURIComponent(next)}`)).payload)
    expect(shown('[name=next]').attr('value')).toBe('/')
    const visitor = browser(on)
    const answer = await visitor.send('/sign-in', { name: 'rosalind', password: rosalind.password, next })
    expect(answer.statusCode).toBe(303)
    expect(answer.headers.location).toBe('/')
  })

  test('refuses what is too long, empty or given twice without a fault', async () => {
    for (const fields of [
      { name: '', password: '' },
      { name: 'x'.repeat(300), password: 'y'.repeat(300) },
      { name: ['a', 'b'], password: ['c', 'd'] },
      { name: 'ros\u0000alind', password: 'pass\u0000word' },
    ]) {
      const answer = await browser(on).send('/sign-in', fields)
      expect(answer.statusCode).toBe(422)
      problemsIn(htmlOf(answer.payload))
    }
  })
})

describe('what is noted', () => {
  test('SEC-067 is who came in, who went, and whose door was tried', async () => {
    await emptyHistory(on.prisma)
    const visitor = browser(on)
    await signInWith(visitor, { ...rosalind, password: randomSecret() })
    await signInWith(visitor, { signInName: 'nobody-here', password: randomSecret() })
    await signInWith(visitor, rosalind)
    await visitor.send('/sign-out', {}, '/account')
    const noted = await on.prisma.securityEvent.findMany({ orderBy: { id: 'asc' } })
    const plain = noted.map(({ kind, coopId, who, memberId, what }) => ({ kind, coopId, who, memberId, what }))
    expect(plain).toHaveLength(4)
    expect(plain).toEqual(
      expect.arrayContaining([
        {
          kind: 'sign-in-failed',
          coopId: on.coopId,
          who: '',
          memberId: null,
          what: 'a wrong password for Rosalind Pike',
        },
        { kind: 'sign-in-failed', coopId: null, who: '', memberId: null, what: 'a sign-in name that nobody has' },
        {
          kind: 'signed-in',
          coopId: on.coopId,
          who: 'Rosalind Pike',
          memberId: 'rosalind',
          what: 'signed in by password',
        },
        { kind: 'signed-out', coopId: on.coopId, who: 'Rosalind Pike', memberId: 'rosalind', what: 'signed out' },
      ]),
    )
  })

  test('SEC-016 SEC-066 is no password, no token and no name in the log', async () => {
    lines.length = 0
    const visitor = browser(on)
    await signInWith(visitor, { signInName: 'canary-name', password: 'canary-password' }, '/lots?canary-query=1')
    await signInWith(visitor, rosalind)
    await visitor.get('/account')
    const token = session(visitor) ?? ''
    expect(lines.length).toBeGreaterThanOrEqual(3)
    for (const secret of ['canary', rosalind.password, MAIL, token, hashOfSecret(token), 'argon2']) {
      expect(lines.join(''), secret).not.toContain(secret)
    }
  })
})

describe('the demonstration', () => {
  test('is entered as any of its members by a button, and is marked on every page', async () => {
    const here = await testApp({ coop: false })
    await loadDemonstration(here.prisma, here.app.clock.now(), randomId)
    const visitor = browser(here)
    const $ = expectSoundPage((await visitor.get('/sign-in?next=%2Flots')).payload)
    expect(textsAt($, '.entrances button')).toEqual([
      'Enter as Mara Fenwick, steward',
      'Enter as Ines Odell, planner',
      'Enter as Wilfred Marsh, member',
      'Enter as Suri Hallam, helper',
    ])
    expect($('main').text()).toContain('made up, and anybody may enter')
    const tokens = new Set<string>()
    for (const button of $('.entrances button').toArray()) {
      const entered = await visitor.send(
        '/demonstration',
        { member: $(button).attr('value') ?? '' },
        '/sign-in?next=%2Flots',
      )
      expect(entered.statusCode).toBe(303)
      expect(entered.headers.location).toBe('/lots')
      const page = htmlOf((await visitor.get('/lots')).payload)
      expect($(button).text()).toContain(textAt(page, '.who').replace('Signed in as ', ''))
      expect(textAt(page, '.demonstration')).toBe('Demonstration: made up, and anybody may enter')
      tokens.add(visitor.jar.get('glut_session') ?? '')
    }
    // each time a new session, and the one before ended
    expect(tokens.size).toBe(4)
    expect(await here.prisma.session.count({ where: { coop: { demonstration: true } } })).toBe(1)
    await here.close()
  })

  test('is not a door into any other co-op, and is closed with DEMO=no', async () => {
    const visitor = browser(on)
    const token = String(htmlOf((await visitor.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
    for (const member of ['rosalind', 'nobody', '']) {
      const answer = await visitor.post('/demonstration', { _csrf: token, member })
      expect([400, 404], member).toContain(answer.statusCode)
      expect(session(visitor)).toBeUndefined()
    }
    const closed = await testApp({ coop: false, environment: { DEMO: 'no' } })
    await loadDemonstration(closed.prisma, closed.app.clock.now(), randomId)
    const there = browser(closed)
    const page = htmlOf((await there.get('/sign-in')).payload)
    expect(page('.entrances').length).toBe(0)
    const mara = await closed.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
    const forged = await there.post('/demonstration', {
      _csrf: String(page('[name=_csrf]').attr('value')),
      member: mara.id,
    })
    expect(forged.statusCode).toBe(404)
    await closed.close()
  })
})
