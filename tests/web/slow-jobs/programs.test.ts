import { createHash } from 'node:crypto'
import ICAL from 'ical.js'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { addNeighbours } from '../../support/neighbours.ts'

// What programs see of slow jobs: calls below /api, and calendars.

const today = '2026-09-11'
const crock = {
  way: 'sauerkraut',
  name: 'Big crock',
  place: 'cellar',
  startedOn: '2026-09-08',
  temperatureC: 22,
  batchId: null,
  note: null,
}

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.slowJob.deleteMany({ where: { coopId: app.coopId } })
})

describe('calls', () => {
  test('begin a job, list it, note a stage, and end it', async () => {
    const made = await app.call('POST', '/api/slow-jobs', crock, { 'idempotency-key': 'crock-one' })
    expect(made.statusCode).toBe(201)
    const again = await app.call('POST', '/api/slow-jobs', crock, { 'idempotency-key': 'crock-one' })
    expect(again.json()).toEqual(made.json())
    const { id } = made.json()
    const listed = await app.call('GET', '/api/slow-jobs')
    expect(listed.json()).toMatchObject({
      slowJobs: [{ id, name: 'Big crock', next: { number: 1, dueOn: '2026-09-08' } }],
    })
    const done = await app.call('POST', `/api/slow-jobs/${id}/stages/1/done`, {
      doneOn: today,
      found: '21 °C',
      note: null,
    })
    expect(done.json()).toMatchObject({
      version: 2,
      stages: [{ number: 1, doneOn: today, found: '21 °C' }, { number: 2 }, {}, {}, {}, {}],
    })
    const ended = await app.call('POST', `/api/slow-jobs/${id}/end`, { endedOn: today, ended: 'dropped' })
    expect(ended.statusCode).toBe(200)
    expect((await app.call('GET', `/api/slow-jobs/${id}`)).json()).toMatchObject({ endedOn: today, ended: 'dropped' })
    expect((await app.call('GET', '/api/slow-jobs')).json()).toEqual({ slowJobs: [] })
  })

  test('take a job up again that has ended, once, and say in words why not', async () => {
    const { id, ...begun } = (await app.call('POST', '/api/slow-jobs', crock)).json()
    const undo = (key: string) => app.call('POST', `/api/slow-jobs/${id}/end/undo`, {}, { 'idempotency-key': key })
    const early = await undo('before-end')
    expect([early.statusCode, early.json().error.message]).toEqual([
      409,
      'Big crock goes on: there is no end of it to take back. Somebody may have taken it up again already.',
    ])
    await app.call('POST', `/api/slow-jobs/${id}/end`, { endedOn: today, ended: 'dropped' })
    const closed = await app.call('POST', `/api/slow-jobs/${id}/stages/1/done`, {
      doneOn: today,
      found: null,
      note: null,
    })
    expect(closed.json().error.message).toBe(
      'Big crock has ended: nothing is changed in it any more. Ended by mistake? Take it up again first.',
    )
    const again = await undo('after-end')
    expect([again.statusCode, again.json()]).toEqual([200, { ...begun, id, version: 3 }])
    expect((await undo('after-end')).json()).toEqual(again.json())
    expect((await app.call('GET', '/api/slow-jobs')).json()).toMatchObject({ slowJobs: [{ id, next: { number: 1 } }] })
    expect((await app.call('POST', '/api/slow-jobs/nobodys/end/undo', {})).statusCode).toBe(404)
  })

  test.each([
    [{ way: 'cheese' }, 422],
    [{ temperatureC: 40 }, 422],
    [{ startedOn: '1990-01-01' }, 422],
    [{ batchId: 'nobodys' }, 404],
  ])('with %o are answered with %d and begin nothing', async (part, status) => {
    const answer = await app.call('POST', '/api/slow-jobs', { ...crock, ...part })
    expect([400, 422].includes(answer.statusCode) ? 422 : answer.statusCode).toBe(status)
    expect(await app.prisma.slowJob.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('refuse a day in the future and a figure that cannot be', async () => {
    const { id } = (await app.call('POST', '/api/slow-jobs', crock)).json()
    for (const body of [
      { doneOn: '2026-09-12', found: null, note: null },
      { doneOn: today, found: '99', note: null },
    ]) {
      expect((await app.call('POST', `/api/slow-jobs/${id}/stages/4/done`, body)).statusCode).toBe(422)
    }
    expect(await app.prisma.slowStage.count({ where: { coopId: app.coopId, doneOn: { not: null } } })).toBe(0)
  })
})

describe('calendars', () => {
  const secret = 'S'.repeat(43)
  const helpers = 'H'.repeat(43)
  const hash = (text: string) => createHash('sha256').update(text).digest('hex')

  beforeAll(async () => {
    const { coopId, prisma } = app
    await prisma.helper.create({ data: { coopId, id: 'ada', name: 'Ada', ageBand: 'adult', skills: ['wash'] } })
    const link = { coopId, madeBy: 'Rosalind Pike', createdAt: new Date('2026-09-01T00:00:00Z') }
    await prisma.calendarLink.createMany({
      data: [
        { ...link, id: 'slow', helperId: null, secretHash: hash(secret) },
        { ...link, id: 'adas', helperId: 'ada', secretHash: hash(helpers) },
      ],
    })
  })

  const eventsAt = async (which: string) => {
    const { payload, statusCode } = await app.app.inject({ url: `/calendar/${which}.ics` })
    expect(statusCode).toBe(200)
    return new ICAL.Component(ICAL.parse(payload)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one))
  }

  test('show open stages all day, as ical.js reads them, until they are done or the job has ended', async () => {
    const { id } = (await app.call('POST', '/api/slow-jobs', crock)).json()
    const events = await eventsAt(secret)
    expect(events.map(({ startDate }) => String(startDate))).toEqual([
      '2026-09-08',
      '2026-09-10',
      '2026-09-15',
      '2026-09-29',
      '2026-10-06',
      '2027-01-04',
    ])
    expect(events.every(({ startDate, duration }) => startDate.isDate && duration.toSeconds() === 86_400)).toBe(true)
    expect(events[3]).toMatchObject({
      uid: `slow-${id}-4@${app.coopId}.glutworks`,
      summary: 'Big crock: It may be done: no more bubbles. Take a little out and measure it.',
      description: 'It should be: pH below 4.6',
      location: 'cellar',
      sequence: 0,
    })
    await app.call('POST', `/api/slow-jobs/${id}/stages/1/done`, { doneOn: '2026-09-08', found: null, note: null })
    const later = await eventsAt(secret)
    expect(later.map(({ uid }) => uid)).not.toContain(`slow-${id}-1@${app.coopId}.glutworks`)
    expect(later[0]?.sequence).toBe(1)
    await app.call('POST', `/api/slow-jobs/${id}/end`, { endedOn: today, ended: 'dropped' })
    expect(await eventsAt(secret)).toEqual([])
    // taken up again they are back under the same names, newer than any that a program may still hold
    await app.call('POST', `/api/slow-jobs/${id}/end/undo`, {})
    const back = await eventsAt(secret)
    expect(back.map(({ uid }) => uid)).toEqual(later.map(({ uid }) => uid))
    expect(back.map(({ startDate }) => String(startDate))).toEqual(later.map(({ startDate }) => String(startDate)))
    expect(back[0]?.sequence).toBe(3)
  })

  test('of a helper show none of them', async () => {
    await app.call('POST', '/api/slow-jobs', crock)
    expect(await eventsAt(helpers)).toEqual([])
  })
})
