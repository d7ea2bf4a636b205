import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

/** What is changed in a form that is right, and what is said about it. */
type Wrong = [part: Record<string, string>, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
const first = { name: 'Larkrise Lane Kitchen', town: 'Upper Ansley', altitudeM: 640, units: 'metric' }
beforeEach(async () => {
  await app.prisma.coop.update({ where: { id: app.coopId }, data: first })
  await app.prisma.member.updateMany({ where: { coopId: app.coopId }, data: { units: null } })
  await emptyHistory(app.prisma)
})

const stored = () => app.prisma.coop.findUniqueOrThrow({ where: { id: app.coopId } })
const settings = '/coop/settings'
const mine = '/coop/my-units'

async function altitudeOf(altitudeM: string): Promise<number> {
  await app.postTaken(settings, { altitudeM })
  return (await stored()).altitudeM
}

describe('the settings of a co-op', () => {
  test('are reached from the co-op’s page and show what is there, and what stays', async () => {
    const $ = await app.getPage('/coop')
    expect($(`a[href="${settings}"]`).length + $(`a[href="${mine}"]`).length).toBe(2)
    const page = await app.getPage(settings)
    expect(formFields(page)).toMatchObject({ ...first, altitudeM: '640 m' })
    expect(textsAt(page, '.facts div')).toEqual(['Time zoneEurope/London', 'Language and regionen-GB', 'CurrencyGBP'])
  })

  test('change, with a note of what was before', async () => {
    const changed = { name: 'Lark Kitchen', town: 'Lower Ansley', altitudeM: '610 m', units: 'us' }
    expect(await app.postTaken(settings, changed)).toBe('/coop')
    expect(await stored()).toMatchObject({ ...changed, altitudeM: 610 })
    const $ = await app.getPage('/coop')
    expect(textAt($, 'h1')).toBe('How Lark Kitchen works')
    expect(textAt($, '.lead')).toBe('1 household in Lower Ansley, 2,001 ft above the sea.')
    expect(textAt($, '.foot')).toMatch(
      /^Last change: name Lark Kitchen \(was Larkrise Lane Kitchen\), .* altitude 610 m \(was 640 m\), units us \(was metric\)\. Rosalind Pike/,
    )
  })

  test('leave no note when nothing changed, and touch no other co-op', async () => {
    await app.postTaken(settings, {})
    expect(await app.prisma.change.count()).toBe(0)
    await app.postTaken(settings, { name: 'Ours' })
    expect((await app.prisma.coop.findUniqueOrThrow({ where: { id: neighboursId } })).name).toBe('Tanner Row Larder')
  })

  test('of two changes the later one stands', async () => {
    await app.postTaken(settings, { town: 'first' })
    await app.postTaken(settings, { town: 'second' })
    expect((await stored()).town).toBe('second')
  })

  const altitude = 'Enter the altitude in metres or feet, like “640 m” or “2,100 ft”, from -430 m to 5,500 m'
  test.each<Wrong>([
    [{ name: ' ' }, 'Enter the co-op’s name'],
    [{ name: 'x'.repeat(81) }, 'Use 80 characters or fewer'],
    [{ town: '' }, 'Enter the town or village'],
    [{ units: 'imperial' }, 'Choose the units'],
    ...['', 'high', '5501', '5500.1 m', '18,045 ft', '-431 m', '-1,415 ft', '640 kg', '6 40', '🏔', 'NaN', '1e3'].map(
      (altitudeM): Wrong => [{ altitudeM }, altitude],
    ),
  ])('refuse %o and keep what was typed', async (part, words) => {
    const $ = await app.postRefused(settings, part)
    expect(problemsIn($)).toEqual([words])
    // a choice that is none of those offered cannot stay chosen
    const kept = Object.entries(part).filter(([field]) => field !== 'units')
    expect(formFields($)).toMatchObject(Object.fromEntries(kept))
    expect(await stored()).toMatchObject(first)
  })
})

describe('the altitude', () => {
  // a foot is 0.3048 m exactly; the edges of the published bands are whole thousands of feet
  test.each([
    ['1000 ft', 305],
    ['1,001 ft', 306],
    ['3,000 feet', 915],
    ['10000 ft', 3048],
    ['640', 640],
    ['640.2 m', 641],
    ['0.64 km', 640],
    ['-430 m', -430],
    ['-0.5 m', 0],
    ['-100 ft', -30],
    ['5,500 m', 5500],
  ])('%s is %i m: never rounded down', async (typed, metres) => {
    expect(await altitudeOf(typed)).toBe(metres)
  })

  test('is a bare number of feet where feet are read', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    expect(textAt(await app.getPage(settings), '#field-altitudeM-hint')).toContain('a number alone is in feet')
    expect(await altitudeOf('2,100')).toBe(641)
  })

  test('is read in the unit that the page named, though another is in force by the time it arrives', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    await app.postTaken(settings, { altitudeM: '700', aloneIn: 'metric' })
    expect((await stored()).altitudeM).toBe(700)
  })

  test('stays the same when the form is sent as it stands', async () => {
    for (const units of ['metric', 'us']) {
      for (const altitudeM of [-430, -1, 0, 1, 304, 305, 610, 3048, 5500]) {
        await app.prisma.coop.update({ where: { id: app.coopId }, data: { units, altitudeM } })
        await app.postTaken(settings, {})
        expect([units, (await stored()).altitudeM]).toEqual([units, altitudeM])
      }
    }
  })

  // 1,000 ft: 97.7 kPa (standard atmosphere) and 99.0 °C, by published tables for high altitudes and by the steam tables;
  // the sea: 14.7 psi and 212 °F, or a tenth less by the steam tables
  test('tells where water boils and how much the air presses, for information', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { altitudeM: 305 } })
    const facts = textsAt(await app.getPage('/coop'), 'main section:last-of-type .facts div')
    expect(facts).toEqual(['Water boils at about99 °C', 'Air pressure is about97.7 kPa'])
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { altitudeM: 0, units: 'us' } })
    expect(textsAt(await app.getPage('/coop'), 'main section:last-of-type .facts div')).toEqual([
      expect.stringMatching(/^Water boils at about(211\.9|212) °F$/),
      'Air pressure is about14.7 psi',
    ])
  })
})

describe('my own units', () => {
  test('count for me on every page, and leave the co-op’s own alone', async () => {
    expect(formFields(await app.getPage(mine))['units']).toBe('coop')
    expect(await app.postTaken(mine, { units: 'us' })).toBe('/coop')
    expect(textAt(await app.getPage('/coop'), '.lead')).toContain('2,100 ft')
    expect(formFields(await app.getPage(mine))['units']).toBe('us')
    expect((await stored()).units).toBe('metric')
    const page = formFields(await app.getPage(settings))
    expect([page['units'], page['altitudeM']]).toEqual(['metric', '2099 ft'])
    expect((await app.call('GET', '/api/coop')).json().units).toBe('metric')
  })

  test('stay when the co-op’s change, until they are given up', async () => {
    await app.postTaken(mine, { units: 'metric' })
    await app.postTaken(settings, { units: 'us' })
    expect(textAt(await app.getPage('/coop'), '.lead')).toContain('640 m')
    await app.postTaken(mine, { units: 'coop' })
    expect(textAt(await app.getPage('/coop'), '.lead')).toContain('2,100 ft')
  })

  test('are one of three', async () => {
    expect(problemsIn(await app.postRefused(mine, { units: 'furlongs' }))).toEqual(['Choose the units'])
  })
})

describe('the calls', () => {
  test('change the co-op and tell it as it then is', async () => {
    const body = { ...first, altitudeM: 305, units: 'us' }
    const answer = await app.call('PUT', '/api/coop', body)
    expect(answer.statusCode, answer.payload).toBe(200)
    expect(answer.json()).toMatchObject({ ...body, id: app.coopId, currency: 'GBP' })
    expect(answer.json()).toEqual((await app.call('GET', '/api/coop')).json())
  })

  test.each([
    [{ altitudeM: -431 }, 'altitudeM'],
    [{ altitudeM: 5501 }, 'altitudeM'],
    [{ altitudeM: 640.5 }, 'altitudeM'],
    [{ units: 'imperial' }, 'units'],
    [{ name: ' ' }, 'name'],
    [{ currency: 'USD' }, 'body'],
  ])('refuse %o', async (part, field) => {
    const answer = await app.call('PUT', '/api/coop', { ...first, ...part })
    expect([answer.statusCode, Object.keys(answer.json().error.fields)]).toEqual([400, [field]])
    expect(await stored()).toMatchObject(first)
  })

  test('tell who asks and change the units they read', async () => {
    const me = { id: 'rosalind', name: 'Rosalind Pike', role: 'steward' }
    expect((await app.call('GET', '/api/me')).json()).toEqual({ ...me, units: null, reads: 'metric' })
    const chosen = await app.call('PUT', '/api/me/units', { units: 'us' })
    expect([chosen.statusCode, chosen.json()]).toEqual([200, { ...me, units: 'us', reads: 'us' }])
    const given = await app.call('PUT', '/api/me/units', { units: null })
    expect(given.json()).toEqual({ ...me, units: null, reads: 'metric' })
    expect((await app.call('PUT', '/api/me/units', { units: 'furlongs' })).statusCode).toBe(400)
  })
})
