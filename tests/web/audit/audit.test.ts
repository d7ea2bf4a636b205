import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { eventKinds } from '../../../src/web/events.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.member.create({
    data: { coopId: app.coopId, id: 'suri', householdId: app.householdId, name: 'Suri Pike', role: 'helper' },
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await emptyHistory(app.prisma)
  await app.signInAs('rosalind')
})

const minute = (n: number) => new Date(Date.UTC(2026, 8, 10, 8, n))
let ids = 0
const event = (at: Date, kind: string, what: string, coopId: string | null = app.coopId) =>
  app.prisma.securityEvent.create({ data: { id: `e${ids++}`, coopId, at, kind, who: 'Mara', what } })
const change = (at: Date, what: string, coopId = app.coopId) =>
  app.prisma.change.create({ data: { id: `c${ids++}`, coopId, at, who: 'Mara', noun: 'lots', nounId: 'x', what } })

describe('SEC-067 what happened', () => {
  test('is one list of events and changes, newest first', async () => {
    await change(minute(1), 'plums, 12 kg taken in')
    await event(minute(3), 'signed-in', 'signed in by password')
    await change(minute(2), 'plums sorted')
    await app.prisma.securityEvent.create({
      data: {
        id: 'nobody',
        coopId: app.coopId,
        at: minute(4),
        kind: 'sign-in-failed',
        who: '',
        what: 'a wrong password for Bert Marsh',
      },
    })
    const $ = await app.getPage('/audit')
    expect(textAt($, 'h1')).toBe('Audit')
    expect(rowsAt($, 'table')).toEqual([
      ['When', 'Kind', 'Who', 'What'],
      ['10 Sept 2026, 09:04', 'sign in failed', 'nobody known', 'a wrong password for Bert Marsh'],
      ['10 Sept 2026, 09:03', 'signed in', 'Mara', 'signed in by password'],
      ['10 Sept 2026, 09:02', 'changed: lots', 'Mara', 'plums sorted'],
      ['10 Sept 2026, 09:01', 'changed: lots', 'Mara', 'plums, 12 kg taken in'],
    ])
    expect($('.onward').length).toBe(0)
  })

  test('is filtered by kind', async () => {
    await change(minute(1), 'plums sorted')
    await event(minute(2), 'signed-in', 'by password')
    await event(minute(3), 'role-changed', 'Bert is now planner')
    const whats = async (kind: string) => rowsAt(await app.getPage(`/audit?kind=${kind}`), 'table').map((row) => row[3])
    expect(await whats('role-changed')).toEqual(['What', 'Bert is now planner'])
    expect(await whats('changes')).toEqual(['What', 'plums sorted'])
    expect(await whats('')).toHaveLength(4)
    const $ = await app.getPage('/audit?kind=left')
    expect($('main').text()).toContain('Nothing of that kind happened here')
    expect($('option[selected]').attr('value')).toBe('left')
    expect(textsAt($, 'option')).toHaveLength(2 + eventKinds.length)
    expect((await app.app.inject({ url: '/audit?kind=gossip' })).statusCode).toBe(400)
    expect((await app.app.inject({ url: '/audit?kind=left&kind=changes' })).statusCode).toBe(400)
  })

  test('is paged: every entry once, also where many have the same time', async () => {
    for (let n = 0; n < 30; n++) {
      await change(minute(n % 3), `change ${n}`)
      await event(minute(n % 3), 'signed-in', `event ${n}`)
      await event(minute(n % 3), 'signed-out', `other event ${n}`)
    }
    const seen: string[] = []
    let url = '/audit'
    for (let page = 0; page < 5 && url !== ''; page++) {
      const $ = await app.getPage(url)
      seen.push(
        ...rowsAt($, 'table')
          .slice(1)
          .map((row) => `${row[0]} ${row[3]}`),
      )
      expect($('.onward a:contains("newest")').length).toBe(page === 0 ? 0 : 1)
      url = $('.onward a:contains("Older")').attr('href') ?? ''
    }
    expect(url).toBe('')
    expect(seen).toHaveLength(90)
    expect(new Set(seen).size).toBe(90)
    const times = seen.map((row) => row.slice(0, 19))
    expect(times).toEqual([...times].sort().reverse())

    const called: string[] = []
    let before = ''
    for (let page = 0; page < 5; page++) {
      const { entries, older } = (await app.call('GET', `/api/audit?kind=signed-in${before}`)).json()
      called.push(...entries.map(({ what }: { what: string }) => what))
      if (older === null) break
      before = `&before=${older}`
    }
    expect(new Set(called).size).toBe(30)
    expect(called).toHaveLength(30)
    const filtered = await app.getPage('/audit?kind=changes')
    expect(filtered('.onward').length).toBe(0)
  })

  test('of another co-op, or of none, is not told', async () => {
    await event(minute(1), 'signed-in', 'theirs', neighboursId)
    await event(minute(2), 'sign-in-failed', 'of nobody known', null)
    await change(minute(3), 'their change', neighboursId)
    await event(minute(4), 'signed-in', 'ours')
    expect(rowsAt(await app.getPage('/audit'), 'table').map((row) => row[3])).toEqual(['What', 'ours'])
    expect((await app.call('GET', '/api/audit')).json().entries).toHaveLength(1)
  })

  test('a place in the list that is none is refused', async () => {
    for (const before of ['x', '1-', '-a', "1-a'", '999999999999999-a', `1-${'a'.repeat(41)}`]) {
      const query = `before=${encodeURIComponent(before)}`
      expect((await app.app.inject({ url: `/audit?${query}` })).statusCode, before).toBe(400)
      expect((await app.call('GET', `/api/audit?${query}`)).statusCode, before).toBe(400)
    }
    expect((await app.app.inject({ url: '/audit?before=99999999999999-zz' })).statusCode).toBe(200)
    expect((await app.app.inject({ url: '/audit?before=0-a' })).statusCode).toBe(200)
  })
})

test('SEC-068 members read the history of changes, and nothing of the door', async () => {
  await change(minute(1), 'plums sorted')
  await event(minute(2), 'role-changed', 'Bert is now planner')
  await app.signInAs('suri')
  const $ = await app.getPage('/audit')
  expect(textAt($, 'h1')).toBe('History')
  expect($('form').length).toBe(0)
  expect(rowsAt($, 'table').map((row) => row[3])).toEqual(['What', 'plums sorted'])
  expect((await app.getPage('/audit?kind=role-changed'))('main').text()).not.toContain('Bert')
  expect((await app.call('GET', '/api/audit?kind=role-changed')).json()).toEqual({ entries: [], older: null })
})

test('SEC-068 no route changes or erases what happened', async () => {
  await change(minute(1), 'plums sorted')
  const routes = app.app.knownRoutes.filter(({ url }) => /audit|changes|events/.test(url))
  expect(routes.map(({ method }) => method).filter((method) => method !== 'GET' && method !== 'HEAD')).toEqual([])
  for (const method of ['POST', 'PUT', 'DELETE'] as const) {
    expect((await app.call(method, '/api/audit', method === 'DELETE' ? undefined : {})).statusCode).toBe(405)
  }
})
