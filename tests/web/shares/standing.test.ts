import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { TestApp } from '../../support/app.ts'
import { problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addJars } from '../shelf/jars.ts'
import { sharingApp } from './sharing.ts'

let app: TestApp
beforeAll(async () => {
  app = await sharingApp()
  const { coopId, prisma } = app
  const lot = { coopId, crop: 'damson', source: 'own-trees', broughtBy: 'somebody', storage: 'cool', weightTyped: '' }
  await prisma.lot.createMany({
    data: [
      { ...lot, id: 'hedge', householdId: 'hedger', arrivedOn: new Date('2026-09-01'), weightGrams: 12_500 },
      { ...lot, id: 'late', householdId: 'hedger', arrivedOn: new Date('2026-09-10'), weightGrams: 2_000 },
      {
        ...lot,
        id: 'bought',
        householdId: 'moss',
        arrivedOn: new Date('2026-09-10'),
        weightGrams: 9_000,
        priceMinor: 1_850,
      },
      { ...lot, id: 'nobodys', arrivedOn: new Date('2026-09-10'), weightGrams: 50_000 },
    ],
  })
  await prisma.helper.createMany({
    data: [
      { coopId, id: 'ann', name: 'Ann', ageBand: 'adult', skills: [], householdId: 'pike' },
      { coopId, id: 'bea', name: 'Bea', ageBand: 'adult', skills: [], householdId: 'moss' },
    ],
  })
  await prisma.workDay.create({
    data: { coopId, id: 'day', date: new Date('2026-09-05'), opensMinute: 480, closesMinute: 1020 },
  })
  // both said that they would be there 8 to 13 with half an hour of rest; of Ann 200 minutes were noted
  for (const helperId of ['ann', 'bea']) {
    const span = { coopId, helperId, workDayId: 'day' }
    await prisma.helperHours.create({ data: { ...span, fromMinute: 480, toMinute: 780 } })
    await prisma.helperBreak.create({ data: { ...span, fromMinute: 600, toMinute: 630 } })
  }
  const { batchId } = await addJars(app, 0, { madeOn: new Date('2026-09-05') })
  await prisma.batchHelper.create({ data: { coopId, batchId, name: 'Ann', helperId: 'ann', minutes: 200 } })
})
afterAll(() => app?.close())

const standing = async (since = '') => {
  const answer = await app.call('GET', `/api/shares/standing${since && `?since=${since}`}`)
  expect(answer.statusCode, answer.payload).toBe(200)
  return answer.json()
}

describe('what households brought', () => {
  test('is produce by weight, work as noted or as given, and money', async () => {
    const { from, until, households } = await standing()
    expect([from, until]).toEqual([null, '2026-09-11'])
    expect(households).toMatchObject([
      { id: 'hedger', grams: 14_500, minutes: 0, moneyMinor: 0, points: 14.5 },
      // bought produce counts by its price and not by its weight too; 300 minutes less 30 of rest
      { id: 'moss', grams: 0, minutes: 270, moneyMinor: 1_850, points: 23 },
      { id: 'pike', grams: 0, minutes: 200, moneyMinor: 0 },
    ])
    expect(households[2].points).toBeCloseTo(10 / 3, 12)
  })

  test('counts from a day that somebody chooses', async () => {
    const { households } = await standing('2026-09-06')
    expect(households.map(({ points }: { points: number }) => points)).toEqual([2, 18.5, 0])
  })

  test('is told in a sentence, a table and by lot', async () => {
    const $ = await app.getPage('/shares')
    expect(textAt($, '.lead')).toBe(
      'So far, 3 households brought 14.5 kg of produce, 7 h 50 min of work and £18.50: 40.8 points.',
    )
    expect(rowsAt($, 'table')[1]?.slice(0, 5)).toEqual(['Hedger', '14.5 kg', '0 min', '£0.00', '14.5'])
    expect(textsAt($, 'details summary')).toEqual(['Hedger: 2 lots', 'Moss: 1 lot'])
  })

  test('is not counted from a day that is none, or to come', async () => {
    for (const [since, words] of [
      ['soon', 'Enter a date, like 2026-09-01'],
      ['2026-12-01', 'Enter today or a day before'],
    ]) {
      const answer = await app.app.inject(`/shares?since=${since}`)
      expect([answer.statusCode, answer.payload.includes(String(words))]).toEqual([422, true])
    }
  })
})

describe('what counts how much', () => {
  test('is set once, and a page that was opened before is refused', async () => {
    const page = await app.getPage('/shares/rule')
    expect(page('#field-pointsPerKg').attr('value')).toBe('1')
    const fields = {
      pointsPerKg: '0,5',
      pointsPerHour: '2',
      pointsPerMoney: '0',
      byNeedPercent: '20',
      method: 'webster',
    }
    expect(await app.postTaken('/shares/rule', fields)).toBe('/shares')
    expect((await app.postForm('/shares/rule', { ...fields, version: '0' })).statusCode).toBe(409)
    expect((await app.call('GET', '/api/shares/rule')).json()).toEqual({
      ...{ method: 'webster', pointsPerKg: 0.5, pointsPerHour: 2, pointsPerMoney: 0, byNeedPercent: 20, version: 1 },
    })
    // by need 20 %, of 7 people: Hedger 4, Moss 2, Pike 1
    const { households } = await standing()
    const points = [7.25, 9, 20 / 3]
    const all = points.reduce((total, one) => total + one, 0)
    for (const [n, people] of [4, 2, 1].entries()) {
      expect(households[n].part).toBeCloseTo((0.8 * (points[n] ?? 0)) / all + (0.2 * people) / 7, 12)
    }
  })

  test.each([
    [{ pointsPerKg: '-1' }, 'Enter points for a kilogram, like 1 or 0.5; 0 where it does not count'],
    [{ pointsPerHour: 'two' }, 'Enter points for an hour, like 2; 0 where it does not count'],
    [{ byNeedPercent: '101' }, 'Enter a whole percentage from 0 to 100'],
    [{ method: 'by-lot' }, 'Choose how jars are rounded'],
  ])('is refused with %o at its field', async (fields, words) => {
    expect(problemsIn(await app.postRefused('/shares/rule', fields))).toEqual([words])
  })

  test('takes how many people live where', async () => {
    const from = { from: '/shares/rule' }
    expect(await app.postTaken('/shares/people', { 'people.moss': '5' }, from)).toBe('/shares/rule')
    const { households } = (await app.call('GET', '/api/shares/people')).json()
    expect(households.map(({ people }: { people: number }) => people)).toEqual([4, 5, 1])
    const $ = await app.postRefused('/shares/people', { 'people.moss': 'many' }, from)
    expect(problemsIn($)).toEqual(['Enter how many people live there, from 0 to 50'])
    const theirs = { households: [{ id: 'their-household', people: 9 }] }
    expect((await app.call('PUT', '/api/shares/people', theirs)).statusCode).toBe(404)
  })
})
