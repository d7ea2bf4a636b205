import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkSchedule } from '../../../src/core/scheduling/index.ts'
import { readTimetableQuestion, readWorkedOut } from '../../../src/features/plans/timetables/documents.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { demonstrationApp, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

// A small plan of one day, with the real solver and the real scheduler in their threads.

let kitchen: PlanKitchen
let planId: string
let calls: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  const ids = await idsOf(kitchen)
  await addNeighbours(kitchen)
  await kitchen.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
  const wish = { recipeId: ids.recipe('Apple sauce'), pack: 'quart', atLeast: 0, about: 14, atMost: 14, matters: 3 }
  const made = await kitchen.call('POST', '/api/plans', {
    name: 'Sauce',
    lotIds: [ids.lot('apple')],
    dayIds: [ids.days[0]],
    wishes: [wish],
  })
  planId = made.json().id
  await kitchen.call('POST', `/api/plans/${planId}/divisions`, {})
  await workedOut(kitchen, `/plans/${planId}/divisions/1`)
  calls = `/api/plans/${planId}/timetables`
  const key = { 'idempotency-key': 'timetable-once-1' }
  for (const _ of ['asked', 'asked again']) {
    const asked = await kitchen.call('POST', `/api/plans/${planId}/divisions/1/timetable`, {}, key)
    expect([asked.statusCode, asked.headers.location ?? asked.json().location]).toEqual([202, `${calls}/1`])
  }
  await kitchen.app.timetables.settled()
}, 120_000)
afterAll(() => kitchen.close())

type Entry = {
  task: string
  batch: string | null
  part: string
  from: string
  to: string
  fromMinute: number
  toMinute: number
  helpers: string[]
}

async function told(number: number) {
  const answer = await kitchen.call('GET', `${calls}/${number}`)
  expect(answer.statusCode, answer.body.slice(0, 300)).toBe(200)
  return answer.json()
}

async function stored(number: number) {
  const row = await kitchen.prisma.timetable.findFirstOrThrow({ where: { planId, number } })
  return { worked: readWorkedOut(row.answer), question: readTimetableQuestion(row.question) }
}

/** Asks for a further timetable, waits, and gives what is told of it. */
async function next(path: string, body: object) {
  const asked = await kitchen.call('POST', `${calls}/${path}`, body)
  expect(asked.statusCode, asked.body).toBe(202)
  await kitchen.app.timetables.settled()
  const { number } = asked.json()
  const { worked } = await stored(number)
  expect(checkSchedule(worked.plan.problem, worked.schedule)).toEqual([])
  return told(number)
}

async function refusedWith(path: string, body: object) {
  const before = await kitchen.prisma.timetable.count()
  const answer = await kitchen.call('POST', `${calls}/${path}`, body)
  expect(await kitchen.prisma.timetable.count()).toBe(before)
  return { status: answer.statusCode, error: answer.json().error }
}

/** Tasks of the first timetable by their beginnings, each with its first and last instant. */
async function tasks() {
  const { entries }: { entries: Entry[] } = (await told(1)).answer
  const ids = [...new Set(entries.map(({ task }) => task))]
  return ids.map((task) => {
    const own = entries.filter((one) => one.task === task)
    return {
      task,
      batch: own[0]?.batch ?? null,
      start: own[0]?.from ?? '',
      end: own.at(-1)?.to ?? '',
      tested: own.filter(({ part }) => part === 'process').reduce((sum, one) => sum + one.toMinute - one.fromMinute, 0),
    }
  })
}

const later = (instant: string, minutes: number) => new Date(Date.parse(instant) + minutes * 60_000).toISOString()

describe('the calls for timetables', () => {
  it('list them, and tell one with instants and minutes that are the same times', async () => {
    const { timetables } = (await kitchen.call('GET', calls)).json()
    expect(timetables).toEqual([
      expect.objectContaining({ number: 1, divisionNumber: expect.any(Number), state: 'done' }),
    ])
    const { answer, edits, from } = await told(1)
    expect([edits, from]).toEqual([[], null])
    const entries: Entry[] = answer.entries
    expect(entries.length).toBeGreaterThan(5)
    // 19 September 2026 in the demonstration's zone, which is on summer time: midnight is at a whole hour of UTC.
    const [first] = entries
    const midnight = Date.parse(first?.from ?? '') - (first?.fromMinute ?? 0) * 60_000
    const { timeZone } = await kitchen.prisma.coop.findFirstOrThrow({ orderBy: { createdAt: 'asc' } })
    const there = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'short', timeStyle: 'short' })
    expect(there.format(midnight)).toBe('19/09/2026, 00:00')
    for (const { from: begin, to, fromMinute, toMinute } of entries)
      expect(Date.parse(to) - Date.parse(begin)).toBe((toMinute - fromMinute) * 60_000)
  })

  it('find nothing of another co-op', async () => {
    const theirs = '/api/plans/their-plan/timetables/1'
    expect((await kitchen.call('GET', theirs)).statusCode).toBe(404)
    expect((await kitchen.call('POST', `${theirs}/stop`, {})).statusCode).toBe(404)
    expect((await kitchen.call('POST', `${theirs}/change`, { edits: [] })).statusCode).toBe(404)
    const now = '2026-09-19T16:00:00Z'
    expect((await kitchen.call('POST', `${theirs}/replan`, { now, begun: [] })).statusCode).toBe(404)
    expect((await kitchen.call('GET', '/api/plans/their-plan/timetables')).statusCode).toBe(404)
  })

  it('settle parts by hand, and tell them again as they were told', async () => {
    const [, second] = (await tasks()).filter(({ batch }) => batch !== null)
    if (!second) throw new Error('no second task')
    const edits = [{ kind: 'at', task: second.task, at: later(second.start, 45) }]
    const made = await next('1/change', { edits })
    expect(made).toMatchObject({ from: 1, edits })
    const entries: Entry[] = made.answer.entries
    expect(entries.find(({ task }) => task === second.task)?.from).toBe(later(second.start, 45))
    expect(made.answer.moved).toBeGreaterThan(0)
    // All that is to hold is told each time: none is all taken back.
    expect((await next(`${made.number}/change`, { edits: [] })).edits).toEqual([])
  })

  it.each([
    ['a task that is not there', { kind: 'at', task: 'none', at: '2026-09-19T16:00:00Z' }, 422, 'no such task'],
    [
      'an instant before the first day',
      { kind: 'not-before', batch: 'none', at: '2020-01-01T00:00:00Z' },
      422,
      'no such batch',
    ],
    ['a helper who is not there', { kind: 'by', task: 'clean-up@0', helper: 'nobody' }, 422, 'no such helper'],
    ['no instant', { kind: 'at', task: 'none', at: 'at noon' }, 400, ''],
    ['a kind that there is not', { kind: 'sing', task: 'none' }, 400, ''],
  ])('refuse %s and save nothing', async (_, edit, status, words) => {
    const refused = await refusedWith('1/change', { edits: [edit] })
    expect([refused.status, JSON.stringify(refused.error)]).toEqual([status, expect.stringContaining(words)])
  })

  it('plan the rest of a day anew: what was begun stays, and no more is moved than must be', async () => {
    const [first] = await tasks()
    if (!first) throw new Error('no task')
    const now = later(first.start, 5)
    const all = await tasks()
    const begun = all.filter(({ start }) => start < now).map(({ task, start }) => ({ task, start, done: false }))
    const asPlanned = await next('1/replan', { now, begun })
    expect(asPlanned.answer.moved).toBe(0)
    const minutes = (Date.parse(first.end) - Date.parse(first.start)) / 60_000 + 40
    const late = await next('1/replan', {
      now,
      begun: begun.map((one) => (one.task === first.task ? { ...one, minutes } : one)),
    })
    const entries: Entry[] = late.answer.entries
    expect(entries.find(({ task }) => task === first.task)?.from).toBe(first.start)
    expect(entries.filter(({ task }) => task === first.task).at(-1)?.to).toBe(later(first.start, minutes))
    for (const { task, from } of entries) if (!begun.some((one) => one.task === task)) expect(from >= now).toBe(true)

    // An edit after that keeps what was begun, and a beginning that was is no longer to be chosen.
    const ahead = all.find(({ start, batch }) => start > later(now, 30) && batch !== null)
    if (!ahead) throw new Error('nothing is ahead')
    const at = later(ahead.start, 60)
    const both = await next(`${late.number}/change`, { edits: [{ kind: 'at', task: ahead.task, at }] })
    const kept: Entry[] = both.answer.entries
    expect(kept.find(({ task }) => task === first.task)?.from).toBe(first.start)
    expect(kept.find(({ task }) => task === ahead.task)?.from).toBe(at)
    expect((await stored(both.number)).question.progress?.begun.length).toBe(begun.length)
    const again = await refusedWith(`${late.number}/change`, { edits: [{ kind: 'at', task: first.task, at }] })
    expect([again.status, again.error.fields['edits.0']]).toEqual([422, 'This was begun already'])
  })

  it('refuse a load that says it was over before its tested minutes were', async () => {
    const load = (await tasks()).find(({ tested }) => tested > 0)
    if (!load) throw new Error('no load')
    const begun = [{ task: load.task, start: load.start, minutes: load.tested - 1, done: true }]
    const refused = await refusedWith('1/replan', { now: load.end, begun })
    expect(refused.status).toBe(422)
    expect(refused.error.fields['begun.0']).toContain('less than its tested minutes')
    expect(refused.error.fields['begun.0']).toContain('local extension service')
  })

  it('refuse in words what cannot have been', async () => {
    const [first, second] = await tasks()
    if (!first || !second) throw new Error('no tasks')
    const one = { task: first.task, start: first.start, done: false }
    const now = later(first.start, 10)
    const words = async (body: object) => {
      const { status, error } = await refusedWith('1/replan', body)
      return [status, JSON.stringify(error)]
    }
    expect(await words({ now, begun: [one, one] })).toEqual([422, expect.stringContaining('told twice')])
    expect(await words({ now, begun: [{ ...one, start: later(now, 5) }] })).toEqual([
      422,
      expect.stringContaining('still to come'),
    ])
    expect(await words({ now: '2020-01-01T00:00:00Z', begun: [] })).toEqual([
      422,
      expect.stringContaining('before the first work day'),
    ])
    expect(await words({ now: '9999-12-31T00:00:00Z', begun: [] })).toEqual([
      422,
      expect.stringContaining('after the last work day'),
    ])
    expect((await words({ now, begun: [{ ...one, minutes: -1 }] }))[0]).toBe(400)
    expect((await words({ now: 'soon', begun: [] }))[0]).toBe(400)
  })

  it('refuse two that were begun by one person at one time', async () => {
    const { entries }: { entries: Entry[] } = (await told(1)).answer
    const busy = entries.filter(({ helpers, toMinute, fromMinute }) => helpers.length > 0 && toMinute > fromMinute + 4)
    const pair = busy.flatMap((one) =>
      busy
        .filter((other) => other.task !== one.task && other.helpers.some((who) => one.helpers.includes(who)))
        .map((other) => [one, other]),
    )[0]
    const starts = new Map((await tasks()).map(({ task, start }) => [task, start]))
    if (!pair?.[0] || !pair[1]) throw new Error('nobody is in two tasks')
    // Both begun so that these two pieces of work begin at the same minute.
    const begun = pair.map(({ task, from }) => {
      const shift = (Date.parse(pair[0]?.from ?? '') - Date.parse(from)) / 60_000
      return { task, start: later(starts.get(task) ?? '', shift), done: false }
    })
    const refused = await refusedWith('1/replan', { now: later(pair[0].from, 2), begun })
    expect(refused.status).toBe(422)
    expect(JSON.stringify(refused.error)).toContain('something else that was begun')
  })

  it('stop one that is over without harm', async () => {
    const answer = await kitchen.call('POST', `${calls}/1/stop`, {})
    expect([answer.statusCode, answer.json().location]).toEqual([202, `${calls}/1`])
    expect((await told(1)).stopAsked).toBe(false)
  })
})
