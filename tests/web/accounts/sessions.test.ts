import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { hashOfSecret, lifetimes, randomSecret } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, htmlOf, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { type Browser, browser, giveAccount, type Person, signInWith } from './people.ts'

const DAY = 86_400
const PHONE = 'Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0'

let on: TestApp
let rosalind: Person
let now: Date
const later = (seconds: number) => {
  now = new Date(now.getTime() + seconds * 1000)
}
beforeAll(async () => {
  on = await testApp()
  now = on.app.clock.now()
  on.app.clock.now = () => now
  rosalind = await giveAccount(on, 'rosalind', { signInName: 'rosalind' })
  await on.signInAs(null)
})
afterAll(() => on?.close())
beforeEach(async () => {
  await on.prisma.session.deleteMany()
  await on.prisma.attempt.deleteMany()
})

async function signedIn(agent?: string): Promise<Browser> {
  const visitor = browser(on, agent === undefined ? {} : { agent })
  expect((await signInWith(visitor, rosalind)).statusCode).toBe(303)
  return visitor
}
const isIn = async (visitor: Browser) => (await visitor.get('/account')).statusCode === 200

describe('a session', () => {
  test('SEC-010 has a token of 256 bits by chance, of which the database has the hash alone', async () => {
    const tokens = []
    for (let n = 0; n < 3; n++) tokens.push((await signedIn()).jar.get('glut_session') ?? '')
    expect(new Set(tokens).size).toBe(3)
    for (const token of tokens) expect(Buffer.from(token, 'base64url').length).toBe(32)
    const kept = await on.prisma.session.findMany()
    expect(kept.map(({ tokenHash }) => tokenHash).sort()).toEqual(tokens.map(hashOfSecret).sort())
    for (const token of tokens) expect(JSON.stringify(kept)).not.toContain(token)
  })

  test('SEC-011 is a new one with each signing in, and what the browser came with opens nothing any more', async () => {
    // somebody planted the token of their own session in this browser
    const planter = await signedIn()
    const planted = planter.jar.get('glut_session') ?? ''
    const victim = browser(on)
    victim.jar.set('glut_session', planted)
    await signInWith(victim, rosalind)
    expect(victim.jar.get('glut_session')).not.toBe(planted)
    expect(await isIn(victim)).toBe(true)
    expect(await isIn(planter)).toBe(false)
    // nor does one that was never given out come to life
    const made = browser(on)
    const invented = randomSecret()
    made.jar.set('glut_session', invented)
    await signInWith(made, rosalind)
    expect(made.jar.get('glut_session')).not.toBe(invented)
    made.jar.set('glut_session', invented)
    expect(await isIn(made)).toBe(false)
  })

  test('SEC-012 ends with signing out, at once and for whoever has its token', async () => {
    const visitor = await signedIn()
    const token = visitor.jar.get('glut_session') ?? ''
    const out = await visitor.send('/sign-out', {}, '/account')
    expect(out.statusCode).toBe(303)
    expect(out.headers.location).toBe('/sign-in')
    expect(visitor.jar.has('glut_session')).toBe(false)
    visitor.jar.set('glut_session', token)
    expect(await isIn(visitor)).toBe(false)
  })

  test('SEC-012 ends when the member leaves, and with the account', async () => {
    const visitor = await signedIn()
    await on.prisma.member.updateMany({ where: { id: 'rosalind' }, data: { leftAt: now } })
    expect(await isIn(visitor)).toBe(false)
    expect((await signInWith(browser(on), rosalind)).statusCode).toBe(422)
    await on.prisma.member.updateMany({ where: { id: 'rosalind' }, data: { leftAt: null } })
  })

  test('SEC-013 ends after 14 days without use', async () => {
    const [used, left] = [await signedIn(), await signedIn()]
    for (let days = 0; days < 28; days += 7) {
      later(7 * DAY)
      expect(await isIn(used), `day ${days + 7}`).toBe(true)
    }
    expect(await isIn(left)).toBe(false)
    expect(lifetimes.person).toEqual({ idleDays: 14, days: 90 })
    const edge = await signedIn()
    later(14 * DAY)
    expect(await isIn(edge)).toBe(true)
    later(14 * DAY + 1)
    expect(await isIn(edge)).toBe(false)
  })

  test('SEC-013 ends after 90 days, however much it is used', async () => {
    const visitor = await signedIn()
    for (let days = 10; days < 90; days += 10) {
      later(10 * DAY)
      expect(await isIn(visitor), `day ${days}`).toBe(true)
    }
    later(10 * DAY - 1)
    expect(await isIn(visitor)).toBe(true)
    later(1)
    expect(await isIn(visitor)).toBe(false)
    // and is taken away when somebody signs in
    await signedIn()
    expect(await on.prisma.session.count()).toBe(1)
  })
})

describe('SEC-014 the devices on which one is signed in', () => {
  test('are listed with what they are and when they were used, and none of anybody else', async () => {
    await on.prisma.member.create({
      data: { coopId: on.coopId, id: 'bea', householdId: on.householdId, name: 'Bea Lind', role: 'member' },
    })
    const bea = await giveAccount(on, 'bea', { signInName: 'bea' })
    const beas = browser(on, { agent: 'curl/8.0' })
    await signInWith(beas, bea)
    const desk = await signedIn()
    later(3600)
    const phone = await signedIn(PHONE)
    const $ = expectSoundPage((await phone.get('/account')).payload)
    const listed = textsAt($, '.devices p')
    expect(listed).toHaveLength(2)
    expect(listed[0]).toMatch(/^Firefox on Android, this one ?used .* signed in /)
    expect(listed[1]).toMatch(/^Firefox on Linux ?used /)

    const others = await on.prisma.session.findFirstOrThrow({ where: { memberId: 'bea' } })
    const foreign = await phone.post(`/account/devices/${others.id}/end`, {
      _csrf: String($('[name=_csrf]').first().attr('value')),
      _submission: 'abcdefgh2345',
    })
    expect(foreign.statusCode).toBe(404)
    expect(await isIn(beas)).toBe(true)

    const action = String($('.devices form').attr('action'))
    expect((await phone.send(action, {}, '/account')).headers.location).toBe('/account')
    expect(await isIn(desk)).toBe(false)
    expect(await isIn(phone)).toBe(true)
  })

  test('are all ended but this one, or all', async () => {
    const [here, desk, phone] = [await signedIn(), await signedIn(), await signedIn(PHONE)]
    expect((await here.send('/account/devices/end-others', {}, '/account')).headers.location).toBe('/account')
    expect([await isIn(here), await isIn(desk), await isIn(phone)]).toEqual([true, false, false])
    expect((await here.get('/account')).payload).not.toContain('Sign out on all others')
    const desk2 = await signedIn()
    const listed = textsAt(htmlOf((await here.get('/account')).payload), '.devices li')
    expect(listed.map((one) => one.includes('this one'))).toEqual([true, false])
    const out = await here.send('/account/sign-out-everywhere', {}, '/account')
    expect(out.headers.location).toBe('/sign-in')
    expect(here.jar.has('glut_session')).toBe(false)
    expect(await isIn(desk2)).toBe(false)
    expect(await on.prisma.session.count({ where: { memberId: 'rosalind' } })).toBe(0)
    const kinds = await on.prisma.securityEvent.findMany({ where: { kind: 'sessions-ended' } })
    expect(kinds.map(({ what }) => what)).toContain('signed out on all other devices (2)')
  })
})

describe('a device that was signed out', () => {
  const words = 'You are signed out on this device. Sign in to go on.'
  /** What the door says to a browser that was on its way to its shelf. */
  async function door(visitor: Browser) {
    const led = await visitor.get('/shelf?q=plum')
    expect([led.statusCode, led.headers.location]).toEqual([303, '/sign-in?next=%2Fshelf%3Fq%3Dplum'])
    const shown = await visitor.get(String(led.headers.location))
    expect(shown.statusCode).toBe(200)
    const $ = expectSoundPage(shown.payload)
    expect($('form[action="/sign-in"] [name=next]').attr('value')).toBe('/shelf?q=plum')
    return { said: textsAt($, '.lead'), page: alike(shown.payload) }
  }
  /** The page without what is new in each. */
  const alike = (payload: string) => payload.replace(/(name="_csrf" value=")[^"]*|nonce="[^"]*"/g, '$1')

  test('is told so at the door, wherever it was ended, and then led to where it was going', async () => {
    const [elsewhere, everywhere] = [await signedIn(), await signedIn(PHONE)]
    await everywhere.send('/account/devices/end-others', {}, '/account')
    expect((await door(elsewhere)).said).toEqual([words])
    const other = await signedIn()
    await other.send('/account/sign-out-everywhere', {}, '/account')
    expect((await door(everywhere)).said).toEqual([words])
    // a wrong password does not hide it
    const wrong = await everywhere.send('/sign-in', { name: 'rosalind', password: randomSecret() })
    expect([wrong.statusCode, textsAt(htmlOf(wrong.payload), '.lead')]).toEqual([422, [words]])
    const entered = await signInWith(everywhere, rosalind, '/shelf?q=plum')
    expect([entered.statusCode, entered.headers.location]).toEqual([303, '/shelf?q=plum'])
  })

  test('is told the same whether its session ended, ran out or never was', async () => {
    const [ended, ranOut, left, invented] = [await signedIn(), await signedIn(), await signedIn(), browser(on)]
    await on.prisma.session.delete({
      where: { tokenHash: hashOfSecret(ended.jar.get('glut_session') ?? '') },
    })
    await on.prisma.session.update({
      where: { tokenHash: hashOfSecret(ranOut.jar.get('glut_session') ?? '') },
      data: { expiresAt: now },
    })
    await on.prisma.session.update({
      where: { tokenHash: hashOfSecret(left.jar.get('glut_session') ?? '') },
      data: { lastUsedAt: new Date(now.getTime() - 15 * DAY * 1000) },
    })
    invented.jar.set('glut_session', randomSecret())
    const garbled = browser(on)
    garbled.jar.set('glut_session', 'no token at all')
    const told = []
    for (const visitor of [ended, ranOut, left, invented, garbled]) told.push(await door(visitor))
    expect(told.map(({ said }) => said)).toEqual(told.map(() => [words]))
    expect(new Set(told.map(({ page }) => page)).size).toBe(1)
  })

  test('says nothing to whoever has no session, signed out here, or is signed in', async () => {
    expect((await door(browser(on))).said).toEqual([])
    const out = await signedIn()
    await out.send('/sign-out', {}, '/account')
    expect((await door(out)).said).toEqual([])
    const here = await signedIn()
    const shown = await here.get('/sign-in')
    expect(textsAt(htmlOf(shown.payload), '.lead')).toEqual([])
  })
})

describe('the own password', () => {
  test('SEC-004 SEC-014 is changed by whoever knows it; all other devices are signed out', async () => {
    const [here, desk] = [await signedIn(), await signedIn()]
    const form = expectSoundPage((await here.get('/account/password')).payload)
    expect(form('[name=currentPassword]').attr('autocomplete')).toBe('current-password')
    expect(form('[name=newPassword]').attr('autocomplete')).toBe('new-password')

    const next = `other plain words ${randomSecret()}`
    const before = await on.prisma.account.findFirstOrThrow({ where: { memberId: 'rosalind' } })
    for (const [fields, problem] of [
      [{ currentPassword: randomSecret(), newPassword: next }, 'This is not the password you have now'],
      [{ currentPassword: '', newPassword: next }, 'Enter the password you have now'],
      [{ currentPassword: rosalind.password, newPassword: 'short' }, 'Use 8 characters or more; 15 are better'],
      [{ currentPassword: rosalind.password, newPassword: 'Larkrise Lane Kitchen' }, /guessed at once/],
      [{ currentPassword: rosalind.password, newPassword: 'iloveyou' }, /most common passwords/],
    ] as const) {
      const refused = await here.send('/account/password', fields)
      expect(refused.statusCode).toBe(422)
      const $ = expectSoundPage(refused.payload)
      expect(problemsIn($)).toEqual([expect.stringMatching(problem)])
      for (const field of ['currentPassword', 'newPassword']) expect($(`[name=${field}]`).attr('value')).toBe('')
    }
    expect(await on.prisma.account.findFirst({ where: { memberId: 'rosalind' } })).toEqual(before)
    expect(await isIn(desk)).toBe(true)

    const changed = await here.send('/account/password', { currentPassword: rosalind.password, newPassword: next })
    expect(changed.headers.location).toBe('/account')
    expect([await isIn(here), await isIn(desk)]).toEqual([true, false])
    expect((await signInWith(browser(on), rosalind)).statusCode).toBe(422)
    rosalind = { ...rosalind, password: next }
    expect((await signInWith(browser(on), rosalind)).statusCode).toBe(303)
    // what is kept of forms that were sent has nothing of it
    const kept = JSON.stringify([await on.prisma.submission.findMany(), await on.prisma.securityEvent.findMany()])
    expect(kept).not.toContain(next)
    expect(kept).toContain('changed the own password')
  })

  test('is slowed when it is guessed at from within', async () => {
    const here = await signedIn()
    const guess = () => here.send('/account/password', { currentPassword: randomSecret(), newPassword: randomSecret() })
    for (let n = 0; n < 5; n++) await guess()
    const refused = await here.send('/account/password', {
      currentPassword: rosalind.password,
      newPassword: randomSecret(),
    })
    expect(problemsIn(htmlOf(refused.payload))).toEqual([
      'There were too many wrong passwords. Wait 30 seconds, then try again',
    ])
  })
})

describe('the own names', () => {
  test('are changed: how others read one, and what is typed at the door', async () => {
    const here = await signedIn()
    expect((await here.send('/account/name', { name: 'Rosalind Pike-Lind' })).headers.location).toBe('/account')
    const $ = expectSoundPage((await here.get('/account')).payload)
    expect(textAt($, 'h1')).toBe('Rosalind Pike-Lind')
    expect(textAt($, '.who')).toBe('Signed in as Rosalind Pike-Lind')

    const fields = { signInName: 'Ros.Pike', mail: 'Ros@Kitchen.Example' }
    const without = await here.send('/account/sign-in-name', { ...fields, currentPassword: randomSecret() })
    expect(problemsIn(htmlOf(without.payload))).toEqual(['This is not the password you have now'])
    for (const [given, problem] of [
      [{ ...fields, signInName: 'BEA' }, 'Somebody has this name already: choose another'],
      [{ ...fields, signInName: 'ros@pike' }, /^Enter a name of 2 to 40 letters/],
      [{ ...fields, mail: 'ros at kitchen' }, /^Enter a mail address like/],
    ] as const) {
      const refused = await here.send('/account/sign-in-name', { ...given, currentPassword: rosalind.password })
      expect(problemsIn(htmlOf(refused.payload))).toEqual([expect.stringMatching(problem)])
    }
    const taken = await here.send('/account/sign-in-name', { ...fields, currentPassword: rosalind.password })
    expect(taken.headers.location).toBe('/account')
    expect((await signInWith(browser(on), { ...rosalind, signInName: 'ros@kitchen.example' })).statusCode).toBe(303)
    expect((await signInWith(browser(on), { ...rosalind, signInName: 'ros.pike' })).statusCode).toBe(303)
    expect((await signInWith(browser(on), rosalind)).statusCode).toBe(422)
    rosalind = { ...rosalind, signInName: 'ros.pike' }
  })
})

describe('SEC-015 the cookies', () => {
  test('on plain http are closed to scripts and other sites, and the account says that nothing is encrypted', async () => {
    const visitor = browser(on)
    const answer = await signInWith(visitor, rosalind)
    const cookie = answer.cookies.find(({ name }) => name === 'glut_session')
    expect(cookie).toMatchObject({ path: '/', httpOnly: true, sameSite: 'Lax', maxAge: 90 * DAY })
    expect(cookie?.secure).toBeUndefined()
    expect((await visitor.get('/account')).payload).toContain('this service knows of no https address')
  })

  test('with an https address are Secure and bound to the host by the browser', async () => {
    const safe = await testApp({ environment: { PUBLIC_ADDRESS: 'https://kitchen.example', TRUST_PROXY: 'yes' } })
    const person = await giveAccount(safe, 'rosalind', { signInName: 'rosalind' })
    await safe.signInAs(null)
    const visitor = browser(safe)
    const answer = await signInWith(visitor, person)
    expect(answer.statusCode).toBe(303)
    const set = [answer.headers['set-cookie']].flat().find((one) => one?.startsWith('__Host-glut_session='))
    expect(set).toMatch(/^__Host-glut_session=[\w-]{43}; Max-Age=7776000; Path=\/; HttpOnly; Secure; SameSite=Lax$/)
    const page = await visitor.get('/account')
    expect(page.statusCode).toBe(200)
    expect(page.payload).not.toContain('this service knows of no https address')
    expect(page.headers['strict-transport-security']).toMatch(/max-age=31536000/)
    for (const name of visitor.jar.keys()) expect(name).toMatch(/^__Host-/)
    // the plain name, which any page of the network could have set, opens nothing
    const plain = browser(safe)
    plain.jar.set('glut_session', visitor.jar.get('__Host-glut_session') ?? '')
    expect((await plain.get('/account')).statusCode).toBe(303)
    await safe.close()
  })
})
