import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { hashOfSetUpCode } from '../../../src/features/accounts/set-up/code.ts'
import { askedCode, offerInWords, offerSetUp } from '../../../src/features/accounts/set-up/offer.ts'
import { randomSecret } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, htmlOf, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { browser, giveAccount, signInWith } from './people.ts'

let on: TestApp
let now: Date
const password = `four plain words ${randomSecret()}`
const coop = {
  name: 'Plum Row',
  town: 'Nether Ansley',
  altitudeM: '1000 ft',
  units: 'us',
  timeZone: 'Europe/London',
  locale: 'en-GB',
  currency: 'gbp',
}
const you = { household: 'Lind', people: '3', steward: 'Bea Lind', signInName: 'Bea', mail: 'bea@kitchen.example' }
const all = { ...coop, ...you, newPassword: password }

async function begin(options: Parameters<typeof testApp>[0] = { coop: false }): Promise<void> {
  on = await testApp(options)
  now = on.app.clock.now()
  on.app.clock.now = () => now
  await on.signInAs(null)
}
afterEach(() => on?.close())

const offered = async (settings: { demo?: boolean; setUpCode?: string | null } = {}) =>
  offerSetUp(on.prisma, { demo: false, setUpCode: null, ...settings }, now)

describe('SEC-005 the first co-op', () => {
  beforeEach(() => begin())

  test('is set up by the code that was printed, in one step, and its steward is signed in', async () => {
    const offer = await offered()
    const code = offer?.code ?? ''
    expect(offer && offerInWords(offer, 'http://localhost:8080/')).toBe(
      `There is no co-op of your own yet. Set one up at http://localhost:8080/set-up with this code, which works once: ${code}`,
    )
    expect(JSON.stringify(await on.prisma.setUpCode.findMany())).not.toContain(code.slice(0, 9))

    const visitor = browser(on)
    expect((await visitor.get('/lots')).headers.location).toBe('/sign-in?next=%2Flots')
    expect((await visitor.get('/sign-in?next=%2Flots')).headers.location).toBe('/set-up')
    const $ = expectSoundPage((await visitor.get('/set-up')).payload)
    expect(textAt($, 'h1')).toBe('Set up a co-op')
    expect($('[name=newPassword]').attr('autocomplete')).toBe('new-password')
    const founded = await visitor.send('/set-up', { setUpCode: code.toLowerCase().replaceAll('-', ' '), ...all })
    expect(founded.statusCode).toBe(303)
    expect(founded.headers.location).toBe('/')

    const today = expectSoundPage((await visitor.get('/')).payload)
    expect(textsAt(today, '.masthead a')).toEqual(['Plum Row', 'Signed in as Bea Lind'])
    const { id, ...row } = await on.prisma.coop.findFirstOrThrow({ omit: { createdAt: true } })
    expect(row).toEqual({
      ...coop,
      altitudeM: 305,
      currency: 'GBP',
      demonstration: false,
      batchesNumbered: 0,
    })
    const household = await on.prisma.household.findFirstOrThrow()
    expect(household).toMatchObject({ coopId: id, name: 'Lind', people: 3 })
    const member = await on.prisma.member.findFirstOrThrow({ include: { account: true } })
    expect(member).toMatchObject({ coopId: id, householdId: household.id, name: 'Bea Lind', role: 'steward' })
    expect(member.account).toMatchObject({ signInName: 'bea', mail: 'bea@kitchen.example' })
    expect(member.account?.passwordHash).toMatch(/^\$argon2id\$/)
    expect(await on.prisma.securityEvent.findMany()).toMatchObject([
      { kind: 'set-up', coopId: id, who: 'Bea Lind', what: 'set up by Bea Lind' },
    ])

    // pages of a co-op that has nothing yet are all there
    for (const path of [
      '/lots',
      '/plans',
      '/shelf',
      '/shelf/places',
      '/coop',
      '/shares',
      '/shares/rule',
      '/labels',
      '/account',
    ]) {
      const page = await visitor.get(path)
      if (page.statusCode !== 404) expect(page.statusCode, path).toBe(200)
    }
    expect((await signInWith(browser(on), { signInName: 'BEA@kitchen.example', password })).statusCode).toBe(303)
  })

  test('can be set up once: the door is closed for good afterwards, to the same code as well', async () => {
    const [first, second] = [await offered(), await offered()]
    // of two processes that start together both codes hold, until one is used
    expect(await on.prisma.setUpCode.count({ where: { usedAt: null } })).toBe(2)
    const rivals = [browser(on), browser(on), browser(on)]
    const codes = [first?.code, second?.code, first?.code]
    const pages = await Promise.all(rivals.map((one) => one.get('/set-up')))
    const answers = await Promise.all(
      rivals.map((one, n) =>
        one.post('/set-up', {
          _csrf: String(htmlOf(pages[n]?.payload ?? '')('[name=_csrf]').attr('value')),
          ...all,
          people: '2',
          setUpCode: codes[n] ?? '',
        }),
      ),
    )
    expect(answers.filter(({ statusCode }) => statusCode === 303)).toHaveLength(1)
    expect(await on.prisma.coop.count()).toBe(1)
    expect(await on.prisma.account.count()).toBe(1)
    for (const code of codes) {
      const closed = await browser(on).get('/set-up')
      expect(closed.statusCode).toBe(404)
      expect(textAt(expectSoundPage(closed.payload), 'main')).toContain('Nothing can be set up here now')
      const late = browser(on)
      const token = String(htmlOf((await late.get('/sign-in')).payload)('[name=_csrf]').attr('value'))
      expect((await late.post('/set-up', { _csrf: token, ...all, setUpCode: code ?? '' })).statusCode).toBe(404)
    }
    expect(await offered()).toBeNull()
    expect(await on.prisma.coop.count()).toBe(1)
  })

  test('is refused without the code, and what was typed is kept, save the password', async () => {
    const offer = await offered()
    for (const [fields, problems] of [
      [{ setUpCode: '' }, ['Enter the code that the service printed when it was started']],
      [{ setUpCode: '0000-0000-0000-0000-0000' }, [/^This is not the code/]],
      [
        { name: '', currency: 'pounds', timeZone: 'Nowhere/City', people: '0' },
        [
          'Enter the co-op’s name',
          'Choose the time zone of the kitchen',
          /^Enter the three letters of a currency/,
          /^Enter how many people eat there/,
        ],
      ],
      [{ currency: 'JPY' }, [/^Enter the three letters of a currency that has hundredths/]],
      [{ newPassword: 'iloveyou' }, [/most common passwords/]],
      [{ newPassword: 'Plum Row' }, [/guessed at once/]],
      [{ signInName: 'bea@lind' }, [/^Enter a name of 2 to 40 letters/]],
    ] as const) {
      const visitor = browser(on)
      const refused = await visitor.send('/set-up', { ...all, setUpCode: offer?.code ?? '', ...fields })
      expect(refused.statusCode, JSON.stringify(fields)).toBe(422)
      const $ = expectSoundPage(refused.payload)
      expect(problemsIn($)).toEqual(problems.map((one) => expect.stringMatching(one)))
      expect($('[name=town]').attr('value')).toBe('Nether Ansley')
      expect($('[name=newPassword]').attr('value')).toBe('')
      // what is gone without being wrong is said
      expect(textAt($, 'main form').includes('Type it again')).toBe(!('newPassword' in fields))
      expect(refused.payload).not.toContain(password)
      expect(visitor.jar.has('glut_session')).toBe(false)
      await on.prisma.attempt.deleteMany()
    }
    expect(await on.prisma.coop.count()).toBe(0)
    expect(await on.prisma.account.count()).toBe(0)
  })

  test('is slowed when codes are guessed', async () => {
    const offer = await offered()
    const visitor = browser(on)
    for (let n = 0; n < 5; n++) await visitor.send('/set-up', { ...all, setUpCode: `0000-0000-0000-0000-000${n}` })
    const refused = await visitor.send('/set-up', { ...all, setUpCode: offer?.code ?? '' })
    expect(refused.statusCode).toBe(429)
    expect(problemsIn(htmlOf(refused.payload))).toEqual([
      'There were too many wrong codes. Wait 30 seconds, then try again',
    ])
    now = new Date(now.getTime() + 30_000)
    expect((await visitor.send('/set-up', { ...all, setUpCode: offer?.code ?? '' })).statusCode).toBe(303)
  })

  test('can be set up by a code from the settings, which works once however often the service starts', async () => {
    const setUpCode = randomSecret()
    const offer = await offered({ setUpCode })
    expect(offer).toEqual({ path: '/set-up', code: null, why: 'first' })
    expect(offer && offerInWords(offer, 'https://kitchen.example/')).not.toContain(setUpCode)
    expect((await browser(on).send('/set-up', { ...all, setUpCode })).statusCode).toBe(303)
    expect(await offered({ setUpCode })).toBeNull()
    expect((await browser(on).get('/set-up')).statusCode).toBe(404)
  })
})

describe('a co-op from before there were accounts', () => {
  beforeEach(() => begin({}))

  test('is opened for its steward by the code, and stays as it is', async () => {
    const offer = await offered({ demo: true })
    expect(offer?.why).toBe('locked')
    const before = await on.prisma.coop.findMany()
    const visitor = browser(on)
    const $ = expectSoundPage((await visitor.get('/set-up')).payload)
    expect(textAt($, 'h1')).toBe('Open Larkrise Lane Kitchen for its steward')
    const { signInName, mail } = you
    const wrong = await visitor.send('/set-up', { signInName, mail, newPassword: password, setUpCode: 'x'.repeat(20) })
    expect(problemsIn(htmlOf(wrong.payload))).toEqual([expect.stringMatching(/^This is not the code/)])
    const fields = { signInName, mail, newPassword: password, setUpCode: offer?.code ?? '' }
    expect((await visitor.send('/set-up', fields)).statusCode).toBe(303)
    expect(textAt(htmlOf((await visitor.get('/account')).payload), 'h1')).toBe('Rosalind Pike')
    expect(await on.prisma.coop.findMany()).toEqual(before)
    expect((await browser(on).get('/set-up')).statusCode).toBe(404)
    expect(await offered({ demo: true })).toBeNull()
  })
})

describe('a further co-op on the same service', () => {
  test('is set up by a code that was asked for, within a day, and sees nothing of the first', async () => {
    await begin({})
    const rosalind = await giveAccount(on, 'rosalind', { signInName: 'rosalind' })
    expect(await offered()).toBeNull()
    expect((await browser(on).get('/set-up')).statusCode).toBe(404)
    expect(htmlOf((await browser(on).get('/sign-in')).payload)('main a[href="/set-up"]').length).toBe(0)
    const late = await askedCode(on.prisma, now)
    now = new Date(now.getTime() + 24 * 3_600_000)
    expect((await browser(on).get('/set-up')).statusCode).toBe(404)
    expect(await on.prisma.setUpCode.count({ where: { codeHash: hashOfSetUpCode(late) } })).toBe(1)

    const code = await askedCode(on.prisma, now)
    const visitor = browser(on)
    expect(htmlOf((await visitor.get('/sign-in')).payload)('main a[href="/set-up"]').length).toBe(1)
    const taken = await visitor.send('/set-up', { ...all, signInName: 'rosalind', setUpCode: code })
    expect(problemsIn(htmlOf(taken.payload))).toEqual(['Somebody has this name already: choose another'])
    expect(await on.prisma.coop.count()).toBe(1)
    expect((await visitor.send('/set-up', { ...all, setUpCode: code })).statusCode).toBe(303)
    expect(await on.prisma.coop.count()).toBe(2)
    const page = (await visitor.get('/coop')).payload
    expect(page).toContain('Plum Row')
    expect(page).not.toContain('Larkrise')
    const first = browser(on)
    await signInWith(first, rosalind)
    expect((await first.get('/coop')).payload).not.toContain('Plum Row')
  })
})
