import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { htmlOf } from '../../support/html.ts'
import { type Browser, browser, giveAccount, type Person, signInWith } from '../accounts/people.ts'
import { type Device, newDevice } from './authenticator.ts'

let app: TestApp
let rosalind: Person
let ada: Person
const start = new Date('2026-09-11T09:00:00Z')
let now = start
beforeAll(async () => {
  app = await testApp()
  app.app.clock.now = () => now
  const steward = await app.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
  const { coopId, householdId } = app
  await app.prisma.member.create({ data: { coopId, id: 'ada', householdId, name: 'Ada Pike', role: 'helper' } })
  rosalind = await giveAccount(app, steward.id, { signInName: 'rosalind' })
  ada = await giveAccount(app, 'ada', { signInName: 'ada' })
  await app.signInAs(null)
})
afterAll(() => app?.close())
beforeEach(async () => {
  now = start
  await app.prisma.passkey.deleteMany()
  await app.prisma.attempt.deleteMany()
  await app.prisma.member.updateMany({ data: { leftAt: null } })
})

const party = { rpId: 'localhost', origin: 'http://localhost:80' }
const json = { accept: 'application/json' }

async function signedIn(person: Person): Promise<Browser> {
  const own = browser(app)
  expect((await signInWith(own, person)).statusCode).toBe(303)
  return own
}

const tokenAt = async (own: Browser, path: string) =>
  String(htmlOf((await own.get(path)).payload)('form[data-passkey] input[name=_csrf]').attr('value'))

/** Asks for what a new passkey must be like, as the page's script does. */
async function optionsFor(own: Browser, person: Person, fields: Record<string, string> = {}) {
  const _csrf = await tokenAt(own, '/account/passkeys')
  const { password } = person
  return own.post('/account/passkeys/options', { name: 'My desk', password, _csrf, ...fields }, json)
}

/** Adds a passkey with a device: the answer to the form. */
async function add(
  own: Browser,
  person: Person,
  device: Device,
  at: Partial<typeof party & { challenge: string }> = {},
) {
  const options = await optionsFor(own, person)
  expect(options.statusCode, options.payload).toBe(200)
  const answer = device.make({ challenge: options.json().challenge, ...party, ...at })
  return own.send('/account/passkeys', { name: 'My desk', answer })
}

/** Asks for a challenge at the door, and answers it by `with_`; what that is given may be changed. */
async function enter(
  own: Browser,
  device: Device,
  person: Person,
  change: Partial<typeof party & { challenge: string; handle: string }> = {},
  wait = 0,
) {
  const _csrf = await tokenAt(own, '/sign-in?next=%2Fshelf')
  const options = await own.post('/sign-in/passkey/options', { _csrf }, json)
  expect(options.statusCode).toBe(200)
  expect(options.json()).toMatchObject({ rpId: 'localhost', userVerification: 'preferred' })
  expect(options.json().allowCredentials ?? []).toEqual([])
  const { handle } = await app.prisma.account.findFirstOrThrow({ where: { memberId: person.memberId } })
  const answer = device.use({ challenge: options.json().challenge, handle, ...party, ...change })
  now = new Date(now.getTime() + wait)
  return own.send('/sign-in/passkey', { answer }, '/sign-in?next=%2Fshelf')
}

describe('adding a passkey', () => {
  test('keeps the key, its counter and its transports, and says so in the audit', async () => {
    const device = newDevice({ counter: 7 })
    const own = await signedIn(rosalind)
    const options = await optionsFor(own, rosalind)
    expect(options.json()).toMatchObject({
      rp: { id: 'localhost' },
      attestation: 'none',
      authenticatorSelection: { residentKey: 'required', userVerification: 'preferred' },
    })
    const { handle } = await app.prisma.account.findFirstOrThrow({ where: { memberId: rosalind.memberId } })
    expect(Buffer.from(options.json().user.id, 'base64url').toString()).toBe(handle)
    const added = await add(own, rosalind, device)
    expect([added.statusCode, added.headers.location]).toEqual([303, '/account/passkeys'])
    const kept = await app.prisma.passkey.findFirstOrThrow()
    expect(kept).toMatchObject({ id: device.device.id, counter: 7n, transports: 'internal', name: 'My desk' })
    const event = await app.prisma.securityEvent.findFirstOrThrow({ where: { kind: 'passkey-added' } })
    expect([event.who, event.what]).toEqual(['Rosalind Pike', 'passkey My desk added'])
    // the next one shall not be on the same device
    expect((await optionsFor(own, rosalind)).json().excludeCredentials).toMatchObject([{ id: device.device.id }])
  })

  test('asks for the password first, and gives no challenge for a wrong one', async () => {
    const own = await signedIn(rosalind)
    const refused = await optionsFor(own, rosalind, { password: 'another' })
    expect([refused.statusCode, refused.json().error.fields]).toEqual([
      422,
      { password: 'This is not the password you have now' },
    ])
    expect(own.jar.has('glut_challenge')).toBe(false)
    expect((await optionsFor(own, rosalind, { name: '' })).json().error.fields).toEqual({
      name: 'Enter what the passkey is called',
    })
  })

  test.each([
    ['another site', { origin: 'https://kitchen.example' }],
    ['another name', { rpId: 'kitchen.example' }],
    ['another challenge', { challenge: 'AAAA' }],
  ])('refuses an answer for %s, and keeps what was typed', async (_, change) => {
    const own = await signedIn(rosalind)
    const refused = await add(own, rosalind, newDevice(), change)
    expect(refused.statusCode).toBe(422)
    expect(htmlOf(refused.payload)('.refused').text()).toContain('The passkey was not accepted')
    expect(htmlOf(refused.payload)('#field-name').attr('value')).toBe('My desk')
    expect(await app.prisma.passkey.count()).toBe(0)
  })

  test('refuses a challenge of another’s session, and one of the door', async () => {
    const [own, other] = [await signedIn(rosalind), await signedIn(ada)]
    const { challenge } = (await optionsFor(other, ada)).json()
    own.jar.set('glut_challenge', String(other.jar.get('glut_challenge')))
    const answer = newDevice().make({ challenge, ...party })
    expect((await own.send('/account/passkeys', { name: 'x', answer })).statusCode).toBe(422)
    const _csrf = await tokenAt(browser(app), '/sign-in')
    const door = browser(app)
    const asked = await door.post(
      '/sign-in/passkey/options',
      { _csrf: _csrf && (await tokenAt(door, '/sign-in')) },
      json,
    )
    own.jar.set('glut_challenge', String(door.jar.get('glut_challenge')))
    const second = newDevice().make({ challenge: asked.json().challenge, ...party })
    expect((await own.send('/account/passkeys', { name: 'x', answer: second })).statusCode).toBe(422)
    expect(await app.prisma.passkey.count()).toBe(0)
  })
})

describe('signing in by passkey', () => {
  let device: Device
  beforeEach(async () => {
    device = newDevice()
    expect((await add(await signedIn(rosalind), rosalind, device)).statusCode).toBe(303)
    device.device.counter = 2
  })

  test('begins a session of its owner, and leads on', async () => {
    const own = browser(app)
    const entered = await enter(own, device, rosalind)
    expect([entered.statusCode, entered.headers.location]).toEqual([303, '/shelf'])
    expect(htmlOf((await own.get('/account')).payload)('h1').text()).toBe('Rosalind Pike')
    expect(await app.prisma.passkey.findFirstOrThrow()).toMatchObject({ counter: 2n, lastUsedAt: now })
    const [event] = await app.prisma.securityEvent.findMany({ where: { kind: 'signed-in' }, orderBy: { id: 'asc' } })
    expect(event?.coopId).toBe(app.coopId)
    expect(await app.prisma.securityEvent.count({ where: { what: 'signed in by passkey' } })).toBe(1)
  })

  test.each([
    ['another site', { origin: 'https://kitchen.example' }],
    ['another name', { rpId: 'kitchen.example' }],
    ['another challenge', { challenge: 'AAAA' }],
    ['somebody else’s handle', { handle: 'somebody' }],
  ])('refuses an answer for %s', async (_, change) => {
    const own = browser(app)
    const refused = await enter(own, device, rosalind, change)
    expect([refused.statusCode, own.jar.has('glut_session')]).toEqual([422, false])
    expect(htmlOf(refused.payload)('h1').text()).toBe('Not signed in')
  })

  test('refuses a challenge that is five minutes old', async () => {
    expect((await enter(browser(app), device, rosalind, {}, 5 * 60_000 - 1000)).statusCode).toBe(303)
    device.device.counter = 3
    expect((await enter(browser(app), device, rosalind, {}, 5 * 60_000)).statusCode).toBe(422)
  })

  test('refuses a counter that goes back: a copy of the device', async () => {
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(303)
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(422)
    device.device.counter = 1
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(422)
    device.device.counter = 9
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(303)
  })

  test('takes devices that count nothing', async () => {
    const uncounted = newDevice({ counter: 0 })
    expect((await add(await signedIn(ada), ada, uncounted)).statusCode).toBe(303)
    for (let n = 0; n < 2; n++) expect((await enter(browser(app), uncounted, ada)).statusCode).toBe(303)
  })

  test('refuses an unknown passkey, one that was removed, and one of somebody who left', async () => {
    expect((await enter(browser(app), newDevice(), rosalind)).statusCode).toBe(422)
    await app.prisma.member.updateMany({ where: { id: rosalind.memberId }, data: { leftAt: now } })
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(422)
    await app.prisma.member.updateMany({ data: { leftAt: null } })
    const own = await signedIn(rosalind)
    const removal = htmlOf((await own.get('/account/passkeys')).payload)('td a').attr('href') ?? ''
    expect((await own.send(removal, {})).statusCode).toBe(303)
    expect((await enter(browser(app), device, rosalind)).statusCode).toBe(422)
  })

  test('of which one answer opens one session, also when it comes five times at once', async () => {
    const own = browser(app)
    const _csrf = await tokenAt(own, '/sign-in')
    const { challenge } = (await own.post('/sign-in/passkey/options', { _csrf }, json)).json()
    const { handle } = await app.prisma.account.findFirstOrThrow({ where: { memberId: rosalind.memberId } })
    const answer = device.use({ challenge, handle, ...party })
    const cookie = [...own.jar].map(([name, value]) => `${name}=${encodeURIComponent(value)}`).join('; ')
    const sent = await Promise.all(
      Array.from({ length: 5 }, () => browser(app).post('/sign-in/passkey', { answer, _csrf }, { cookie })),
    )
    expect(sent.map(({ statusCode }) => statusCode).sort()).toEqual([303, 422, 422, 422, 422])
  })
})

test('another’s passkeys are neither shown nor removed, and the only way in stays', async () => {
  const own = await signedIn(rosalind)
  await add(own, rosalind, newDevice())
  const removal = htmlOf((await own.get('/account/passkeys')).payload)('td a').attr('href') ?? ''
  const other = await signedIn(ada)
  expect((await other.get(removal)).statusCode).toBe(404)
  expect(htmlOf((await other.get('/account/passkeys')).payload)('table').length).toBe(0)
  const mine = { coopId_memberId: { coopId: app.coopId, memberId: rosalind.memberId } }
  const { passwordHash } = await app.prisma.account.findUniqueOrThrow({ where: mine })
  await app.prisma.account.update({ where: mine, data: { passwordHash: null } })
  expect(htmlOf((await own.get(removal)).payload)('.lead').text()).toContain('the only way in')
  expect(htmlOf((await own.get(removal)).payload)('main form').length).toBe(0)
  await app.prisma.account.update({ where: mine, data: { passwordHash } })
})

test('a member without an account has no use of it, and is told so', async () => {
  const { coopId, householdId } = app
  await app.prisma.member.create({ data: { coopId, id: 'guest', householdId, name: 'Guest', role: 'member' } })
  await app.signInAs('guest')
  const $ = await app.getPage('/account/passkeys')
  expect($('form[data-passkey]').length).toBe(0)
  expect($('main').text()).toContain('You have no account here')
  await app.signInAs(null)
})
