import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkSchedule } from '../../../src/core/scheduling/index.ts'
import { readTimetableQuestion, readWorkedOut } from '../../../src/features/plans/timetables/documents.ts'
import type { Fields } from '../../support/app.ts'
import { problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { demonstrationApp, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

// A small plan of one day, with the real solver and the real scheduler in their threads.

let kitchen: PlanKitchen
let planId: string
let timetables: string
let first: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  const ids = await idsOf(kitchen)
  await addNeighbours(kitchen)
  const wishes = ['Apple sauce', 'Damson jam'].map((recipe, place) => ({
    recipeId: ids.recipe(recipe),
    pack: ['quart', 'half-pint'][place],
    atLeast: 0,
    about: [14, 8][place],
    atMost: [14, 8][place],
    matters: 3,
  }))
  const lotIds = [ids.lot('apple'), ids.lot('damson')]
  const made = await kitchen.call('POST', '/api/plans', { name: 'Sauce', lotIds, dayIds: [ids.days[0]], wishes })
  expect(made.statusCode, made.body).toBe(201)
  planId = made.json().id
  await kitchen.call('POST', `/api/plans/${planId}/divisions`, {})
  await workedOut(kitchen, `/plans/${planId}/divisions/1`)
  const asked = await kitchen.call('POST', `/api/plans/${planId}/divisions/1/timetable`, {})
  expect(asked.statusCode, asked.body).toBe(202)
  await kitchen.app.timetables.settled()
  timetables = `/plans/${planId}/timetables`
  first = `${timetables}/1`
}, 120_000)
afterAll(() => kitchen.close())

async function stored(number: number) {
  const row = await kitchen.prisma.timetable.findFirstOrThrow({ where: { planId, number } })
  expect([row.state, row.failure]).toEqual(['done', null])
  return { worked: readWorkedOut(row.answer), question: readTimetableQuestion(row.question), row }
}

const count = () => kitchen.prisma.timetable.count({ where: { planId } })

/** Sends the form of a timetable, waits, and reads the one that came of it. */
async function changed(fields: Fields, from = first) {
  const path = await kitchen.postTaken(`${from}/change`, fields)
  await kitchen.app.timetables.settled()
  const made = await stored(Number(path.split('/').at(-1)))
  expect(checkSchedule(made.worked.plan.problem, made.worked.schedule)).toEqual([])
  return { path, ...made }
}

/** A task with hands in a portion of a batch, and its day. */
async function aTask() {
  const { worked } = await stored(1)
  const { plan, schedule } = worked
  const planned = plan.activities.find(
    ({ activity, batch, portion }) =>
      batch !== null && portion !== null && activity.phases.some(({ people }) => people),
  )
  const day = plan.kitchen.days[0]
  if (!planned?.batch || !day) throw new Error('no task')
  return { plan, schedule, task: planned.activity.id, batch: planned.batch, day }
}

const typed = (minute: number) =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`

describe('the form that settles parts of a timetable', () => {
  it('names every task under its batch with its time, and is found from the timetable', async () => {
    const { plan } = await aTask()
    const $ = await kitchen.getPage(`${first}/change`)
    const options = textsAt($, 'select[name="at.task"] optgroup option')
    expect(options.length).toBe(plan.activities.length)
    expect(options[0]).toMatch(/^Sat, Sep 19, \d+:\d\d AM: /)
    const labels = $('select[name="at.task"] optgroup')
      .toArray()
      .map((group) => $(group).attr('label'))
    expect(labels.some((label) => label?.startsWith('Apple sauce, '))).toBe(true)
    expect($('input[type="time"]').length).toBe(6)
  })

  it('begins a task at a time, and makes another timetable of the same division', async () => {
    const { task, day, schedule } = await aTask()
    const before = await stored(1)
    const minute = (schedule.start[task] ?? 0) + 30
    const made = await changed({ 'at.task': task, 'at.day': day.id, 'at.time': typed(minute) })
    expect(made.worked.schedule.start[task]).toBe(minute)
    expect(made.question).toEqual({ from: 1, edits: [{ kind: 'at', activity: task, minute }], progress: null })
    expect(made.row.divisionId).toBe(before.row.divisionId)
    expect((await stored(1)).worked).toEqual(before.worked)
    const $ = await kitchen.getPage(`${made.path}/change`)
    expect(textsAt($, 'input[name="back"] + label')[0]).toMatch(/, begins Sat, Sep 19, \d+:\d\d AM$/)
  })

  it('holds a batch back, sends somebody away and leaves machines out, all at once', async () => {
    const { plan, batch, day } = await aTask()
    const [helper] = plan.kitchen.helpers
    if (!helper) throw new Error('nobody')
    const burners = plan.kitchen.machines.find(({ kind }) => kind === 'burner')?.countByDay[0] ?? 0
    expect(burners).toBeGreaterThan(1)
    const opens = day.opens - day.midnight
    const span = { from: typed(opens + 60), to: typed(opens + 120) }
    const { worked, question, path } = await changed({
      'before.batch': batch,
      'before.day': day.id,
      'before.time': typed(opens + 90),
      'away.helper': helper.id,
      'away.day': day.id,
      'away.from': span.from,
      'away.to': span.to,
      'out.machine': 'burner',
      'out.count': '1',
      'out.day': day.id,
      'out.from': span.from,
      'out.to': span.to,
    })
    const [from, to] = [day.opens + 60, day.opens + 120]
    expect(question.edits).toEqual([
      { kind: 'not-before', batch, minute: day.opens + 90 },
      { kind: 'break', helper: helper.id, from, to },
      { kind: 'out', machine: 'burner', count: 1, from, to },
    ])
    for (const { activity, batch: of } of worked.plan.activities)
      if (of === batch) expect(worked.schedule.start[activity.id]).toBeGreaterThanOrEqual(day.opens + 90)
    const calendar = worked.plan.problem.people?.find(({ id }) => id === helper.id)?.calendar ?? []
    expect(calendar.filter((one) => one.from < to && from < one.to)).toEqual([])

    // Taking one back leaves the others.
    const less = await changed({ back: '1' }, path)
    expect(less.question.edits.map(({ kind }) => kind)).toEqual(['not-before', 'out'])
    expect(less.question.from).toBe(Number(path.split('/').at(-1)))
  })

  it('puts somebody in a task', async () => {
    const { plan } = await aTask()
    const washing = plan.activities.find(({ activity: { phases } }) => phases.length === 1 && phases[0]?.people?.length)
    if (!washing) throw new Error('no task of hands')
    const adult = plan.kitchen.helpers.find(({ ageBand, skills }) => ageBand === 'adult' && skills.length === 5)
    if (!adult) throw new Error('nobody who can do everything')
    const { worked } = await changed({ 'by.task': washing.activity.id, 'by.helper': adult.id })
    expect(worked.schedule.people[washing.activity.id]?.flat()).toContain(adult.id)
  })

  it.each([
    ['nothing at all', {}, 'Settle something, or tick what is to be taken back'],
    ['a task without a time', { 'at.day': '' }, 'Enter a time like 10:15'],
    ['a time that is none', { 'at.time': '25:10' }, 'Enter a time like 10:15'],
    ['a time before opening', { 'at.time': '00:10' }, 'The kitchen is open from'],
  ])('refuses %s in words, keeps what was typed and saves nothing', async (_, fields, words) => {
    const { task, day } = await aTask()
    const all = Object.keys(fields).length === 0 ? {} : { 'at.task': task, 'at.day': day.id, ...fields }
    const before = await count()
    const $ = await kitchen.postRefused(`${first}/change`, all)
    expect(problemsIn($).join(' ')).toContain(words)
    if ('at.task' in all) expect($('select[name="at.task"] option[selected]').attr('value')).toBe(task)
    expect(await count()).toBe(before)
  })

  it('refuses a child at hot work', async () => {
    const { plan } = await aTask()
    const child = plan.kitchen.helpers.find(({ ageBand }) => ageBand === 'child')
    const hot = plan.activities.find(({ activity }) =>
      activity.phases.some(({ people = [] }) => people.some(({ skill }) => skill.startsWith('adult:'))),
    )
    if (!child || !hot) throw new Error('no child, or no hot work')
    const $ = await kitchen.postRefused(`${first}/change`, { 'by.task': hot.activity.id, 'by.helper': child.id })
    expect(problemsIn($)[0]).toContain(`${child.name} may not do this`)
  })

  it('refuses a stretch that ends before it begins, and more machines than there are', async () => {
    const { day } = await aTask()
    const $ = await kitchen.postRefused(`${first}/change`, {
      'out.machine': 'burner',
      'out.count': '400',
      'out.day': day.id,
      'out.from': '12:00',
      'out.to': '11:00',
    })
    expect(problemsIn($).sort()).toEqual([
      expect.stringMatching(/^Enter a time after the first/),
      expect.stringMatching(/^Enter how many, from 1 to \d/),
    ])
  })

  it('counts once when it is sent twice', async () => {
    const { task, day } = await aTask()
    const fields = { 'at.task': task, 'at.day': day.id, 'at.time': '12:00', _submission: 'sent-twice-1' }
    const before = await count()
    const paths = [
      await kitchen.postTaken(`${first}/change`, fields),
      await kitchen.postTaken(`${first}/change`, fields),
    ]
    expect(paths[0]).toBe(paths[1])
    expect(await count()).toBe(before + 1)
    await kitchen.app.timetables.settled()
  })

  it('is not found for another co-op’s timetable, and there is none before there is an answer', async () => {
    await kitchen.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
    for (const path of ['/plans/their-plan/timetables/1/change', `${timetables}/99/change`])
      expect((await kitchen.app.inject({ url: path })).statusCode).toBe(404)
    const { row } = await stored(1)
    const data = {
      ...row,
      id: 'waits',
      number: 90,
      state: 'waiting',
      question: {},
      answer: undefined,
      finishedAt: null,
    }
    const { answer: _, ...waiting } = data
    await kitchen.prisma.timetable.create({ data: waiting })
    const answer = await kitchen.app.inject({ url: `${timetables}/90/change` })
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `${timetables}/90`])
    await kitchen.prisma.timetable.delete({ where: { coopId_id: { coopId: row.coopId, id: 'waits' } } })
  })
})

describe('a timetable that goes on from another', () => {
  it('is worked out again after a restart', async () => {
    const { task, schedule } = await aTask()
    const { row } = await stored(1)
    const minute = (schedule.start[task] ?? 0) + 15
    const question = { from: 1, edits: [{ kind: 'at', activity: task, minute }], progress: null }
    const { answer: _, ...rest } = row
    const data = { ...rest, id: 'left-behind', number: 91, state: 'solving', question, finishedAt: null }
    await kitchen.prisma.timetable.create({ data })
    expect(await kitchen.app.queue.start()).toBe(1)
    await kitchen.app.timetables.settled()
    expect((await stored(91)).worked.schedule.start[task]).toBe(minute)
  })

  it('reads an older row’s empty question as nothing asked', () => {
    expect(readTimetableQuestion({})).toEqual({ from: null, edits: [], progress: null })
  })

  it('says on its page what was settled, and where it goes on from', async () => {
    const { task, day } = await aTask()
    const { path } = await changed({ 'at.task': task, 'at.day': day.id, 'at.time': '12:30' })
    const $ = await kitchen.getPage(path)
    const told = textsAt($, 'p').find((text) => text.startsWith('This goes on from timetable 1.'))
    expect(told).toContain('Settled by hand: ')
    expect(told).toMatch(/begins? at another time for it\./)
    expect($(`a[href="${path}/change"]`).length).toBe(1)
    expect(textAt($, 'h1')).toContain('timetable')
  })
})
