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

const bea = { name: 'Bea Pike', ageBand: 'child', skills: ['wash', 'cut', 'stove'], householdId: 'pike' }

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
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const $ = await app.postRefused('/helpers', { ...bea, ...part }, { from: '/helpers/new' })
    expect(problemsIn($)).toEqual([words])
    expect(await app.prisma.helper.count({ where: { coopId: app.coopId } })).toBe(0)
    if (!('name' in part)) expect(formFields($)['name']).toBe('Bea Pike')
  })

  test('takes one without skills and without household', async () => {
    const id = await add({ ...bea, skills: [], householdId: '' })
    expect(await app.prisma.helper.findFirstOrThrow({ where: { id } })).toMatchObject({ skills: [], householdId: null })
  })
})

describe('hours by day', () => {
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
    await app.getPage(`/helpers/${id}/removal`)
    expect(await app.postTaken(`/helpers/${id}/removal`, {})).toBe('/helpers')
    expect(await app.prisma.helper.count({ where: { id } })).toBe(0)
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
