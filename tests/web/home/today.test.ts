import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { loadDemonstration } from '../../../seed/load.ts'
import { randomId } from '../../../src/ids.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars, addUsed } from '../shelf/jars.ts'

describe('today in a kitchen that has just begun', () => {
  let app: TestApp
  beforeAll(async () => {
    app = await testApp()
    await addNeighbours(app)
    await app.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
  })
  afterAll(() => app?.close())
  beforeEach(async () => {
    const where = { coopId: app.coopId }
    await app.prisma.helper.deleteMany({ where })
    await app.prisma.workDay.deleteMany({ where })
    await app.prisma.plan.deleteMany({ where })
  })

  test('says what will be here and names the first step', async () => {
    const $ = await app.getPage('/')
    expect(textAt($, 'h1')).toMatch(/^Today, Fri,? 11 Sept?$/)
    expect(textAt($, '.lead')).toMatch(/^No produce is here yet\. This page will say what spoils first/)
    expect(textAt($, 'a.button')).toBe('Take in produce')
    expect($('a.button').attr('href')).toBe('/lots')
    expect($('nav [aria-current=page]').text()).toBe('Today')
    expect($('main').text()).toContain('None is set')
    expect($('main').text()).toContain('No plan is open')
    expect($('main').text()).not.toMatch(/their/i)
  })

  test('shows the next work day and who is in it, in the order in which they come', async () => {
    const { coopId } = app
    const day = (id: string, date: string) => ({
      ...{ coopId, id, opensMinute: 480, closesMinute: 1080, note: null },
      date: new Date(`${date}T00:00:00Z`),
    })
    await app.prisma.workDay.createMany({
      data: [day('past', '2026-09-10'), day('next', '2026-09-12'), day('later', '2026-09-13')],
    })
    await app.prisma.helper.createMany({
      data: ['Ines', 'Suri', 'Bea'].map((name) => ({
        coopId,
        id: name.toLowerCase(),
        name,
        ageBand: 'adult',
        skills: ['wash'],
      })),
    })
    await app.prisma.helperHours.createMany({
      data: [
        { coopId, helperId: 'suri', workDayId: 'next', fromMinute: 600, toMinute: 900 },
        { coopId, helperId: 'ines', workDayId: 'next', fromMinute: 480, toMinute: 720 },
        { coopId, helperId: 'bea', workDayId: 'later', fromMinute: 480, toMinute: 720 },
      ],
    })
    const $ = await app.getPage('/')
    expect(textAt($, '#work-day + p')).toMatch(/^Sat,? 12 Sept?, 0?8:00 to 18:00, with 2 helpers\.$/)
    expect($('#work-day + p a').attr('href')).toBe('/work-days/next')
    expect(textsAt($, '.facts dt')).toEqual(['Ines', 'Suri'])
  })

  test('counts today as a work day, and says when nobody is in it', async () => {
    await app.prisma.workDay.create({
      data: {
        coopId: app.coopId,
        id: 'now',
        date: new Date('2026-09-11T00:00:00Z'),
        opensMinute: 540,
        closesMinute: 600,
      },
    })
    expect(textAt(await app.getPage('/'), '#work-day + p')).toMatch(
      /^Today, 0?9:00 to 10:00, and nobody is in it yet\.$/,
    )
  })

  test('names what to eat first of the shelf, once something is near its date', async () => {
    expect((await app.getPage('/'))('main').text()).not.toContain('From the shelf')
    await addJars(app, 2, { code: 'AGEDD', bestBy: new Date('2026-09-30T00:00:00Z') })
    await addJars(app, 2, { code: 'COLDD', bestBy: new Date('2026-10-30T00:00:00Z'), keeping: 'refrigerator' })
    const $ = await app.getPage('/')
    const line = $('a[href="/shelf/first"]').text()
    expect(line).toMatch(/^Eat first: Damson jam COLDD, by Fri,? 30 Oct 2026, in 49 days, and 1 more batch\.$/)
  })

  test('lists plans that are not over, each with how far it is', async () => {
    const { coopId } = app
    await app.prisma.workDay.createMany({
      data: ['2026-09-01', '2026-09-12'].map((date, i) => ({
        ...{ coopId, id: `day-${i}`, opensMinute: 480, closesMinute: 960 },
        date: new Date(`${date}T00:00:00Z`),
      })),
    })
    await app.prisma.plan.create({
      data: { coopId, id: 'over', name: 'Over', days: { create: { workDayId: 'day-0' } } },
    })
    await app.prisma.plan.create({
      data: { coopId, id: 'open', name: 'Open', days: { create: { workDayId: 'day-1' } } },
    })
    await app.prisma.division.create({
      data: {
        coopId,
        id: 'd1',
        planId: 'open',
        number: 1,
        planVersion: 1,
        state: 'done',
        question: {},
        askedBy: 'Bea',
      },
    })
    const $ = await app.getPage('/')
    expect(textsAt($, '.index li')).toEqual(['Openworked out'])
    expect($('.index a').attr('href')).toBe('/plans/open')
  })
})

describe('what runs low, on today', () => {
  // a new shelf for each: what was used of one stays in its ledger
  let app: TestApp
  beforeEach(async () => {
    app = await testApp()
    await addNeighbours(app)
    await app.prisma.supply.create({ data: supply(neighboursId, 'their lids', 0) })
  })
  afterEach(() => app?.close())

  const supply = (coopId: string, name: string, onHand: number) => ({
    ...{ coopId, id: randomId(), key: name, name, unit: 'piece', onHand },
    ...{ packSize: 12, packPriceMinor: 420, packsAtMost: 0 },
  })
  const low = 'section[aria-labelledby=low]'

  test('is not there while nothing does', async () => {
    await addUsed(app, { product: 'Plenty', left: 40, used: 1 })
    await app.prisma.supply.create({ data: supply(app.coopId, 'Wide lids', 3) })
    const $ = await app.getPage('/')
    expect($(low).length).toBe(0)
    expect($('main').text()).not.toMatch(/runs low|used up/i)
  })

  test('is each product with what is left and how long it lasts, as the shelf says it, for a helper, too', async () => {
    await addUsed(app, { product: 'Plum jam', left: 3, used: 10 })
    await addUsed(app, { product: 'Quince jelly', left: 0, used: 4 })
    await addUsed(app, { product: 'Pickled beans', left: 1, used: 60 })
    const { coopId, householdId } = app
    const ada = await app.prisma.member.create({
      data: { coopId, id: 'ada', householdId, name: 'Ada', role: 'helper' },
    })
    for (const who of [ada.id, 'rosalind']) {
      await app.signInAs(who)
      const $ = await app.getPage('/')
      // over 30 days at least: 3 x 30 / 10 = 9, 1 x 30 / 60 = 0.5
      expect(textsAt($, `${low} li span`), who).toEqual([
        '1 half-pint jar left, for less than a day',
        'none left',
        '3 half-pint jars left, for about 9 days',
      ])
      expect(textsAt($, `${low} li a`)).toEqual(['Pickled beans', 'Quince jelly', 'Plum jam'])
      expect($(`${low} li a`).last().attr('href')).toBe('/shelf/products/plum-jam/half-pint')
      expect($(`${low} p a`).attr('href')).toBe('/shelf/first#low-heading')
      const all = await app.getPage('/shelf/first')
      expect(textsAt(all, 'section:has(#low-heading) tbody th')).toEqual(textsAt($, `${low} li a`))
    }
  })

  test('is five products, and says how many there are', async () => {
    for (const left of [1, 2, 3, 4, 5]) await addUsed(app, { product: `Jam ${left}`, left, used: 10 })
    const five = await app.getPage('/')
    expect(textsAt(five, `${low} li a`)).toEqual(['Jam 1', 'Jam 2', 'Jam 3', 'Jam 4', 'Jam 5'])
    expect(textsAt(five, `${low} p a`)).toEqual(['At what rate, and what to eat first'])
    await addUsed(app, { product: 'Jam 0', left: 0, used: 10 })
    const $ = await app.getPage('/')
    expect(textsAt($, `${low} li a`)).toEqual(['Jam 0', 'Jam 1', 'Jam 2', 'Jam 3', 'Jam 4'])
    expect(textsAt($, `${low} p a`)).toEqual(['All 6 that run low'])
  })

  test('names supplies of which nothing is on hand, five of them', async () => {
    await app.prisma.supply.create({ data: supply(app.coopId, 'Wide lids', 0) })
    await app.prisma.supply.create({ data: supply(app.coopId, 'Salt', 1) })
    const $ = await app.getPage('/')
    expect($('main a[href="/supplies"]').text()).toBe('Used up: Wide lids')
    const others = ['A', 'B', 'C', 'D', 'E'].map((name) => supply(app.coopId, name, 0))
    await app.prisma.supply.createMany({ data: others })
    expect((await app.getPage('/'))('main a[href="/supplies"]').text()).toBe('Used up: A, B, C, D, E and 1 more')
  })
})

describe('today in the demonstration kitchen', () => {
  let app: TestApp
  beforeAll(async () => {
    app = await testApp({ coop: false })
    await loadDemonstration(app.prisma, app.app.clock.now(), randomId)
    const { id } = await app.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
    await app.signInAs(id)
  })
  afterAll(() => app?.close())

  test('begins with what spoils first: the sentence, one beam, the next three lots with their days', async () => {
    const $ = await app.getPage('/')
    expect(textAt($, '.lead')).toMatch(
      /^181 kg in 6 lots\. First to go: [\d.]+ kg of the damsons \(hedge damson\), by today \(Fri, Sep 11\)\.$/,
    )
    expect(textAt($, 'figure.beam .drawing-finding')).toBe('Where 187 kg that came in are today')
    expect($('main section h3').length).toBe(3)
    const dues = textsAt($, 'main section h3 + p')
    for (const due of dues) expect(due).toMatch(/^Use [\d.]+ k?g by .*\.$/)
    const { lots } = (await app.call('GET', '/api/lots')).json()
    expect($('main section h3 a').attr('href')).toBe(`/lots/${lots[0].id}`)
    expect(textsAt($, '.facts dt')).toHaveLength(6)
    expect(textsAt($, '.index li')).toEqual([
      'Vinegar from apple juiceTaste it: it may be sour by now. (due today)',
      'The damson weeknot worked out yet',
    ])
  })
})
