import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { addressPace } from '../../../src/features/accounts/signing-in.ts'
import { randomSecret } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { htmlOf, problemsIn } from '../../support/html.ts'
import { type Browser, browser, giveAccount, type Person, signInWith } from './people.ts'

let on: TestApp
let rosalind: Person
let now: Date
const later = (seconds: number) => {
  now = new Date(now.getTime() + seconds * 1000)
}

beforeAll(async () => {
  on = await testApp({ environment: { TRUST_PROXY: 'yes' } })
  now = on.app.clock.now()
  on.app.clock.now = () => now
  rosalind = await giveAccount(on, 'rosalind', { signInName: 'rosalind', mail: 'rosalind@kitchen.example' })
  await on.signInAs(null)
})
afterAll(() => on?.close())
beforeEach(async () => {
  await on.prisma.attempt.deleteMany()
})

const wrong = (visitor: Browser, signInName = 'rosalind') =>
  signInWith(visitor, { signInName, password: randomSecret() })
let addresses = 0
/** Each from another network, as a guesser with many machines would. */
const stranger = () => {
  addresses += 1
  return browser(on, { address: `198.51.${Math.floor(addresses / 250)}.${(addresses % 250) + 1}` })
}

describe('SEC-007 failed tries', () => {
  test('slow the name, by whatever address they come, and the right password waits as well', async () => {
    for (let n = 0; n < 5; n++) expect((await wrong(stranger())).statusCode).toBe(422)
    const refused = await signInWith(stranger(), rosalind)
    expect(refused.statusCode).toBe(429)
    expect(refused.headers['retry-after']).toBe('30')
    expect(problemsIn(htmlOf(refused.payload))).toEqual([
      'There were too many wrong tries for this name or from this address. Wait 30 seconds, then try again: until then the right password does not help either.',
    ])
    // by the mail address it is the same account
    expect((await signInWith(stranger(), { ...rosalind, signInName: 'rosalind@kitchen.example' })).statusCode).toBe(429)
    later(29)
    expect((await signInWith(stranger(), rosalind)).statusCode).toBe(429)
    later(1)
    expect((await signInWith(stranger(), rosalind)).statusCode).toBe(303)
    // and then all is forgotten
    expect((await wrong(stranger())).statusCode).toBe(422)
  })

  test('never keep anybody out for longer than a quarter of an hour', async () => {
    let waited = 0
    for (let n = 0; n < 40; n++) {
      const answer = await wrong(stranger())
      if (answer.statusCode === 422) continue
      const wait = Number(answer.headers['retry-after'])
      expect(wait).toBeLessThanOrEqual(15 * 60)
      waited = Math.max(waited, wait)
      later(wait)
    }
    expect(waited).toBe(15 * 60)
    later(15 * 60)
    expect((await signInWith(stranger(), rosalind)).statusCode).toBe(303)
  })

  test('answer the same for a name that nobody has', async () => {
    const answers = []
    for (const name of ['rosalind', 'nobody-here']) {
      for (let n = 0; n < 5; n++) expect((await wrong(stranger(), name)).statusCode).toBe(422)
      const refused = await wrong(stranger(), name)
      answers.push([refused.statusCode, refused.headers['retry-after'], problemsIn(htmlOf(refused.payload))])
    }
    expect(answers[1]).toEqual(answers[0])
  })

  test('slow the address as well, whatever the names, and less than a name', async () => {
    const address = '203.0.113.9'
    for (let n = 0; n < addressPace.freeTries; n++) {
      expect((await wrong(browser(on, { address }), `name-${n}`)).statusCode).toBe(422)
    }
    const refused = await wrong(browser(on, { address }), 'one-more')
    expect(refused.statusCode).toBe(429)
    expect(refused.headers['retry-after']).toBe(String(addressPace.firstWaitSeconds))
    // the whole household comes from there: it waits a minute at most, and others do not wait
    expect(addressPace.longestWaitSeconds).toBe(60)
    expect((await signInWith(browser(on, { address: '203.0.113.10' }), rosalind)).statusCode).toBe(303)
    later(addressPace.firstWaitSeconds)
    expect((await signInWith(browser(on, { address }), rosalind)).statusCode).toBe(303)
  })

  test('are counted by the address that the trusted proxy saw, whatever the visitor claims', async () => {
    const visitor = browser(on)
    const token = String(htmlOf((await visitor.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
    const from = (forwarded: string, name: string) =>
      visitor.post('/sign-in', { _csrf: token, name, password: randomSecret() }, { 'x-forwarded-for': forwarded })
    for (let n = 0; n < addressPace.freeTries; n++) {
      expect((await from(`10.1.1.${n}, 203.0.113.77`, `name-${n}`)).statusCode).toBe(422)
    }
    expect((await from('10.9.9.9, 203.0.113.77', 'one-more')).statusCode).toBe(429)
    expect((await from('203.0.113.77, 203.0.113.78', 'one-more')).statusCode).toBe(422)
  })

  test('do not keep out whoever is or was signed in on this device', async () => {
    const own = browser(on, { address: '192.0.2.1' })
    await signInWith(own, rosalind)
    const away = browser(on, { address: '192.0.2.2' })
    await signInWith(away, rosalind)
    for (let n = 0; n < 8; n++) await wrong(stranger())
    expect((await signInWith(stranger(), rosalind)).statusCode).toBe(429)
    expect((await signInWith(own, rosalind)).statusCode).toBe(303)
    // even when the session is over for want of use
    later(20 * 86_400)
    for (let n = 0; n < 8; n++) await wrong(stranger())
    expect((await away.get('/account')).statusCode).toBe(303)
    expect((await signInWith(away, rosalind)).statusCode).toBe(303)
    // but such a device has no more tries than a name has
    for (let n = 0; n < 5; n++) expect((await wrong(away)).statusCode).toBe(422)
    expect((await wrong(away)).statusCode).toBe(429)
  })

  test('count when they come at the same moment, and to two processes on one database', async () => {
    const second = await testApp({
      database: {
        prisma: on.prisma,
        kind: 'server',
        checkReady: async () => ({ ready: true }),
        close: async () => {},
        withMigrationConnection: async () => {
          throw new Error('nobody migrates here')
        },
      },
    })
    second.app.clock.now = () => now
    await second.signInAs(null)
    const all = await Promise.all(
      Array.from({ length: 24 }, (_, n) =>
        signInWith(browser(n % 2 === 0 ? on : second, { address: `192.0.2.${n + 10}` }), {
          signInName: 'rosalind',
          password: randomSecret(),
        }),
      ),
    )
    expect(all.filter(({ statusCode }) => statusCode === 422)).toHaveLength(5)
    expect(all.filter(({ statusCode }) => statusCode === 429)).toHaveLength(19)
    await second.close()
  })

  test('are swept a day after', async () => {
    await wrong(stranger())
    expect(await on.prisma.attempt.count()).toBe(2)
    later(86_401)
    await wrong(stranger(), 'another')
    expect(await on.prisma.attempt.count()).toBe(2)
  })
})
