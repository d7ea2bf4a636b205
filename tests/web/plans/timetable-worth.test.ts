import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Help, weighHelps } from '../../../src/core/agreement/index.ts'
import { readWorth, type WorthAnswer } from '../../../src/features/plans/timetables/worth/documents.ts'
import { textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { demonstrationApp, divide, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

// With the real solver and the real scheduler in their threads: one wish on a short day, more than one canner can do.

let kitchen: PlanKitchen
let timetable: string
let page: string
beforeAll(async () => {
  kitchen = await demonstrationApp({ environment: { SOLVE_SECONDS: '1' } })
  const ids = await idsOf(kitchen)
  const [dayId] = ids.days
  const { opensMinute } = await kitchen.prisma.workDay.findFirstOrThrow({ where: { id: dayId ?? '' } })
  await kitchen.prisma.workDay.updateMany({ where: { id: dayId ?? '' }, data: { closesMinute: opensMinute + 240 } })
  const made = await kitchen.call('POST', '/api/plans', {
    name: 'Sauce',
    lotIds: [ids.lot('apple')],
    dayIds: [dayId],
    wishes: [{ recipeId: ids.recipe('Apple sauce'), pack: 'quart', atLeast: 0, about: 42, atMost: 42, matters: 2 }],
  })
  const division = await divide(kitchen, `/plans/${made.json().id}`)
  await workedOut(kitchen, division)
  timetable = await kitchen.postTaken(`${division}/timetable`, {}, { from: division })
  await kitchen.app.timetables.settled()
  page = `${timetable}/worth`
}, 180_000)
afterAll(() => kitchen.close())

async function stored() {
  const row = await kitchen.prisma.timetableWorth.findFirstOrThrow()
  return { ...row, answer: row.answer === null ? null : readWorth(row.answer) }
}

/** As if the process had ended there: noted, with so much tried. */
async function leave(change: Partial<WorthAnswer>): Promise<WorthAnswer> {
  const { answer } = await stored()
  if (answer === null) throw new Error('nothing was tried')
  const left = { ...answer, ...change }
  await kitchen.prisma.timetableWorth.updateMany({
    data: { state: 'waiting', answer: JSON.parse(JSON.stringify(left)), finishedAt: null },
  })
  return left
}

const hour: Help = { kind: 'hours', day: 0, minutes: 60 }

describe('what would help a timetable', () => {
  it('is asked for once by a button, and tried one after the other', async () => {
    expect((await kitchen.call('GET', `/api${page}`)).statusCode).toBe(404)
    const asks = await kitchen.getPage(page)
    const gave = textsAt(asks, 'button[type="submit"]').includes('What would have saved it')
    expect(await kitchen.postTaken(page, {})).toBe(page)
    // a second form of another page, while the first is at work
    const twice = await kitchen.call('POST', `/api${page}`, {})
    expect([twice.statusCode, twice.headers.location]).toEqual([202, `/api${page}`])
    expect((await kitchen.getPage(page))('button').length).toBeGreaterThan(0)
    await kitchen.app.worths.settled()
    expect(await kitchen.prisma.timetableWorth.count()).toBe(1)
    const { state, done, answer } = await stored()
    expect([state, done]).toEqual(['done', answer?.candidates.length])
    expect(answer?.tries.map(({ help }) => help)).toEqual([null, ...(answer?.candidates ?? []), null])
    const $ = await kitchen.getPage(page)
    expect(textAt($, 'h1')).toContain(gave ? 'What would have saved it' : 'What would help most')
    expect($('progress').length).toBe(0)
  }, 240_000)

  it('is told best first, with money, jars and hours, and names everything that was tried', async () => {
    const { answer } = await stored()
    if (answer === null) throw new Error('nothing was tried')
    const { helps, without, from } = weighHelps(answer.before, answer.tries)
    const best = helps[0]
    if (!best) throw new Error('nothing helps on a day on which one canner is not enough')
    expect(helps.map(({ help }) => help)).toContainEqual({ kind: 'machine', machine: 'canner' })
    const { worthMinor } = await quarts()
    for (const { gain, unitsChanged } of helps) {
      const more = unitsChanged.reduce((sum, { units }) => sum + units, 0)
      // no more than the jars are worth, as the apples in them could have gone elsewhere, or been lost
      expect(gain).toBeGreaterThan(0)
      expect(gain).toBeLessThan(more * (worthMinor + 50))
    }
    expect(from.holds).toBe(true)
    const $ = await kitchen.getPage(page)
    const first = textsAt($, 'tbody tr:first-child td')
    expect(first[0]).toBe(`$${(Math.round(best.gain) / 100).toFixed(2)}`)
    expect(first[1]).toContain(`${best.unitsChanged[0]?.units} quarts more of Apple sauce`)
    expect($('tbody tr').length).toBe(helps.length)
    const said = textAt($, 'main')
    expect(said).toContain('before the price of the thing itself')
    if (without.length > 0) expect(said).toMatch(/Tried|Worth no less/)
    expect(helps.length + without.length).toBe(answer.candidates.length)
    const call = (await kitchen.call('GET', `/api${page}`)).json()
    expect(call.answer.helps).toEqual(helps)
    expect(call.answer.without).toEqual(without)
  })

  it('is not tried again where everything has been', async () => {
    const before = await stored()
    expect((await kitchen.call('POST', `/api${page}`, {})).statusCode).toBe(202)
    await kitchen.app.worths.settled()
    expect(await stored()).toEqual(before)
  })

  it('goes on at the next start after what the last process had tried', async () => {
    const { tries } = await leave({ candidates: [hour], tries: (await stored()).answer?.tries.slice(0, 1) ?? [] })
    expect(await kitchen.app.queue.start()).toBe(1)
    await kitchen.app.worths.settled()
    const { state, answer } = await stored()
    expect([state, answer?.tries.map(({ help }) => help)]).toEqual(['done', [null, hour, null]])
    expect(answer?.tries[0]).toEqual(tries[0])
  }, 60_000)

  it('can be stopped with what was tried so far, and gone on with', async () => {
    await leave({ candidates: [hour], tries: [] })
    await kitchen.app.queue.start()
    expect(await kitchen.postTaken(`${page}/stop`, {}, { from: page })).toBe(page)
    const $ = await kitchen.getPage(page)
    expect(textAt($, 'main')).toContain('Not tried yet: an hour more on')
    expect(await kitchen.postTaken(page, {})).toBe(page)
    await kitchen.app.worths.settled()
    const { state, answer } = await stored()
    expect([state, answer?.tries.length]).toEqual(['done', 3])
  }, 60_000)

  it('is told of the timetable that was made from the division, where one goes on from that', async () => {
    const { id, number, ...rest } = await kitchen.prisma.timetable.findFirstOrThrow()
    const changed = {
      ...rest,
      id: 'changed',
      number: number + 1,
      question: { from: number },
      answer: rest.answer ?? {},
    }
    await kitchen.prisma.timetable.create({ data: changed })
    const path = `${timetable.replace(/\d+$/, String(number + 1))}/worth`
    const led = await kitchen.app.inject({ url: path })
    expect([led.statusCode, led.headers.location]).toEqual([303, page])
    expect((await kitchen.call('POST', `/api${path}`, {})).headers['location']).toBe(`/api${page}`)
    expect((await kitchen.call('GET', `/api${path}`)).json().timetable).toBe(number)
    await kitchen.app.worths.settled()
    await kitchen.prisma.timetable.deleteMany({ where: { id: 'changed' } })
  })

  it('is refused for a timetable that is not worked out, and fails in words where the division is another', async () => {
    const { timetableId } = await stored()
    await kitchen.prisma.timetableWorth.deleteMany()
    const one = await kitchen.prisma.timetable.findFirstOrThrow({ where: { id: timetableId } })
    const { id, number, answer, ...rest } = one
    const next = { ...rest, question: {}, number: number + 1 }
    await kitchen.prisma.timetable.create({ data: { ...next, id: 'open', state: 'waiting' } })
    const open = timetable.replace(/\d+$/, String(number + 1))
    expect((await kitchen.call('POST', `/api${open}/worth`, {})).statusCode).toBe(422)
    expect((await kitchen.app.inject({ url: `${open}/worth` })).headers.location).toBe(open)

    const other = JSON.parse(JSON.stringify(answer))
    const of = other.plan.batches[0].batch
    other.plan.batches[0].batch = { ...of, units: of.units + 1 }
    await kitchen.prisma.timetable.updateMany({ where: { id }, data: { answer: other } })
    expect((await kitchen.call('POST', `/api${page}`, {})).statusCode).toBe(202)
    await kitchen.app.worths.settled()
    expect(await stored()).toMatchObject({ state: 'failed', answer: null })
    expect(textAt(await kitchen.getPage(page), '.lost')).toContain('broke off')
  })

  it('finds nothing of another co-op', async () => {
    await addNeighbours(kitchen)
    const theirs = { coopId: neighboursId, id: 'theirs', number: 1, question: {}, askedBy: 'Them' }
    await kitchen.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
    await kitchen.prisma.division.create({ data: { ...theirs, planId: 'their-plan', planVersion: 1, state: 'done' } })
    await kitchen.prisma.timetable.create({
      data: { ...theirs, planId: 'their-plan', divisionId: 'theirs', state: 'done' },
    })
    await kitchen.prisma.timetableWorth.create({
      data: { coopId: neighboursId, timetableId: 'theirs', state: 'waiting', askedBy: 'Them', startedAt: new Date() },
    })
    const path = '/plans/their-plan/timetables/1/worth'
    for (const url of [path, `/api${path}`])
      expect([url, (await kitchen.app.inject({ url })).statusCode]).toEqual([url, 404])
    for (const to of [path, `${path}/stop`]) {
      expect([to, (await kitchen.call('POST', `/api${to}`, {})).statusCode]).toEqual([to, 404])
    }
    const { state } = await kitchen.prisma.timetableWorth.findFirstOrThrow({ where: { coopId: neighboursId } })
    expect(state).toBe('waiting')
  })
})

async function quarts(): Promise<{ worthMinor: number }> {
  const { definition } = await kitchen.prisma.recipe.findFirstOrThrow({ where: { name: 'Apple sauce' } })
  const { packs }: { packs: { key: string; worthMinor: number }[] } = JSON.parse(JSON.stringify(definition))
  const pack = packs.find(({ key }) => key === 'quart')
  if (!pack) throw new Error('no quarts')
  return pack
}
