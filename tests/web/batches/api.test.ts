import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { accountOf, preserving, stockSupply, unequalStocks } from './kitchen.ts'

let app: TestApp
let lotId: string
beforeAll(async () => {
  app = await testApp()
  const made = await preserving(app)
  lotId = made.lotId
  await addNeighbours(app)
  await stockSupply(app, 'jars', 100)
})
afterAll(() => app?.close())

const process = {
  method: 'boiling-water',
  canner: 'the blue one',
  reachedAt: '2026-09-11T07:00:00Z',
  endedAt: '2026-09-11T08:25:00+01:00',
  headspaceMm: 12.7,
  by: ['Wilfred Marsh'],
}
const body = (more: object = {}) => ({
  recipeId: 'plums-in-light-syrup',
  pack: 'pint',
  madeOn: '2026-09-11',
  lots: [{ lotId, class: 'ripe', grams: 600 }],
  units: 1,
  placeId: 'pantry',
  process,
  ...more,
})
const send = (more: object = {}, headers: Record<string, string> = {}) =>
  app.call('POST', '/api/batches', body(more), headers)

describe('finishing by a call', () => {
  test('answers the batch, and the same key once', async () => {
    const key = { 'idempotency-key': 'plums-of-friday' }
    const [first, second] = [await send({}, key), await send({}, key)]
    expect(first.statusCode, first.body).toBe(201)
    expect(second.json()).toEqual(first.json())
    expect(first.json()).toMatchObject({
      keeping: 'shelf',
      units: 1,
      inGrams: 600,
      process: { shelfStable: true, due: { minutes: 25 } },
    })
    expect(first.json().jars).toEqual([expect.objectContaining({ stock: 1, place: 'hall pantry' })])
    expect(await app.prisma.batch.count({ where: { coopId: app.coopId } })).toBe(1)
    const list = await app.call('GET', '/api/batches?q=PLUMS')
    expect(list.json().batches.map(({ id }: { id: string }) => id)).toEqual([first.json().id])
    const one = await app.call('GET', `/api/batches/${first.json().id}`)
    expect(one.json()).toEqual(first.json())
  })

  test('one second short of the minutes is refused a shelf, at the field that says so', async () => {
    const short = await send({ process: { ...process, endedAt: '2026-09-11T07:24:59Z' } })
    expect(short.statusCode).toBe(422)
    expect(short.json().fields ?? short.json().error?.fields).toMatchObject({
      'process.endedAt': '25 minutes are due; 24.9 were given.',
      placeId: expect.stringContaining('Not for a shelf'),
    })
    expect((await send({ process: { ...process, reachedAt: null } })).statusCode).toBe(422)
    expect((await send({ process: null, placeId: 'fridge' })).statusCode).toBe(201)
  })

  test.each([
    [{ householdId: 'their-household' }, 422],
    [{ helperIds: ['their-helper'] }, 422],
    [{ supplies: { 'no-such-thing': 3 } }, 422],
    [{ madeOn: '2026-09-31' }, 400],
    [{ lots: [], units: 1 }, 422],
    [{ units: 0 }, 422],
    [{ recipeId: 'no-such-recipe' }, 404],
    [{ pack: 'thimble' }, 404],
    [{ jars: [{ jarBatchId: 'no-such-jars', units: 1 }] }, 422],
    [{ trim: [{ kind: 'stones-stems', grams: 5, outletId: 'their-outlet' }] }, 422],
  ])('refuses %o', async (more: object, status) => {
    const before = await app.prisma.batch.count()
    const answer = await send(more)
    expect([400, 404, 422]).toContain(answer.statusCode)
    if (status !== 400) expect(answer.statusCode, answer.body).toBe(status)
    expect(await app.prisma.batch.count()).toBe(before)
  })

  test('a lot of another crop and a closed lot are refused', async () => {
    const { takeIn } = await import('../lots/lots.ts')
    const apples = await takeIn(app)
    expect((await send({ lots: [{ lotId: apples, class: 'ripe', grams: 10 }] })).statusCode).toBe(422)
    const plums = await takeIn(app, { weight: '2 kg', crop: 'plum', class: 'ripe' })
    const { version } = await app.prisma.lot.findFirstOrThrow({ where: { id: plums } })
    expect((await app.call('PUT', `/api/lots/${plums}/closure`, { version, closed: true })).statusCode).toBe(200)
    expect((await send({ lots: [{ lotId: plums, class: 'ripe', grams: 10 }] })).statusCode).toBe(409)
  })

  test('many at once take out of the same lot and supply one after the other, each with a number of its own', async () => {
    const before = await accountOf(app, lotId)
    const jars = await app.prisma.supply.findFirstOrThrow({ where: { id: 'jars' } })
    const answers = await Promise.all(Array.from({ length: 4 }, () => send()))
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([201, 201, 201, 201])
    expect(new Set(answers.map((answer) => answer.json().code)).size).toBe(4)
    const after = await accountOf(app, lotId)
    expect(after.usedGrams - before.usedGrams).toBe(2400)
    expect(after.whole).toBe(before.whole)
    const left = await app.prisma.supply.findFirstOrThrow({ where: { id: 'jars' } })
    expect(jars.onHand - left.onHand).toBe(4)
    expect(await unequalStocks(app)).toEqual([])
  })

  test('a correction with an older version is refused', async () => {
    const { id, version } = (await send()).json()
    const change = { version, note: 'opened one: good', bestBy: null, handMinutes: 30, helperIds: ['pip'] }
    const url = `/api/batches/${id}`
    const patch = (payload: object) => app.app.inject({ method: 'PATCH', url, payload })
    expect((await patch(change)).json()).toMatchObject({
      version: version + 1,
      bestBy: null,
      helpers: [{ name: 'Pip Odell' }],
    })
    expect((await patch(change)).statusCode).toBe(409)
  })

  test('produce that is sorted after a batch keeps what the batch used', async () => {
    const { usedGrams } = await accountOf(app, lotId)
    const { version } = await app.prisma.lot.findFirstOrThrow({ where: { id: lotId } })
    const grams = { firm: 0, ripe: 9_000, soft: 500, damaged: 0, setAside: 100, lost: 0 }
    const sorted = await app.call('POST', `/api/lots/${lotId}/sortings`, { how: 'weights', version, grams, sure: true })
    expect(sorted.json().today).toMatchObject({ usedGrams, usableGrams: 9_500, setAsideGrams: 100 })
  })
})
