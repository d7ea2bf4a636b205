import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

/** What is changed in a form that is right, and what is said about it. */
type Wrong = [part: Record<string, string>, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  const { coopId } = app
  await addNeighbours(app)
  await app.prisma.helper.createMany({
    data: [
      { coopId, id: 'wilf', name: 'Wilf', ageBand: 'adult', skills: ['wash'] },
      { coopId, id: 'ines', name: 'Ines', ageBand: 'teen', skills: ['wash'] },
    ],
  })
  await app.prisma.equipment.create({ data: { coopId, id: 'oven', kind: 'oven', name: 'range oven', count: 1 } })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.plan.deleteMany({ where: { coopId: app.coopId } })
  await app.prisma.workDay.deleteMany({ where: { coopId: app.coopId } })
})

const saturday = { date: '2026-09-12', opensMinute: '8', closesMinute: '6 pm', note: 'all hands' }

async function add(part: Record<string, string> = {}): Promise<string> {
  const path = await app.postTaken('/work-days', { ...saturday, ...part }, { from: '/work-days/new' })
  return path.split('/').at(-1) ?? ''
}
const read = async (id: string) => (await app.call('GET', `/api/work-days/${id}`)).json()

describe('adding a work day', () => {
  test('reads times in the ways people write them', async () => {
    expect(await read(await add())).toMatchObject({
      date: '2026-09-12',
      opensMinute: 480,
      closesMinute: 1080,
      note: 'all hands',
    })
    const other = await add({ date: '2026-09-14', opensMinute: '1:30 pm', closesMinute: '24:00', note: '' })
    expect(await read(other)).toMatchObject({ opensMinute: 810, closesMinute: 1440, note: null })
  })

  test.each<Wrong>([
    ...['', '2026-02-30', 'tomorrow', '99999-01-01', '🎃'].map(
      (date): Wrong => [{ date }, 'Enter a date, like 2026-09-18'],
    ),
    [{ opensMinute: '25' }, 'Enter when the kitchen opens, like 8:00 or 8 am'],
    [{ closesMinute: '-1' }, 'Enter when the kitchen closes, like 18:00 or 6 pm'],
    [{ closesMinute: '8:00' }, 'Enter a time after the kitchen opens'],
    [{ note: 'x'.repeat(401) }, 'Use 400 characters or fewer'],
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const $ = await app.postRefused('/work-days', { ...saturday, ...part }, { from: '/work-days/new' })
    expect(problemsIn($)).toEqual([words])
    const { opensMinute, closesMinute } = { ...saturday, ...part }
    expect(formFields($)).toMatchObject({ opensMinute, closesMinute })
  })

  test('refuses a date that has a day already, though another co-op has one too', async () => {
    await add()
    const $ = await app.postRefused('/work-days', saturday, { from: '/work-days/new' })
    expect(problemsIn($)).toEqual(['There is a work day on this date already: choose another, or change that one'])
  })
})

describe('the list', () => {
  test('tells coming days from past ones; today is coming', async () => {
    await add({ date: '2026-09-10' })
    await add({ date: '2026-09-11' })
    await add({ date: '2026-09-13' })
    const $ = await app.getPage('/work-days')
    expect(textAt($, '.lead')).toMatch(/^2 work days ahead, the next Fri,? 11 Sept?, 0?8:00 to 18:00\.$/)
    expect(textsAt($, '.index a').map((text) => text.replace(/,? (\d+) .*/, ' $1'))).toEqual([
      'Fri 11',
      'Sun 13',
      'Thu 10',
    ])
    expect(textsAt($, 'h2')).toEqual(['Coming', 'Past'])
  })
})

describe('who is there', () => {
  const hours = (id: string) => `/work-days/${id}/hours`

  test('is set for all helpers in one form, and counted within the kitchen’s hours', async () => {
    const id = await add()
    const fields = {
      'hours.wilf.from': '7',
      'hours.wilf.to': '12:00',
      'hours.ines.from': '5 pm',
      'hours.ines.to': '19:00',
    }
    expect(await app.postTaken(hours(id), fields, { from: `/work-days/${id}` })).toBe(`/work-days/${id}`)
    expect((await read(id)).hours).toEqual([
      { helperId: 'ines', fromMinute: 1020, toMinute: 1140 },
      { helperId: 'wilf', fromMinute: 420, toMinute: 720 },
    ])
    // Wilf from 8 to 12 and Ines from 17 to 18
    expect(textAt(await app.getPage(`/work-days/${id}`), '.lead')).toMatch(/; 2 helpers for 5 h together\.$/)
    await app.postTaken(hours(id), { 'hours.wilf.from': '', 'hours.wilf.to': '' }, { from: `/work-days/${id}` })
    expect((await read(id)).hours.length).toBe(1)
  })

  test('is refused at the field that is wrong, with all that was typed kept', async () => {
    const id = await add()
    const fields = { 'hours.wilf.from': 'early', 'hours.wilf.to': '12', 'hours.ines.from': '14', 'hours.ines.to': '13' }
    const $ = await app.postRefused(hours(id), fields, { from: `/work-days/${id}` })
    expect(problemsIn($)).toEqual([
      'Enter an end that is later than the beginning',
      'Enter from when, like 9:30 or 9 am',
    ])
    expect(formFields($, `form[action="${hours(id)}"]`)).toMatchObject({ ...fields, version: '1' })
    expect((await read(id)).hours).toEqual([])
  })

  test('is refused when the day was changed meanwhile', async () => {
    const id = await add()
    await app.call('PUT', `/api/work-days/${id}/equipment-out`, { equipmentIds: ['oven'], version: 1 })
    const late = await app.postForm(
      hours(id),
      { 'hours.wilf.from': '9', 'hours.wilf.to': '10', version: '1' },
      { from: `/work-days/${id}` },
    )
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(formFields($, `form[action="${hours(id)}"]`)).toMatchObject({ 'hours.wilf.from': '9', version: '2' })
  })

  test('is set by a call; helpers of another co-op are not found', async () => {
    const id = await add()
    const span = { fromMinute: 480, toMinute: 540 }
    const call = (body: object) => app.call('PUT', `/api/work-days/${id}/hours`, body)
    expect((await call({ hours: [{ helperId: 'wilf', ...span }], version: 1 })).json()).toMatchObject({ version: 2 })
    expect((await call({ hours: [{ helperId: 'their-helper', ...span }], version: 2 })).statusCode).toBe(404)
    expect(
      (
        await call({
          hours: [
            { helperId: 'wilf', ...span },
            { helperId: 'wilf', ...span },
          ],
          version: 2,
        })
      ).statusCode,
    ).toBe(422)
    expect((await call({ hours: [{ helperId: 'wilf', fromMinute: 5, toMinute: 5 }], version: 2 })).statusCode).toBe(422)
    expect((await call({ hours: [{ helperId: 'wilf', fromMinute: -5, toMinute: 5 }], version: 2 })).statusCode).toBe(
      400,
    )
    expect((await call({ hours: [], version: 1 })).statusCode).toBe(409)
    expect((await read(id)).hours).toEqual([{ helperId: 'wilf', ...span }])
  })
})

describe('breaks', () => {
  test('are cut to new hours, and dropped outside them, and the change says whose', async () => {
    const id = await add()
    const { coopId } = app
    const rest = (helperId: string, fromMinute: number, toMinute: number) => ({
      coopId,
      workDayId: id,
      helperId,
      fromMinute,
      toMinute,
    })
    await app.prisma.helperBreak.createMany({
      data: [rest('wilf', 570, 600), rest('wilf', 710, 740), rest('wilf', 800, 830), rest('ines', 720, 750)],
    })
    const answer = await app.call('PUT', `/api/work-days/${id}/hours`, {
      hours: [{ helperId: 'wilf', fromMinute: 480, toMinute: 720 }],
      version: 1,
    })
    expect(answer.statusCode).toBe(200)
    const left = await app.prisma.helperBreak.findMany({
      where: { coopId, workDayId: id },
      orderBy: { fromMinute: 'asc' },
    })
    expect(left).toEqual([rest('wilf', 570, 600), rest('wilf', 710, 720)])
    const changes = await app.prisma.change.findMany({ where: { coopId, nounId: id } })
    expect(changes.map(({ what }) => what)).toContain(
      'hours of 2026-09-12 set; break of Ines dropped; break of Wilf shortened; break of Wilf dropped',
    )
  })
})

describe('what is out', () => {
  test('is ticked on the day and shown in its sentence', async () => {
    const id = await add()
    const path = `/work-days/${id}/equipment-out`
    await app.postTaken(path, { out: 'oven' }, { from: `/work-days/${id}` })
    expect((await read(id)).equipmentOut).toEqual(['oven'])
    expect(textAt(await app.getPage(`/work-days/${id}`), '.lead')).toMatch(/; 1 machine out\.$/)
    await app.postTaken(path, { out: [] }, { from: `/work-days/${id}` })
    expect((await read(id)).equipmentOut).toEqual([])
  })

  test('refuses equipment of another co-op', async () => {
    const id = await add()
    await app.postRefused(`/work-days/${id}/equipment-out`, { out: 'their-canner' }, { from: `/work-days/${id}` })
    const call = await app.call('PUT', `/api/work-days/${id}/equipment-out`, {
      equipmentIds: ['their-canner'],
      version: 1,
    })
    expect(call.statusCode).toBe(404)
  })
})

describe('changing and removing', () => {
  test('saves what changed', async () => {
    const id = await add()
    await app.postTaken(`/work-days/${id}`, { closesMinute: '5:30 pm' }, { from: `/work-days/${id}/edit` })
    expect(await read(id)).toMatchObject({ closesMinute: 1050, version: 2 })
  })

  test('removes a day that no plan uses, with its hours', async () => {
    const id = await add()
    expect(await app.postTaken(`/work-days/${id}/removal`, {})).toBe('/work-days')
    expect((await app.call('GET', `/api/work-days/${id}`)).statusCode).toBe(404)
  })

  test('keeps a day that a plan uses, and names the plan', async () => {
    const id = await add()
    const { coopId } = app
    await app.prisma.plan.create({
      data: { coopId, id: 'week', name: 'Damson week', days: { create: { workDayId: id } } },
    })
    const $ = await app.getPage(`/work-days/${id}/removal`)
    expect(textAt($, '.lead')).toContain('“Damson week”')
    expect($('main form').length).toBe(0)
    const call = await app.call('DELETE', `/api/work-days/${id}`)
    expect([call.statusCode, call.json().error.message]).toEqual([409, expect.stringContaining('“Damson week”')])
    expect((await read(id)).plans).toEqual(['Damson week'])
  })
})

test('an unknown day and that of another co-op are not found', async () => {
  const body = { date: '2026-09-12', opensMinute: 0, closesMinute: 5, note: null, version: 1 }
  for (const id of ['nowhere', 'their-day']) {
    for (const path of ['', '/edit', '/removal']) {
      expect((await app.app.inject({ url: `/work-days/${id}${path}` })).statusCode).toBe(404)
    }
    expect((await app.call('PUT', `/api/work-days/${id}`, body)).statusCode).toBe(404)
    expect((await app.call('PUT', `/api/work-days/${id}/hours`, { hours: [], version: 1 })).statusCode).toBe(404)
    expect((await app.call('DELETE', `/api/work-days/${id}`)).statusCode).toBe(404)
  }
})
