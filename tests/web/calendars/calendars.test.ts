import { createHash } from 'node:crypto'
import ICAL from 'ical.js'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { CalendarEntries } from '../../../src/features/calendars/entries.ts'
import { calendarsRoutes } from '../../../src/features/calendars/routes.ts'
import { cookiesOf, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

const entries: CalendarEntries = async (_, coopId, helperId) => [
  {
    id: `${helperId ?? 'slow'}-1`,
    start: { date: '2026-09-12', minuteOfDay: 570 },
    minutes: 95,
    summary: helperId === null ? 'Strain the juice' : 'Peel apples, core them',
    description: `of ${coopId}`,
    stamp: new Date('2026-09-10T08:00:00Z'),
  },
]
const unknown = 'A'.repeat(43)

let app: TestApp
const log: string[] = []
beforeAll(async () => {
  app = await testApp({
    logLine: (line) => log.push(line),
    // the same routes once more, with something on the clock
    more: { routes: [async (plain) => void (await plain.register(calendarsRoutes, { prefix: '/filled', entries }))] },
  })
  await addNeighbours(app)
  await app.prisma.helper.create({
    data: { coopId: app.coopId, id: 'ada', name: 'Ada Pike', ageBand: 'adult', skills: ['wash'] },
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.calendarLink.deleteMany({})
  log.length = 0
})

/** Makes an address by the form of the list: the page that it leads to, the cookie that goes there, and the secret. */
async function make(whose: string) {
  const answer = await app.postForm('/calendars', { helperId: whose })
  expect(answer.statusCode).toBe(303)
  const path = String(answer.headers.location)
  const cookie = cookiesOf(answer)
  const shown = await app.app.inject({ url: path, headers: { cookie } })
  expect(shown.statusCode).toBe(200)
  const address = textAt(expectSoundPage(shown.payload), 'main code')
  return { path, id: path.split('/').at(-1) ?? '', cookie, shown, address, secret: secretIn(address) }
}

function secretIn(address: string): string {
  const parts = /^http:\/\/[^/]+\/calendar\/([\w-]{43})\.ics$/.exec(address)
  if (parts?.[1] === undefined) throw new Error(`no calendar's address: ${address}`)
  return parts[1]
}

const feed = (path: string) => app.app.inject({ url: path, remoteAddress: '203.0.113.9' })

function eventsIn(text: string) {
  return new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one))
}

describe('making an address', () => {
  test('keeps the hash of its secret, and the secret nowhere', async () => {
    const { id, secret } = await make('helper:ada')
    expect(await app.prisma.calendarLink.findMany()).toMatchObject([
      {
        coopId: app.coopId,
        id,
        helperId: 'ada',
        secretHash: createHash('sha256').update(secret).digest('hex'),
        madeBy: 'Rosalind Pike',
        createdAt: new Date('2026-09-11T09:00:00Z'),
        revokedAt: null,
        readAt: null,
      },
    ])
    const kept = [await app.prisma.submission.findMany(), await app.prisma.change.findMany()]
    expect(kept.flat().length).toBeGreaterThan(1)
    expect(JSON.stringify(kept)).not.toContain(secret)
  })

  test('shows it once, only where it was made, and says so', async () => {
    const { path, shown } = await make('helper:ada')
    const $ = expectSoundPage(shown.payload)
    expect(textAt($, '.caution')).toMatch(/shown only now/)
    // the page that showed it takes the cookie back, and without it there is nothing to show
    const taken = shown.cookies.find(({ name }) => name === 'glut_told')
    expect(taken).toMatchObject({ value: '', path })
    expect(taken?.expires?.getTime()).toBe(0)
    const again = await app.getPage(path)
    expect(again('main code').length).toBe(0)
    expect(again('main').text()).toContain('The address was shown once')
  })

  test('hands the secret on in a cookie that no script and no other page is given', async () => {
    const answer = await app.postForm('/calendars', { helperId: 'jobs:slow' })
    expect(answer.cookies.find(({ name }) => name === 'glut_told')).toMatchObject({
      path: answer.headers.location,
      httpOnly: true,
      sameSite: 'Strict',
      maxAge: 600,
    })
  })

  test('does not show what is not the secret of this one', async () => {
    const first = await make('helper:ada')
    const second = await make('jobs:slow')
    expect(second.secret).not.toBe(first.secret)
    for (const cookie of [first.cookie, `glut_told=${unknown}`]) {
      const { payload } = await app.app.inject({ url: second.path, headers: { cookie } })
      expect(expectSoundPage(payload)('main code').length).toBe(0)
    }
  })

  test.each(['', 'helper:nobody', 'helper:their-helper', 'ada'])('is refused for “%s”', async (helperId) => {
    expect(problemsIn(await app.postRefused('/calendars', { helperId }))).toEqual(['Choose whose work it shows'])
    expect(await app.prisma.calendarLink.count()).toBe(0)
  })
})

describe('reading a calendar', () => {
  test.each(['', '.ics'])('gives a helper’s work to whoever has the address%s', async (ending) => {
    const { secret } = await make('helper:ada')
    const answer = await feed(`/filled/calendar/${secret}${ending}`)
    expect(answer.statusCode).toBe(200)
    expect(answer.headers).toMatchObject({
      'content-type': 'text/calendar; charset=utf-8',
      'cache-control': 'private, no-store',
    })
    const [event, ...more] = eventsIn(answer.payload)
    expect(more).toEqual([])
    expect(event?.uid).toBe(`ada-1@${app.coopId}.glutworks`)
    expect(event?.summary).toBe('Peel apples, core them')
    expect(event?.description).toBe(`of ${app.coopId}`)
    expect(String(event?.startDate)).toBe('2026-09-12T08:30:00Z')
    expect(answer.payload).toContain('\r\nNAME:Larkrise Lane Kitchen: Ada Pike\r\n')
  })

  test('gives the slow jobs', async () => {
    const { secret } = await make('jobs:slow')
    const answer = await feed(`/filled/calendar/${secret}.ics`)
    expect(eventsIn(answer.payload).map(({ summary }) => summary)).toEqual(['Strain the juice'])
    expect(answer.payload).toContain('\r\nNAME:Larkrise Lane Kitchen: slow jobs\r\n')
  })

  test('gives a calendar without events while nothing is on the clock', async () => {
    const { address } = await make('helper:ada')
    const answer = await feed(new URL(address).pathname)
    expect(answer.statusCode).toBe(200)
    expect(eventsIn(answer.payload)).toEqual([])
    expect(new ICAL.Component(ICAL.parse(answer.payload)).getAllSubcomponents().length).toBe(1)
  })

  test('is noted with its time, and the list says it', async () => {
    const { secret } = await make('helper:ada')
    const before = rowsAt(await app.getPage('/calendars'), 'table')
    expect(before[1]).toEqual(['Ada Pike', '11 Sept 2026, 10:00 by Rosalind Pike', 'never', 'no'])
    await feed(`/calendar/${secret}.ics`)
    expect(rowsAt(await app.getPage('/calendars'), 'table')[1]?.[2]).toBe('11 Sept 2026, 10:00')
  })

  test('finds nothing, in the same words, for a secret that never was, no secret at all, and one taken back', async () => {
    const { id, secret } = await make('helper:ada')
    await app.postTaken(`/calendars/${id}/removal`, {})
    const answers = []
    for (const path of [secret, `${secret}.ics`, unknown, `${unknown}.ics`, 'x', '%F0%9F%8D%8E', id]) {
      const answer = await feed(`/calendar/${path}`)
      expect(answer.statusCode, path).toBe(404)
      const $ = expectSoundPage(answer.payload)
      answers.push([textAt($, 'h1'), textAt($, 'main p:first-of-type')])
    }
    expect(new Set(answers.map((one) => JSON.stringify(one))).size).toBe(1)
    expect((await app.prisma.calendarLink.findFirstOrThrow()).readAt).toBeNull()
  })

  test('leaves the secret in no line of the log', async () => {
    const { id, secret } = await make('helper:ada')
    await feed(`/calendar/${secret}.ics`)
    await app.app.inject({ method: 'POST', url: `/calendar/${secret}.ics` })
    await app.app.inject({ url: `/calendar/${secret}.ics`, headers: { host: 'elsewhere.example' } })
    await app.app.inject({ url: `/calendar/${secret}.ics/more` })
    await app.app.inject({ url: `/calendar/${secret}%` })
    await app.postTaken(`/calendars/${id}/removal`, {})
    await feed(`/calendar/${secret}.ics`)
    expect(log.length).toBeGreaterThan(5)
    expect(log.some((line) => line.includes('/calendar/:secret'))).toBe(true)
    expect(log.filter((line) => line.includes(secret))).toEqual([])
  })
})

describe('taking an address back', () => {
  test('asks first, then says when; a second time changes nothing', async () => {
    const { id, path, cookie } = await make('helper:ada')
    expect(textAt(await app.getPage(`${path}/removal`), 'h1')).toBe('Remove the calendar of Ada Pike')
    expect(await app.postTaken(`${path}/removal`, {})).toBe('/calendars')
    expect(rowsAt(await app.getPage('/calendars'), 'table')[1]?.[3]).toBe('11 Sept 2026, 10:00')
    await app.postTaken(`${path}/removal`, {})
    const noted = await app.prisma.change.findMany({
      where: { noun: 'calendars', nounId: id },
      orderBy: { what: 'asc' },
    })
    expect(noted.map(({ what }) => what)).toEqual(['address for Ada Pike made', 'address for Ada Pike taken back'])
    const { payload } = await app.app.inject({ url: path, headers: { cookie } })
    expect(expectSoundPage(payload)('main code').length).toBe(0)
  })

  test('goes for programs too', async () => {
    const { id } = await make('helper:ada')
    const list = async () => (await app.call('GET', '/api/calendars')).json().calendars
    expect(await list()).toEqual([
      {
        id,
        helperId: 'ada',
        helperName: 'Ada Pike',
        madeBy: 'Rosalind Pike',
        createdAt: '2026-09-11T09:00:00.000Z',
        revokedAt: null,
        readAt: null,
      },
    ])
    expect((await app.call('DELETE', `/api/calendars/${id}`)).statusCode).toBe(204)
    expect(await list()).toMatchObject([{ id, revokedAt: '2026-09-11T09:00:00.000Z' }])
    expect((await app.call('DELETE', '/api/calendars/nothing')).statusCode).toBe(404)
  })
})

test('the neighbours’ addresses are neither listed nor taken back', async () => {
  const theirs = { coopId: neighboursId, id: 'their-calendar', helperId: 'their-helper' }
  const made = { secretHash: 'f'.repeat(64), madeBy: 'Them', createdAt: new Date('2026-09-01T00:00:00Z') }
  await app.prisma.calendarLink.create({ data: { ...theirs, ...made } })
  expect((await app.call('GET', '/api/calendars')).json()).toEqual({ calendars: [] })
  expect((await app.getPage('/calendars'))('table').length).toBe(0)
  expect((await app.app.inject({ url: '/calendars/their-calendar' })).statusCode).toBe(404)
  expect((await app.call('DELETE', '/api/calendars/their-calendar')).statusCode).toBe(404)
  expect((await app.prisma.calendarLink.findFirstOrThrow()).revokedAt).toBeNull()
})
