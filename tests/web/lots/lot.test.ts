import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { crop, dwellDays } from '../../../src/core/produce/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addTheirLot, forgetLots, takeIn } from './lots.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addTheirLot(app)
})
afterAll(() => app?.close())
beforeEach(() => forgetLots(app))

const damsons = { crop: 'damson', variety: '', weight: '16 kg', class: 'soft', storage: 'room' }

describe('the list', () => {
  test('says what will be here while it is empty', async () => {
    const $ = await app.getPage('/lots')
    expect(textAt($, '.lead')).toMatch(/^Nothing is here yet\./)
    expect($('figure.beam').length).toBe(0)
    expect($('main').text()).not.toContain('their')
  })

  test('begins with what spoils first, with one beam for all of it', async () => {
    const keeping = await takeIn(app, { crop: 'onion', variety: '', weight: '9 kg', class: 'firm' })
    const spoiling = await takeIn(app, damsons)
    const $ = await app.getPage('/lots')
    expect(textsAt($, 'main h3')).toEqual(['Damsons', 'Onions'])
    expect($('main h3 a').attr('href')).toBe(`/lots/${spoiling}`)
    expect($('main h3 a').last().attr('href')).toBe(`/lots/${keeping}`)
    expect(textAt($, '.lead')).toMatch(
      /^25 kg in 2 lots\. First to go: .* of the damsons, by today \(Fri,? 11 Sept?\)\.$/,
    )
    expect(textAt($, 'figure.beam .drawing-finding')).toBe('Where 25 kg that came in are today')
    expect($('main section .soon').length).toBe(1)
  })
})

describe('the forecast', () => {
  test('adds up on every morning to what was sorted, and loses by the crop’s own days', async () => {
    const id = await takeIn(app, damsons)
    const $ = await app.getPage(`/lots/${id}`)
    const rows = rowsAt($, '#forecast-heading ~ .table table').slice(1)
    const { days } = (await app.call('GET', `/api/lots/${id}/forecast?days=5`)).json()
    expect(days).toHaveLength(6)
    for (const { grams } of days) {
      expect(Object.values(grams as Record<string, number>).reduce((a, b) => a + b, 0)).toBe(16_000)
    }
    // damsons stay soft for less than a day in a kitchen: eight cohorts, all of them gone by the next morning
    const known = crop('damson')
    expect(known && dwellDays(known, 'room').soft).toBeLessThan(1)
    expect(rows.map((row) => row.slice(1))).toEqual([
      ['0 g', '0 g', '16 kg', '0 g', '0 g'],
      ['0 g', '0 g', '0 g', '0 g', '16 kg'],
    ])
    expect(textAt($, '.lead')).toMatch(/^16 kg to use by today/)
    expect($('figure.plot svg[role=img]').length).toBe(1)
    expect($('a[href="/crops/damson"]').length).toBe(1)
  })

  test('goes on from the day of the sorting, and says what has passed its days', async () => {
    const id = await takeIn(app, { ...damsons, arrivedOn: '2026-09-09' })
    const $ = await app.getPage(`/lots/${id}`)
    expect(textAt($, '.lead')).toBe('Nothing of it is of use any more.')
    expect(textAt($, 'main > .soon')).toMatch(/^By the forecast 16 kg have passed their days/)
    expect($('#forecast-heading').length).toBe(0)
  })

  test('a lot that was forgotten for a year still shows', async () => {
    const id = await takeIn(app, { ...damsons, arrivedOn: '2025-09-12' })
    await app.prisma.sorting.updateMany({ where: { lotId: id }, data: { sortedOn: new Date('2020-01-01T00:00:00Z') } })
    expect(textAt(await app.getPage(`/lots/${id}`), '.lead')).toBe('Nothing of it is of use any more.')
    await app.getPage('/lots')
    await app.getPage('/')
  })
})

describe('another place', () => {
  test('sets today’s state down and forecasts for the new place from there', async () => {
    const id = await takeIn(app, { ...damsons, class: 'ripe', arrivedOn: '2026-09-10' })
    const before = (await app.call('GET', `/api/lots/${id}`)).json()
    await app.postTaken(`/lots/${id}/storage`, { storage: 'cold' }, { from: `/lots/${id}` })
    const after = (await app.call('GET', `/api/lots/${id}`)).json()
    expect(after.storage).toBe('cold')
    expect(after.sorting).toMatchObject({ how: 'moved', sortedOn: '2026-09-11', grams: before.today.grams })
    expect(after.today.grams).toEqual(before.today.grams)
    expect(after.today.wholeGrams).toBe(before.today.wholeGrams)
    expect(after.today.lastUseBy > before.today.lastUseBy).toBe(true)
    expect(rowsAt(await app.getPage(`/lots/${id}`), '#history-heading ~ .table table')).toHaveLength(3)
  })

  test('is refused for the same place and for none', async () => {
    const id = await takeIn(app, damsons)
    const same = await app.postRefused(`/lots/${id}/storage`, { storage: 'room' }, { from: `/lots/${id}` })
    expect(problemsIn(same)).toEqual(['It is there already: choose another place'])
    const none = await app.postRefused(`/lots/${id}/storage`, { storage: 'moon' }, { from: `/lots/${id}` })
    expect(problemsIn(none)).toEqual(['Choose where to move it'])
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(1)
  })

  test('a move is no sorting to take back', async () => {
    const id = await takeIn(app, damsons)
    await app.postTaken(`/lots/${id}/storage`, { storage: 'cold' }, { from: `/lots/${id}` })
    expect((await app.getPage(`/lots/${id}`))('form[action$="/reversal"]').length).toBe(0)
  })

  test('says where cold does harm', async () => {
    const id = await takeIn(app, { ...damsons, crop: 'tomato', class: 'firm', storage: 'cold' })
    expect(textAt(await app.getPage(`/lots/${id}`), 'main .caution')).toMatch(
      /^This place is colder than tomatoes bear/,
    )
  })
})

describe('changing a lot', () => {
  test('fills the form in, saves what changed, and leaves the weight alone', async () => {
    const id = await takeIn(app, { priceMinor: '12.5' })
    const fields = formFields(await app.getPage(`/lots/${id}/change`))
    expect(fields).toMatchObject({ weight: '25 kg', broughtBy: 'Wilfred Marsh', priceMinor: '12.50', version: '1' })
    expect(await app.postTaken(`/lots/${id}/change`, { broughtBy: 'Ines', note: 'seconds' })).toBe(`/lots/${id}`)
    const lot = await app.prisma.lot.findFirstOrThrow({ where: { id }, include: { sortings: true } })
    expect(lot).toMatchObject({
      broughtBy: 'Ines',
      note: 'seconds',
      priceMinor: 1_250,
      weightGrams: 25_000,
      version: 2,
    })
    expect(lot.sortings).toHaveLength(1)
  })

  test('corrects the weight of a lot that is as it came in, and keeps the first one in the history', async () => {
    const id = await takeIn(app)
    await app.postTaken(`/lots/${id}/change`, { weight: '1 bushel' })
    const lot = (await app.call('GET', `/api/lots/${id}`)).json()
    expect(lot).toMatchObject({ weightGrams: 21_772, weightTyped: '1 bushel', sorting: { how: 'corrected' } })
    expect(lot.sorting.grams).toEqual({ firm: 21_772, ripe: 0, soft: 0, damaged: 0 })
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(2)
  })

  test('offers no weight once it was sorted, and refuses one that is sent all the same', async () => {
    const id = await takeIn(app)
    await app.postTaken(`/lots/${id}/sortings`, { firm: '25 kg' }, { from: `/lots/${id}/sortings/new` })
    expect((await app.getPage(`/lots/${id}/change`))('[name=weight]').length).toBe(0)
    const $ = await app.postRefused(`/lots/${id}/change`, { weight: '30 kg' })
    expect(problemsIn($)).toEqual(['Sort the lot again to correct its weight: it was sorted or moved since it came in'])
    expect((await app.prisma.lot.findFirstOrThrow({ where: { id } })).weightGrams).toBe(25_000)
  })

  test('refuses nonsense at its field and keeps what was typed', async () => {
    const id = await takeIn(app)
    const typed = { weight: 'heavy', broughtBy: '', priceMinor: 'NaN' }
    const $ = await app.postRefused(`/lots/${id}/change`, typed)
    expect(problemsIn($)).toHaveLength(3)
    expect(formFields($)).toMatchObject({ ...typed, version: '1' })
  })

  test('answers 409 to a save that read an older state and keeps what was typed', async () => {
    const id = await takeIn(app)
    await app.postTaken(`/lots/${id}/change`, { note: 'first' })
    const late = await app.postForm(`/lots/${id}/change`, { note: 'second', version: '1' })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ note: 'second', version: '2' })
  })
})

describe('closing', () => {
  test('takes a lot off the list, onto the other one, and back', async () => {
    const id = await takeIn(app)
    await app.postTaken(`/lots/${id}/closure`, {}, { from: `/lots/${id}` })
    const list = await app.getPage('/lots')
    expect(textsAt(list, 'main h3')).toEqual([])
    expect(list('a[href="/lots/closed"]').text()).toBe('1 closed lot')
    expect(rowsAt(await app.getPage('/lots/closed'), 'table')[1]?.[0]).toBe('Apples (Lane Russet)')
    const $ = await app.getPage(`/lots/${id}`)
    expect(textAt($, '.lead')).toMatch(/^Closed on Fri,? 11 Sept? 2026/)
    expect($('form[action$="/storage"], a[href$="/sortings/new"]').length).toBe(0)
    const sorting = await app.call('POST', `/api/lots/${id}/sortings`, {
      how: 'weights',
      version: 2,
      grams: { firm: 25_000 },
    })
    expect([sorting.statusCode, sorting.json().error.message]).toEqual([
      409,
      'This lot is closed. Open it again first.',
    ])
    await app.postTaken(`/lots/${id}/reopening`, {}, { from: `/lots/${id}` })
    expect(textsAt(await app.getPage('/lots'), 'main h3')).toEqual(['Apples (Lane Russet)'])
  })

  test('a stale button shows the lot as it is, with 409', async () => {
    const id = await takeIn(app)
    const answer = await app.postForm(`/lots/${id}/closure`, { version: '7' }, { from: `/lots/${id}` })
    expect(answer.statusCode).toBe(409)
    expect(problemsIn(expectSoundPage(answer.payload))[0]).toMatch(/^Somebody changed this lot/)
  })
})

describe('unknown lots and those of another co-op', () => {
  test.each(['nowhere', 'their-lot'])('%s is not found', async (id) => {
    for (const path of [
      `/lots/${id}`,
      `/lots/${id}/change`,
      `/lots/${id}/sortings/new`,
      `/api/lots/${id}`,
      `/api/lots/${id}/forecast`,
      `/api/lots/${id}/sortings`,
    ]) {
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
    }
    const calls: ['POST' | 'PUT', string, object][] = [
      ['PUT', `/api/lots/${id}/storage`, { version: 1, storage: 'cold' }],
      ['PUT', `/api/lots/${id}/closure`, { version: 1, closed: true }],
      ['POST', `/api/lots/${id}/sortings`, { version: 1, how: 'shares', shares: { lost: 1 } }],
      ['POST', `/api/lots/${id}/sortings/reversal`, { version: 1 }],
    ]
    for (const [method, path, body] of calls) expect((await app.call(method, path, body)).statusCode, path).toBe(404)
    const patch = { method: 'PATCH' as const, url: `/api/lots/${id}`, payload: { version: 1, note: 'mine' } }
    expect((await app.app.inject(patch)).statusCode).toBe(404)
    const theirs = await app.prisma.lot.findFirstOrThrow({ where: { id: 'their-lot' } })
    expect(theirs).toMatchObject({ storage: 'cool', closedOn: null, note: null, version: 1 })
  })
})
