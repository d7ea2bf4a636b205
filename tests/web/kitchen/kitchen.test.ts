import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { timetableOf } from '../../../src/core/day/index.ts'
import { readWorkedOut } from '../../../src/features/plans/timetables/documents.ts'
import { piecesOf } from '../../../src/features/plans/timetables/pieces.ts'
import { beginSession, randomSecret } from '../../../src/web/sessions/index.ts'
import { htmlOf, textAt, textsAt } from '../../support/html.ts'
import { demonstrationApp, divide, type PlanKitchen, workedOut } from '../plans/kitchen.ts'

// The demonstration's own plan on the clock, by the real solver and scheduler; the clock is moved into its first day.

let kitchen: PlanKitchen
let steward: string
let coopId: string
let screen: string
let now = new Date('2026-09-18T12:00:00Z')
let date: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  kitchen.app.clock.now = () => now
  const division = await divide(kitchen)
  await workedOut(kitchen, division)
  await kitchen.postTaken(`${division}/timetable`, {}, { from: division })
  await kitchen.app.timetables.settled()
  const member = await kitchen.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
  steward = member.id
  coopId = member.coopId
  date = (await work()).plan.kitchen.days[0]?.date ?? expect.fail('no work day')
  const session = { id: 'a-screen', token: randomSecret(), coopId, memberId: null, device: 'Tablet by the stove' }
  await beginSession(kitchen.prisma, session, now)
  screen = `glut_session=${session.token}`
}, 300_000)
afterAll(() => kitchen?.close())
beforeEach(async () => {
  await kitchen.prisma.taskTick.deleteMany()
  await at('09:30')
})

/** The clock of the co-op's kitchen, on its first work day. The demonstration stands in the zone America/New_York. */
async function at(time: string, day = date): Promise<void> {
  const { timeZone } = await kitchen.prisma.coop.findFirstOrThrow()
  expect(timeZone).toBe('America/New_York')
  // in September four hours behind UTC
  now = new Date(`${day}T${time}:00-04:00`)
  await kitchen.signInAs(steward)
}

async function work() {
  const { answer } = await kitchen.prisma.timetable.findFirstOrThrow({ orderBy: { number: 'asc' } })
  return readWorkedOut(answer)
}

/** The first day's pieces with somebody's hands, from the timetable itself. */
async function hands() {
  const { plan, schedule } = await work()
  const midnight = plan.kitchen.days[0]?.midnight ?? 0
  const entries = timetableOf(plan, schedule).entries.filter(({ from }) => from >= midnight && from < midnight + 1440)
  return piecesOf(entries).filter(({ helpers }) => helpers.length > 0)
}

const see = async (cookie: string, url = '/kitchen') => {
  const answer = await kitchen.app.inject({ url, headers: { cookie, accept: 'text/html' } })
  expect(answer.statusCode).toBe(200)
  return { $: htmlOf(answer.payload), answer }
}

/** Presses the first button of a section as the screen does. */
async function press(path: '/kitchen/done' | '/kitchen/back', url = '/kitchen') {
  const { $, answer } = await see(screen, url)
  const form = $(`form[action="${path}"]`).first()
  const fields = Object.fromEntries(form.serializeArray().map(({ name, value }) => [name, value]))
  const set = answer.cookies.map(({ name, value }) => `${name}=${value}`)
  const pressed = await kitchen.app.inject({
    method: 'POST',
    url: path,
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      'sec-fetch-site': 'same-origin',
      cookie: [screen, ...set].join('; '),
    },
    payload: String(new URLSearchParams(fields)),
  })
  return { pressed, fields, label: form.find('button').attr('aria-label') ?? '' }
}

describe('the day', () => {
  test('tells what is now and what is next, as the timetable has it', async () => {
    const $ = await kitchen.getPage('/kitchen')
    expect(textAt($, 'h1')).toMatch(/^In the kitchen: Sat, Sep 19$/)
    expect(textAt($, '.kitchen-clock')).toContain('It is 9:30')
    const all = await hands()
    const buttons = $('form[action="/kitchen/done"] button').length
    expect(buttons).toBe(all.length)
    const minute = 9 * 60 + 30
    const open = all.filter(({ from }) => from <= minute).length
    expect($('section[aria-labelledby=kitchen-now] form').length).toBe(open)
    expect(open).toBeGreaterThan(0)
    expect($('section[aria-labelledby=kitchen-next] form').length).toBe(all.length - open)
  })

  test('says what is late, at the top and at its place', async () => {
    await at('23:00')
    const $ = await kitchen.getPage('/kitchen')
    const all = await hands()
    expect(textsAt($, '.kitchen-clock .soon')).toEqual([`${all.length} tasks are late.`])
    expect($('.kitchen-late').length).toBe(all.length)
    expect(textsAt($, '.kitchen-late .soon')[0]).toMatch(/^late: was to be done at \d/)
  })

  test('is shown to one helper alone, and every task of it is theirs', async () => {
    const all = await kitchen.getPage('/kitchen')
    const links = all('nav[aria-label="Whose tasks"] a').toArray()
    expect(links.length).toBeGreaterThan(2)
    expect(textsAt(all, '[aria-current=true]')).toEqual(['Everybody'])
    for (const link of links.slice(1)) {
      const $ = await kitchen.getPage(all(link).attr('href') ?? '')
      const name = all(link).text()
      expect(textsAt($, '[aria-current=true]')).toEqual([name])
      const who = $('.kitchen-tasks > li > div').toArray()
      expect(who.length).toBeGreaterThan(0)
      for (const task of who) expect($(task).text()).toContain(name)
    }
  })

  test('another is chosen by a link, and a day without a timetable says which is next', async () => {
    const $ = await kitchen.getPage('/kitchen')
    const others = $('nav[aria-label="Other days"] a').toArray()
    expect(others.length).toBe((await work()).plan.kitchen.days.length - 1)
    const other = await kitchen.getPage($(others[0]).attr('href') ?? '')
    expect(textAt(other, 'h1')).toContain($(others[0]).text())
    expect(other('.kitchen-late').length).toBe(0)
    await at('09:00', '2026-09-18')
    const none = await kitchen.getPage('/kitchen')
    expect(textAt(none, '.lead')).toBe('No timetable for today. The next work day with one is Sat, Sep 19.')
    expect((await kitchen.app.inject({ url: '/kitchen?day=2026-02-31' })).statusCode).toBe(400)
  })

  test('looks again by itself, with script and without', async () => {
    const { $ } = await see(screen)
    expect($('#kitchen').attr('hx-get')).toBe('/kitchen')
    expect($('#kitchen').attr('hx-trigger')).toBe('every 30s')
    expect($('#kitchen noscript').text() || $('#kitchen noscript').html()).toContain('http-equiv="refresh"')
  })
})

describe('ticking off', () => {
  test('on the screen moves the task to the end, with the screen’s name, and can be taken back', async () => {
    const { pressed, label } = await press('/kitchen/done')
    expect([pressed.statusCode, pressed.headers.location]).toEqual([303, '/kitchen'])
    const { $ } = await see(screen)
    expect(textAt($, 'section[aria-labelledby=kitchen-done] .kitchen-by')).toMatch(
      /^Done: Tablet by the stove, Sep 19, 2026, 9:30/,
    )
    const back = $('form[action="/kitchen/back"] button')
    expect(back.length).toBe(1)
    expect(back.attr('aria-label')).toBe(label.replace(/^Done/, 'Take back'))
    expect((await press('/kitchen/back')).pressed.statusCode).toBe(303)
    expect(await kitchen.prisma.taskTick.count()).toBe(0)
    expect((await see(screen)).$('form[action="/kitchen/back"]').length).toBe(0)
  })

  test('in a helper’s view says who, and a person ticks in their own name only', async () => {
    const all = await kitchen.getPage('/kitchen')
    const link = all('nav[aria-label="Whose tasks"] a').eq(1)
    const url = link.attr('href') ?? ''
    const { pressed } = await press('/kitchen/done', url)
    expect(pressed.headers.location).toBe(url)
    const by = async () => [...new Set((await kitchen.prisma.taskTick.findMany()).map((tick) => tick.by))]
    expect(await by()).toEqual([`${link.text()} at Tablet by the stove`])
    await kitchen.prisma.taskTick.deleteMany()
    const fields = (await see(screen, url)).$('form[action="/kitchen/done"]').first().serializeArray()
    await kitchen.postTaken(
      '/kitchen/done',
      Object.fromEntries(fields.filter(({ name }) => !name.startsWith('_')).map(({ name, value }) => [name, value])),
      { from: url },
    )
    expect(await by()).toEqual(['Mara Fenwick'])
  })

  test('twice is once: the first one’s name and time stay', async () => {
    const { fields } = await press('/kitchen/done')
    const before = await kitchen.prisma.taskTick.findMany()
    await at('10:00')
    const body = { timetableId: fields['timetable'], task: fields['task'] }
    const answers = await Promise.all(Array.from({ length: 10 }, () => kitchen.call('POST', '/api/kitchen/done', body)))
    expect(answers.map(({ statusCode }) => statusCode)).toEqual(Array(10).fill(204))
    expect(await kitchen.prisma.taskTick.findMany()).toEqual(before)
  })

  test('stays when the day is replanned: a timetable that goes on from this one has its ticks', async () => {
    await press('/kitchen/done')
    const ticked = (await kitchen.prisma.taskTick.findMany()).map(({ task }) => task).sort()
    const first = await kitchen.prisma.timetable.findFirstOrThrow({ orderBy: { number: 'asc' } })
    const next = {
      ...first,
      id: 'gone-on',
      number: first.number + 1,
      question: { from: first.number, edits: [], progress: null },
    }
    await kitchen.prisma.timetable.create({ data: next as never })
    const { $ } = await see(screen)
    expect($('input[name=timetable]').first().attr('value')).toBe('gone-on')
    expect($('form[action="/kitchen/back"]').length).toBe(1)
    // and taking it back reaches the tick that was made in the one before
    await press('/kitchen/back')
    expect(ticked.length).toBeGreaterThan(0)
    expect(await kitchen.prisma.taskTick.count()).toBe(0)
    await kitchen.prisma.timetable.delete({ where: { coopId_id: { coopId, id: 'gone-on' } } })
  })

  test('a task that is not in the timetable is a conflict that leads to the day; another co-op’s timetable is not there', async () => {
    const { fields } = await press('/kitchen/done')
    const timetableId = fields['timetable']
    const gone = await kitchen.call('POST', '/api/kitchen/done', { timetableId, task: 'nothing/0' })
    expect([gone.statusCode, gone.json().error.code]).toEqual([409, 'conflict'])
    const theirs = await kitchen.call('POST', '/api/kitchen/done', { timetableId: 'theirs', task: fields['task'] })
    expect(theirs.statusCode).toBe(404)
  })
})

test('the calls tell the same day as the page', async () => {
  const { day, tasks, timetableId } = (await kitchen.call('GET', '/api/kitchen')).json()
  expect(day).toBe(date)
  const own = tasks.filter(({ helpers }: { helpers: string[] }) => helpers.length > 0)
  expect(own.length).toBe((await hands()).length)
  const [task] = own
  expect((await kitchen.call('POST', '/api/kitchen/done', { timetableId, task: task.id })).statusCode).toBe(204)
  const after = (await kitchen.call('GET', '/api/kitchen')).json().tasks
  const same = after.find(({ id }: { id: string }) => id === task.id)
  expect(same).toMatchObject({ state: 'done', doneBy: 'Mara Fenwick', doneAt: now.toISOString() })
  expect((await kitchen.call('POST', '/api/kitchen/back', { timetableId, task: task.id })).statusCode).toBe(204)
  expect(await kitchen.prisma.taskTick.count()).toBe(0)
})
