import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { TestApp } from '../../support/app.ts'
import { textAt, textsAt } from '../../support/html.ts'
import { addJars } from '../shelf/jars.ts'
import { restocked, sharingApp, stockByOwner, sum, takeJars } from './sharing.ts'

let app: Awaited<ReturnType<typeof sharingApp>>
beforeAll(async () => {
  app = await sharingApp()
})
beforeEach(async () => {
  app = await restocked(app)
})
afterAll(() => app?.close())

const proposal = {
  name: 'harvest',
  households: [
    { id: 'hedger', grams: 30_000 },
    { id: 'moss', minutes: 750 },
    { id: 'pike', moneyMinor: 750 },
  ],
}
async function propose({ call }: TestApp, body: object = proposal): Promise<string> {
  const made = await call('POST', '/api/shares', body)
  expect(made.statusCode, made.payload).toBe(201)
  return made.json().id
}
const handOut = (id: string, fields: Record<string, string> = {}) =>
  app.postForm(`/shares/${id}/hand-out`, fields, { from: `/shares/${id}` })
const owed = async () =>
  Object.fromEntries(
    (await app.call('GET', '/api/shares/standing'))
      .json()
      .households.map(({ id, owedMinor }: { id: string; owedMinor: number }) => [id, owedMinor]),
  )
const shareEntries = () => app.prisma.shelfEntry.findMany({ where: { coopId: app.coopId, kind: 'share' } })

describe('a hand-out', () => {
  test('moves each jar of the picking lists to its household, and writes down what is owed', async () => {
    const id = await propose(app)
    expect((await handOut(id)).headers.location).toBe(`/shares/${id}`)
    // hedger 6 jam and 4 chutney, moss 2 and 2, pike 2 and 1; hedger picks first, the oldest jam
    expect(await stockByOwner(app)).toEqual({
      ...{ 'hedger OLD1': 4, 'hedger NEW1': 2, 'hedger CHU1': 4 },
      ...{ 'moss NEW1': 2, 'moss CHU1': 2, 'pike NEW1': 2, 'pike CHU1': 1 },
    })
    expect(await owed()).toEqual({ hedger: 84, moss: 70, pike: -154 })
    const entries = await shareEntries()
    expect(entries.every(({ shareOutId, householdId }) => shareOutId === id && householdId !== null)).toBe(true)
    expect(sum(entries.map(({ units }) => units))).toBe(0)
    expect(sum(entries.map(({ units }) => Math.max(0, units)))).toBe(17)
    const $ = await app.getPage(`/shares/${id}`)
    expect($('form[action$="/hand-out"]').length).toBe(0)
  })

  test('happens once, however often the form is sent', async () => {
    const id = await propose(app)
    const again = { _submission: 'handed-out-twice' }
    expect((await handOut(id, again)).statusCode).toBe(303)
    const stock = await stockByOwner(app)
    const repeated = await app.call('POST', `/api/shares/${id}/hand-out`, {})
    expect([repeated.statusCode, repeated.json().error?.message]).toEqual([409, 'harvest was handed out already.'])
    expect(await stockByOwner(app)).toEqual(stock)
    expect((await shareEntries()).length).toBe(14)
  })

  test('happens once for two who press at the same time', async () => {
    const id = await propose(app)
    const both = await Promise.all([1, 2].map(() => app.call('POST', `/api/shares/${id}/hand-out`, {})))
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409])
    expect((await shareEntries()).length).toBe(14)
  })

  test('is told again to a program that repeats its key', async () => {
    const id = await propose(app)
    const key = { 'idempotency-key': 'one-and-the-same' }
    const [first, second] = [
      await app.call('POST', `/api/shares/${id}/hand-out`, {}, key),
      await app.call('POST', `/api/shares/${id}/hand-out`, {}, key),
    ]
    expect([first.statusCode, second.statusCode]).toEqual([200, 200])
    expect(second.json()).toEqual(first.json())
    expect((await shareEntries()).length).toBe(14)
  })

  test('writes nothing where a jar was taken meanwhile, and says which', async () => {
    const id = await propose(app)
    await takeJars(app, app.olderJam, 1)
    const before = await stockByOwner(app)
    const answer = await handOut(id)
    expect(answer.statusCode).toBe(409)
    expect(answer.payload).toContain('of Damson jam OLD1 in pantry there are only 3, and 4 are to be handed out')
    expect(await stockByOwner(app)).toEqual(before)
    expect([await app.prisma.owedEntry.count(), (await shareEntries()).length]).toEqual([0, 0])
    expect((await app.call('GET', `/api/shares/${id}`)).json().state).toBe('proposed')
  })

  test('is refused where a batch was recalled meanwhile', async () => {
    const id = await propose(app)
    const { coopId } = app
    await app.prisma.batch.updateMany({ where: { coopId, code: 'CHU1' }, data: { recalledAt: new Date() } })
    const answer = await handOut(id)
    expect([answer.statusCode, answer.payload.includes('Plum chutney CHU1 in pantry is recalled')]).toEqual([409, true])
    expect((await shareEntries()).length).toBe(0)
  })

  test('is not interrupted by jars that have come since', async () => {
    const id = await propose(app, { ...proposal, products: [{ recipeId: 'damson-jam', pack: 'half-pint', units: 3 }] })
    await takeJars(app, app.chutney, 7)
    expect((await handOut(id)).statusCode).toBe(303)
  })

  test('is refused where what is owed has changed since', async () => {
    const jam = (units: number) => ({ ...proposal, products: [{ recipeId: 'damson-jam', pack: 'half-pint', units }] })
    const one = await propose(app, jam(3))
    const other = await propose(app, jam(4))
    expect((await handOut(one)).statusCode).toBe(303)
    const late = await handOut(other)
    expect(late.statusCode).toBe(409)
    // the first took the oldest jam; it is the stock that is told of, or else the debts
    expect(late.payload).toMatch(/The shelf has changed|What households are owed has changed/)
    const chutney = { ...proposal, products: [{ recipeId: 'plum-chutney', pack: 'pint', units: 2 }] }
    const third = await propose(app, chutney)
    await app.call('POST', `/api/shares/${one}/undo`, {})
    const refused = await handOut(third)
    expect([refused.statusCode, refused.payload.includes('What households are owed has changed')]).toEqual([409, true])
  })

  test('counts for the next one: what is owed, and what was brought no second time', async () => {
    const { coopId, prisma } = app
    const lot = { coopId, crop: 'damson', source: 'own-trees', broughtBy: 'x', storage: 'cool', weightTyped: '' }
    const today = new Date('2026-09-11')
    await prisma.lot.create({ data: { ...lot, id: 'noon', householdId: 'moss', arrivedOn: today, weightGrams: 4_000 } })
    await handOut(await propose(app))
    await prisma.lot.create({ data: { ...lot, id: 'eve', householdId: 'pike', arrivedOn: today, weightGrams: 1_000 } })
    const { from, households } = (await app.call('GET', '/api/shares/standing')).json()
    expect(from).toBe('2026-09-11')
    expect(households.map(({ grams }: { grams: number }) => grams)).toEqual([0, 0, 1_000])
    await addJars(app, 5)
    const next = await propose(app)
    const { question, answer } = (await app.call('GET', `/api/shares/${next}`)).json()
    const debts = question.households.map(({ id, owedMinor }: { id: string; owedMinor: number }) => [id, owedMinor])
    expect(Object.fromEntries(debts)).toEqual(await owed())
    expect(sum(debts.map(([, minor]: [string, number]) => Math.abs(minor)))).toBeGreaterThan(0)
    for (const { owedBefore, entitled, received, owed: then } of answer.households) {
      expect(owedBefore + entitled - received).toBe(then)
    }
  })
})

describe('a hand-out taken back', () => {
  const undo = (id: string) => app.postForm(`/shares/${id}/undo`, {}, { from: `/shares/${id}` })

  test('leaves the stock as it was, nothing owed, and a proposal', async () => {
    const before = await stockByOwner(app)
    const id = await propose(app)
    await handOut(id)
    expect((await undo(id)).statusCode).toBe(303)
    expect(await stockByOwner(app)).toEqual(before)
    expect(await owed()).toEqual({ hedger: 0, moss: 0, pike: 0 })
    const undone = await app.prisma.shelfEntry.count({ where: { coopId: app.coopId, kind: 'undo' } })
    expect(undone).toBe(14)
    expect((await app.call('POST', `/api/shares/${id}/undo`, {})).statusCode).toBe(409)
    // and it can be handed out again, and taken back again
    expect((await handOut(id)).statusCode).toBe(303)
    expect((await undo(id)).statusCode).toBe(303)
    expect(await stockByOwner(app)).toEqual(before)
  })

  test('is refused where a household has eaten of it', async () => {
    const id = await propose(app)
    await handOut(id)
    const line = await app.prisma.jarBatch.findFirstOrThrow({
      where: { coopId: app.coopId, householdId: 'moss', batch: { code: 'CHU1' } },
    })
    await takeJars(app, line.id, 1)
    const before = await stockByOwner(app)
    const answer = await undo(id)
    expect([answer.statusCode, answer.payload.includes('Moss has 1 of 2 of Plum chutney CHU1')]).toEqual([409, true])
    expect(await stockByOwner(app)).toEqual(before)
    expect(await owed()).toMatchObject({ moss: 70 })
  })
})

describe('a sharing out', () => {
  test('is dropped, and not handed out then', async () => {
    const id = await propose(app)
    expect((await app.postForm(`/shares/${id}/drop`, {}, { from: `/shares/${id}` })).statusCode).toBe(303)
    expect((await app.call('POST', `/api/shares/${id}/hand-out`, {})).statusCode).toBe(409)
    expect(textsAt(await app.getPage('/shares'), '[aria-labelledby=past-heading] tbody td')[0]).toBe('dropped')
  })

  test('has a picking list for each household and all together', async () => {
    const id = await propose(app)
    const all = await app.getPage(`/shares/${id}/picking`)
    expect(textsAt(all, '.picking h2')).toEqual(['Hedger', 'Moss', 'Pike'])
    expect(textsAt(all, '.picking:first-of-type .ticks li')).toEqual([
      '4 half-pint jars Damson jamOLD1, best by Mon, 1 Mar 2027',
      '2 half-pint jars Damson jamNEW1, best by Sun, 12 Sept 2027',
      '4 pint jars Plum chutneyCHU1, best by Sun, 12 Sept 2027',
    ])
    const one = await app.getPage(`/shares/${id}/picking?household=moss`)
    expect([textsAt(one, '.picking h2'), textAt(one, '.picking p')]).toEqual([['Moss'], '4 jars to take.'])
  })

  test('is proposed once by a program that repeats its key', async () => {
    const key = { 'idempotency-key': 'one-proposal' }
    const first = await app.call('POST', '/api/shares', proposal, key)
    await handOut(first.json().id)
    // by now there are no shared jars that it could have
    const second = await app.call('POST', '/api/shares', proposal, key)
    expect(second.json()).toEqual(first.json())
    expect((await app.call('GET', '/api/shares')).json().shareOuts).toHaveLength(1)
  })

  test('of another co-op is not found', async () => {
    for (const path of ['', '/picking']) {
      expect((await app.app.inject(`/shares/their-shares${path}`)).statusCode).toBe(404)
    }
    expect((await app.call('GET', '/api/shares/their-shares')).statusCode).toBe(404)
    for (const does of ['hand-out', 'undo', 'drop']) {
      expect((await app.call('POST', `/api/shares/their-shares/${does}`, {})).statusCode).toBe(404)
    }
    const theirs = await app.call('POST', '/api/shares', { households: [{ id: 'their-household', grams: 1000 }] })
    expect(theirs.statusCode).toBe(422)
  })
})
