import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { problemsIn } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { addJars } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())

let number = 0
let lids: string
let jars: string
const pints = { jar: 'pint', name: 'pint jars' }

// Entries of the shelf are not erased: each test has supplies of its own, and what is of others is out of the lists.
beforeEach(async () => {
  number += 1
  await app.prisma.supply.updateMany({ where: { coopId: app.coopId }, data: { gone: true } })
  await app.prisma.$executeRaw`UPDATE "Supply" SET "key" = "id" WHERE "coopId" = ${app.coopId}`
  lids = await supply(`lids-${number}`, { key: 'lid', name: 'lids', unit: 'lid', packSize: 12, onHand: 5 })
  jars = await supply(`jars-${number}`, { key: 'jar-pint', name: 'pint jars', unit: 'jar', packSize: 6, onHand: 2 })
})

async function supply(
  id: string,
  { key, name, unit, packSize, onHand }: { key: string; name: string; unit: string; packSize: number; onHand: number },
): Promise<string> {
  const price = { packPriceMinor: 900, packsAtMost: 2 }
  await app.prisma.supply.create({ data: { coopId: app.coopId, id, key, name, unit, packSize, onHand, ...price } })
  return id
}
const post = (path: string, body: object = {}, headers = {}) => app.call('POST', `/api/shelf/${path}`, body, headers)
const onHand = async (id: string) => (await app.prisma.supply.findFirstOrThrow({ where: { id } })).onHand
const fields = (answer: { json(): { error: { fields?: unknown } } }) => answer.json().error.fields

describe('the calls of empty jars', () => {
  test('tell what each household owes, and take jars back into the supplies', async () => {
    const { jarBatchId } = await addJars(app, 10, { jar: 'pint' })
    expect((await post(`jars/${jarBatchId}/take`, { units: 6, householdId: 'pike' })).statusCode).toBe(200)
    const owed = async () => {
      const { empties } = (await app.call('GET', '/api/shelf/empties')).json()
      return empties.filter(({ jar }: { jar: string }) => jar === 'pint')
    }
    const household = { id: 'pike', name: 'Pike' }
    expect(await owed()).toEqual([{ household, jar: 'pint', got: 6, returned: 0, owed: 6 }])
    const back = await post('empties', { householdId: 'pike', jar: 'pint', units: 4 })
    expect([back.statusCode, back.json()]).toEqual([
      201,
      {
        id: expect.any(String),
        order: expect.any(Number),
        at: '2026-09-11T09:00:00.000Z',
        kind: 'return',
        units: 4,
        stockAfter: 6,
        by: 'Rosalind Pike',
        note: null,
        household: 'Pike',
        undone: false,
        jarBatchId: null,
        supplyId: jars,
        what: 'pint jars',
      },
    ])
    expect(await owed()).toEqual([{ household, jar: 'pint', got: 6, returned: 4, owed: 2 }])
    expect((await app.call('GET', '/api/shelf/empties')).json().jars).toEqual([{ ...pints, supplyId: jars, onHand: 6 }])
    // two more than it owes: it owes none, not less than none
    await post('empties', { householdId: 'pike', jar: 'pint', units: 4 })
    expect(await owed()).toEqual([{ household, jar: 'pint', got: 6, returned: 8, owed: 0 }])
    expect((await post(`entries/${back.json().id}/undo`)).statusCode).toBe(204)
    expect(await owed()).toEqual([{ household, jar: 'pint', got: 6, returned: 4, owed: 2 }])
    expect(await onHand(jars)).toBe(6)
  })

  test('count once under the same key', async () => {
    const key = { 'idempotency-key': `empties-${number}` }
    const body = { householdId: 'pike', jar: 'pint', units: 3 }
    const first = await post('empties', body, key)
    expect((await post('empties', body, key)).json()).toEqual(first.json())
    expect(await onHand(jars)).toBe(5)
    expect((await post('empties', { ...body, units: 4 }, key)).statusCode).toBe(422)
    expect(await onHand(jars)).toBe(5)
  })

  test.each([
    [{ householdId: 'nobody' }, 422, { householdId: 'Choose who brings them back' }],
    [{ householdId: 'their-household' }, 422, { householdId: 'Choose who brings them back' }],
    [{ jar: 'quart' }, 422, { jar: 'Choose which jars' }],
    [
      { householdId: 'nobody', jar: 'lid' },
      422,
      { householdId: 'Choose who brings them back', jar: 'Choose which jars' },
    ],
    [{ units: 0 }, 400, { units: 'Give 1 or more.' }],
    [{ units: 1.5 }, 400, { units: 'Give a whole number.' }],
    [{ units: 100_001 }, 400, { units: 'Give 100000 or less.' }],
    [{ units: '4' }, 400, { units: 'Give a number.' }],
    [{ jar: 'pi\u0000nt' }, 400, { jar: expect.any(String) }],
  ])('refuse %o', async (part, status, problems) => {
    const wrong = await post('empties', { householdId: 'pike', jar: 'pint', units: 2, ...part })
    expect([wrong.statusCode, fields(wrong)]).toEqual([status, problems])
    expect(await onHand(jars)).toBe(2)
  })

  test('refuse more than can be on hand, at its place, as the page does', async () => {
    await app.call('PUT', `/api/supplies/${jars}/on-hand`, { onHand: 9_999_999 })
    const words = 'With 9999999 of pint jars there already, add 1 at most'
    const body = { householdId: 'pike', jar: 'pint' }
    const wrong = await post('empties', { ...body, units: 2 })
    expect([wrong.statusCode, fields(wrong)]).toEqual([422, { units: words }])
    expect(problemsIn(await app.postRefused('/shelf/empties', { ...body, units: '2' }))).toEqual([words])
    expect((await post('empties', { ...body, units: 1 })).statusCode).toBe(201)
    expect(await onHand(jars)).toBe(10_000_000)
  })
})

describe('the calls of what was bought', () => {
  const buy = (id: string, body: object, headers = {}) => post(`supplies/${id}/buy`, body, headers)

  test('tell a pack and what is on hand, and add what was bought', async () => {
    const before = (await app.call('GET', `/api/shelf/supplies/${lids}/buy`)).json()
    expect(before).toEqual({ supplyId: lids, name: 'lids', unit: 'lid', onHand: 5, packSize: 12, packsAtOnce: 10_000 })
    const bought = await buy(lids, { packs: 2, note: '  the mill shop ' })
    expect([bought.statusCode, bought.json()]).toMatchObject([
      201,
      { kind: 'buy', units: 24, stockAfter: 29, note: 'the mill shop', supplyId: lids, what: 'lids' },
    ])
    expect((await buy(lids, { packs: 1 })).json()).toMatchObject({ stockAfter: 41, note: null })
    expect((await post(`entries/${bought.json().id}/undo`)).statusCode).toBe(204)
    expect(await onHand(lids)).toBe(17)
  })

  test('count once under the same key', async () => {
    const key = { 'idempotency-key': `bought-${number}` }
    const first = await buy(lids, { packs: 2 }, key)
    expect((await buy(lids, { packs: 2 }, key)).json()).toEqual(first.json())
    expect((await buy(lids, { packs: 3 }, key)).statusCode).toBe(422)
    expect(await onHand(lids)).toBe(29)
  })

  test.each([
    [{ packs: 0 }, { packs: 'Give 1 or more.' }],
    [{ packs: 10_001 }, { packs: 'Give 10000 or less.' }],
    [{ packs: 0.5 }, { packs: 'Give a whole number.' }],
    [{}, { packs: 'Give a number.' }],
    [{ packs: 1, note: 'x'.repeat(201) }, { note: 'Give 200 characters or less.' }],
    [{ packs: 1, units: 12 }, { body: 'Leave out: units.' }],
  ])('refuse %o', async (body, problems) => {
    const wrong = await buy(lids, body)
    expect([wrong.statusCode, fields(wrong)]).toEqual([400, problems])
    expect(await onHand(lids)).toBe(5)
  })

  test('refuse more than can be on hand, at its place, as the page does', async () => {
    const words = 'So many packs are more than can be on hand: enter 2 at most'
    const sacks = { key: 'sacks', name: 'sacks', unit: 'g', packSize: 4_000_000, onHand: 1 }
    const sugar = await supply(`sugar-${number}`, sacks)
    const wrong = await buy(sugar, { packs: 3 })
    expect([wrong.statusCode, fields(wrong)]).toEqual([422, { packs: words }])
    expect(problemsIn(await app.postRefused(`/shelf/supplies/${sugar}/buy`, { packs: '3' }))).toEqual([words])
    expect((await buy(sugar, { packs: 2 })).json()).toMatchObject({ stockAfter: 8_000_001 })
    expect(await onHand(sugar)).toBe(8_000_001)
  })

  test('do not find what is not there, is another co-op’s or was removed', async () => {
    await app.prisma.supply.update({ where: { coopId_id: { coopId: app.coopId, id: lids } }, data: { gone: true } })
    for (const id of ['nowhere', 'their-lids', lids]) {
      expect((await app.call('GET', `/api/shelf/supplies/${id}/buy`)).statusCode, id).toBe(404)
      expect((await buy(id, { packs: 1 })).statusCode, id).toBe(404)
    }
  })
})
