import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.workDay.createMany({
    data: ['2026-09-10', '2026-09-12', '2026-09-13'].map((date, number) => ({
      coopId: app.coopId,
      id: `day-${number}`,
      date: new Date(`${date}T00:00:00Z`),
      opensMinute: 480,
      closesMinute: 1080,
    })),
  })
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.helper.deleteMany({ where: { coopId: app.coopId } }))

const bea = {
  name: 'Bea Pike',
  ageBand: 'child',
  skills: ['wash', 'cut', 'stove'],
  householdId: 'pike',
  speedPercent: '100',
}

async function add(fields: Record<string, string | string[]> = bea): Promise<string> {
  const path = await app.postTaken('/helpers', fields, { from: '/helpers/new' })
  return path.split('/').at(-1) ?? ''
}

describe('adding a helper', () => {
  test('remembers every skill, counts those that the age band allows, and explains the rest', async () => {
    const id = await add()
    expect((await app.prisma.helper.findFirstOrThrow({ where: { id } })).skills).toEqual(['wash', 'cut', 'stove'])
    const $ = await app.getPage('/helpers')
    expect(textAt($, '.lead')).toBe('1 helper: 1 child.')
    expect(rowsAt($, 'table')[1]).toEqual([
      'Bea Pike',
      'Pike',
      'child',
      'wash and sort (not counted: peel and cut, work at the stove)',
      '',
    ])
    expect(textAt(await app.getPage(`/helpers/${id}`), '.caution')).toBe(
      'Not counted for Bea Pike: peel and cut, work at the stove. Children are kept from knives, boiling water and hot filling.',
    )
    expect((await app.call('GET', `/api/helpers/${id}`)).json().counted).toEqual(['wash'])
  })

  test.each([
    [{ name: '' }, 'Enter the helper’s name'],
    [{ name: '\u0007' }, 'Leave out characters that cannot be seen'],
    [{ ageBand: 'baby' }, 'Choose an age band'],
    [{ skills: ['juggle'] }, 'Choose work from the list'],
    [{ householdId: 'their-household' }, 'Choose a household from the list'],
    ...['', '24', '301', 'fast', '50.5'].map((speedPercent): [Record<string, string>, string] => [
      { speedPercent },
      'Enter how fast in percent, from 25 to 300; 100 is usual',
    ]),
    ...['14', '601', '-90', 'long'].map((stretchMinutes): [Record<string, string>, string] => [
      { stretchMinutes },
      'Enter minutes from 15 to 600, or leave it empty',
    ]),
    [{ likes: ['moon'] }, 'Choose stations from the list'],
    [{ dislikes: ['moon'] }, 'Choose stations from the list'],
    [{ likes: ['wash', 'label'], dislikes: ['label'] }, 'Choose a station as liked or as not liked, not as both'],
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const $ = await app.postRefused('/helpers', { ...bea, ...part }, { from: '/helpers/new' })
    expect(problemsIn($)).toEqual([words])
    expect(await app.prisma.helper.count({ where: { coopId: app.coopId } })).toBe(0)
    if (!('name' in part)) expect(formFields($)['name']).toBe('Bea Pike')
    for (const name of ['speedPercent', 'stretchMinutes']) if (name in part) expect(formFields($)).toMatchObject(part)
  })

  test('keeps speed, stretch and stations, and says them in the list', async () => {
    const ways = { speedPercent: '60', stretchMinutes: '90', likes: ['wash', 'label'], dislikes: ['cut'] }
    const id = await add({ ...bea, ...ways })
    expect(await app.prisma.helper.findFirstOrThrow({ where: { id } })).toMatchObject({
      speedPercent: 60,
      stretchMinutes: 90,
      likes: ['wash', 'label'],
      dislikes: ['cut'],
    })
    const does = rowsAt(await app.getPage('/helpers'), 'table')[1]?.[3]
    expect(does).toMatch(/60 % of the usual speed; at most 90 minutes at one station; likes: .+, .+; rather not: /)
    await app.postTaken(`/helpers/${id}`, {})
    expect((await app.call('GET', `/api/helpers/${id}`)).json()).toMatchObject({
      speedPercent: 60,
      stretchMinutes: 90,
      likes: ['wash', 'label'],
      dislikes: ['cut'],
    })
  })

  test('refuses a call that likes and does not like the same station', async () => {
    const body = { name: 'x', ageBand: 'adult', skills: [], householdId: null, likes: ['cut'], dislikes: ['cut'] }
    expect((await app.call('POST', '/api/helpers', body)).statusCode).toBe(422)
    expect((await app.call('POST', '/api/helpers', { ...body, dislikes: [] })).json()).toMatchObject({
      speedPercent: 100,
      stretchMinutes: null,
      likes: ['cut'],
      breaks: [],
    })
  })

  test('takes one without skills and without household', async () => {
    const id = await add({ ...bea, skills: [], householdId: '' })
    expect(await app.prisma.helper.findFirstOrThrow({ where: { id } })).toMatchObject({ skills: [], householdId: null })
  })
})

describe('hours by day', () => {
  const nineToThree = { 'hours.day-1.from': '9', 'hours.day-1.to': '15' }

  test('may have a break in them, which goes when it is emptied', async () => {
    const id = await add()
    const from = `/helpers/${id}`
    const noon = { 'break.day-1.from': 'noon', 'break.day-1.to': '12:30' }
    await app.postTaken(`/helpers/${id}/hours`, { ...nineToThree, ...noon }, { from })
    const rest = { fromMinute: 720, toMinute: 750 }
    expect((await app.call('GET', `/api/helpers/${id}`)).json().breaks).toEqual([{ dayId: 'day-1', ...rest }])
    expect(rowsAt(await app.getPage('/helpers'), 'table')[1]?.[4]).toMatch(/to 15:00, break 12:00 to 12:30$/)
    expect(formFields(await app.getPage(from), `form[action="/helpers/${id}/hours"]`)).toMatchObject({
      'break.day-1.from': '12:00',
      'break.day-1.to': '12:30',
    })
    await app.postTaken(`/helpers/${id}/hours`, { 'break.day-1.from': '', 'break.day-1.to': '' }, { from })
    expect(await app.prisma.helperBreak.count({ where: { helperId: id } })).toBe(0)
    expect(await app.prisma.helperHours.count({ where: { helperId: id } })).toBe(1)
  })

  test('take a break by a call, within the span alone', async () => {
    const id = await add()
    const span = { fromMinute: 600, toMinute: 900 }
    const call = (breaks: { fromMinute: number; toMinute: number }[], version: number) =>
      app.call('PUT', `/api/helpers/${id}/hours`, { hours: [{ dayId: 'day-1', span, breaks }], version })
    expect((await call([{ fromMinute: 540, toMinute: 630 }], 1)).statusCode).toBe(422)
    expect((await call([{ fromMinute: 720, toMinute: 720 }], 1)).statusCode).toBe(422)
    const rest = { fromMinute: 720, toMinute: 750 }
    expect((await call([rest], 1)).json().breaks).toEqual([{ dayId: 'day-1', ...rest }])
  })

  test('are set for coming days in any way of writing a time, and leave the others alone', async () => {
    const id = await add()
    const $ = await app.getPage(`/helpers/${id}`)
    expect($('[name="hours.day-0.from"]').length, 'the day before today').toBe(0)
    await app.postTaken(
      `/helpers/${id}/hours`,
      { 'hours.day-1.from': '9 am', 'hours.day-1.to': '12', 'hours.day-2.from': '', 'hours.day-2.to': '' },
      { from: `/helpers/${id}` },
    )
    const rows = await app.prisma.helperHours.findMany({ where: { helperId: id } })
    expect(rows).toEqual([{ coopId: app.coopId, helperId: id, workDayId: 'day-1', fromMinute: 540, toMinute: 720 }])
    expect(rowsAt(await app.getPage('/helpers'), 'table')[1]?.[4]).toMatch(
      /^Sat,? 12 Sept? 9:00 to 12:00$|^Sat,? 12 Sept? 09:00 to 12:00$/,
    )
    expect((await app.prisma.workDay.findFirstOrThrow({ where: { id: 'day-1' } })).version).toBeGreaterThan(1)
  })

  test.each([
    [{ 'hours.day-1.from': '9', 'hours.day-1.to': '' }, 'Enter until when, like 16:00 or 4 pm'],
    [{ 'hours.day-1.from': '', 'hours.day-1.to': '9' }, 'Enter from when, like 9:30 or 9 am'],
    [{ 'hours.day-1.from': '10', 'hours.day-1.to': '10' }, 'Enter an end that is later than the beginning'],
    [{ 'hours.day-1.from': '25', 'hours.day-1.to': '26' }, 'Enter from when, like 9:30 or 9 am'],
    [{ ...nineToThree, 'break.day-1.from': '12', 'break.day-1.to': '' }, 'Enter until when, like 16:00 or 4 pm'],
    [{ ...nineToThree, 'break.day-1.from': '8', 'break.day-1.to': '9:30' }, 'Enter a break that lies within the hours'],
    [{ ...nineToThree, 'break.day-1.from': '14', 'break.day-1.to': '16' }, 'Enter a break that lies within the hours'],
    [
      { 'hours.day-1.from': '', 'hours.day-1.to': '', 'break.day-1.from': '12', 'break.day-1.to': '12:30' },
      'Leave the break empty, or enter the hours of that day',
    ],
  ])('refuse %o and keep what was typed', async (fields, words) => {
    const id = await add()
    const $ = await app.postRefused(`/helpers/${id}/hours`, fields, { from: `/helpers/${id}` })
    expect(problemsIn($)).toContain(words)
    expect(formFields($, `form[action="/helpers/${id}/hours"]`)).toMatchObject(fields)
    expect(await app.prisma.helperHours.count({ where: { helperId: id } })).toBe(0)
  })

  test('are set by a call too', async () => {
    const id = await add()
    const span = { fromMinute: 600, toMinute: 660 }
    const hours = [{ dayId: 'day-2', span }]
    const answer = await app.call('PUT', `/api/helpers/${id}/hours`, { hours, version: 1 })
    expect(answer.json()).toMatchObject({ hours: [{ dayId: 'day-2', ...span }], version: 2 })
    const theirs = { hours: [{ dayId: 'their-day', span }], version: 2 }
    expect((await app.call('PUT', `/api/helpers/${id}/hours`, theirs)).statusCode).toBe(404)
    const wrong = { hours: [{ dayId: 'day-2', span: { fromMinute: 660, toMinute: 600 } }], version: 2 }
    expect((await app.call('PUT', `/api/helpers/${id}/hours`, wrong)).statusCode).toBe(422)
    const none = await app.call('PUT', `/api/helpers/${id}/hours`, {
      hours: [{ dayId: 'day-2', span: null }],
      version: 2,
    })
    expect(none.json().hours).toEqual([])
  })
})

describe('changing and removing', () => {
  test('saves what changed and refuses an older state', async () => {
    const id = await add()
    await app.postTaken(`/helpers/${id}`, { ageBand: 'teen' })
    expect((await app.call('GET', `/api/helpers/${id}`)).json()).toMatchObject({
      ageBand: 'teen',
      counted: ['wash', 'cut', 'stove'],
      version: 2,
    })
    const late = await app.postForm(`/helpers/${id}`, { name: 'Beatrice', version: '1' })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ name: 'Beatrice', version: '2' })
  })

  test('asks before it removes', async () => {
    const id = await add()
    await app.prisma.calendarLink.create({
      data: {
        coopId: app.coopId,
        id: 'feed',
        helperId: id,
        secretHash: 'f'.repeat(64),
        madeBy: 'Ana',
        createdAt: new Date(0),
      },
    })
    const $ = await app.getPage(`/helpers/${id}/removal`)
    expect($('main').text()).toContain('Addresses by which calendar programs read the work of')
    expect(await app.postTaken(`/helpers/${id}/removal`, {})).toBe('/helpers')
    expect(await app.prisma.helper.count({ where: { id } })).toBe(0)
    expect(await app.prisma.calendarLink.count({ where: { id: 'feed' } })).toBe(0)
  })
})

test('an unknown helper and that of another co-op are not found', async () => {
  const body = { name: 'x', ageBand: 'adult', skills: [], householdId: null, version: 1 }
  for (const id of ['nowhere', 'their-helper']) {
    expect((await app.app.inject({ url: `/helpers/${id}` })).statusCode).toBe(404)
    expect((await app.call('PUT', `/api/helpers/${id}`, body)).statusCode).toBe(404)
    expect((await app.call('PUT', `/api/helpers/${id}/hours`, { hours: [], version: 1 })).statusCode).toBe(404)
    expect((await app.call('DELETE', `/api/helpers/${id}`)).statusCode).toBe(404)
  }
})

test('a call with a household of another co-op is refused', async () => {
  const body = { name: 'x', ageBand: 'adult', skills: ['wash'], householdId: 'their-household' }
  expect((await app.call('POST', '/api/helpers', body)).statusCode).toBe(422)
})
