import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { addTheirLot, forgetLots, tomatoes } from './lots.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addTheirLot(app)
})
afterAll(() => app?.close())
beforeEach(() => forgetLots(app))

const patch = (id: string, payload: object) => app.app.inject({ method: 'PATCH', url: `/api/lots/${id}`, payload })

describe('the calls', () => {
  test('take in, read, change, move, sort, take back, close and list', async () => {
    const added = await app.call('POST', '/api/lots', tomatoes)
    expect(added.statusCode).toBe(201)
    const lot = added.json()
    expect(lot).toMatchObject({
      ...{ crop: 'tomato', storage: 'room', source: 'gleaned', broughtBy: 'Ines Odell', arrivedOn: '2026-09-11' },
      ...{ weightGrams: 8_000, weightTyped: '8 kg', version: 1, household: null, closedOn: null },
      sorting: { how: 'arrival', sortedBy: 'Rosalind Pike', grams: { firm: 0, ripe: 8_000, soft: 0, damaged: 0 } },
      today: { on: '2026-09-11', usableGrams: 8_000, wholeGrams: 8_000 },
    })
    const path = `/api/lots/${lot.id}`
    expect((await app.call('GET', path)).json()).toEqual(lot)
    expect((await app.call('GET', '/api/lots')).json()).toEqual({ lots: [lot] })

    const changed = await patch(lot.id, { version: 1, householdId: 'pike', note: 'split skins' })
    expect([changed.statusCode, changed.json().household, changed.json().variety]).toEqual([200, 'Pike', null])
    expect((await patch(lot.id, { version: 1, note: 'late' })).statusCode).toBe(409)

    const moved = await app.call('PUT', `${path}/storage`, { version: 2, storage: 'cool' })
    expect([moved.statusCode, moved.json().storage]).toEqual([200, 'cool'])

    const grams = { ripe: 5_000, soft: 2_000, setAside: 600, lost: 400 }
    const sorted = await app.call('POST', `${path}/sortings`, { how: 'weights', version: 3, grams })
    expect(sorted.statusCode).toBe(201)
    expect(sorted.json().today).toMatchObject({ usableGrams: 7_000, setAsideGrams: 600, lostGrams: 400 })

    const back = await app.call('POST', `${path}/sortings/reversal`, { version: 4 })
    expect([back.statusCode, back.json().today.usableGrams]).toEqual([201, 8_000])
    const { sortings } = (await app.call('GET', `${path}/sortings`)).json()
    expect(sortings.map((one: { how: string }) => one.how)).toEqual(['taken-back', 'weights', 'moved', 'arrival'])

    const closed = await app.call('PUT', `${path}/closure`, { version: 5, closed: true })
    expect([closed.statusCode, closed.json().closedOn]).toEqual([200, '2026-09-11'])
    expect((await app.call('GET', '/api/lots')).json()).toEqual({ lots: [] })
    expect((await app.call('GET', '/api/lots?closed=yes')).json().lots).toHaveLength(1)
    const open = await app.call('PUT', `${path}/closure`, { version: 6, closed: false })
    expect([open.statusCode, open.json().closedOn]).toEqual([200, null])
  })

  test('take a lot in once under one Idempotency-Key, and refuse the key for another', async () => {
    const key = { 'idempotency-key': 'lots-0001' }
    const first = await app.call('POST', '/api/lots', tomatoes, key)
    expect((await app.call('POST', '/api/lots', tomatoes, key)).json()).toEqual(first.json())
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(1)
    expect((await app.call('POST', '/api/lots', { ...tomatoes, weight: '9 kg' }, key)).statusCode).toBe(422)
  })

  test.each([
    [{ ...tomatoes, weight: 'heavy' }, 422, ['weight']],
    [{ ...tomatoes, weight: '0 kg' }, 422, ['weight']],
    [{ ...tomatoes, weight: 8 }, 400, ['weight']],
    [{ ...tomatoes, crop: 'moonfruit' }, 422, ['crop']],
    [{ ...tomatoes, crop: 'moonfruit', weight: '2 bushels' }, 422, ['crop', 'weight']],
    [{ ...tomatoes, arrivedOn: '2026-09-12' }, 422, ['arrivedOn']],
    [{ ...tomatoes, arrivedOn: 'NaN' }, 422, ['arrivedOn']],
    [{ ...tomatoes, householdId: 'their-household' }, 422, ['householdId']],
    [{ ...tomatoes, storage: 'attic' }, 400, ['storage']],
    [{ ...tomatoes, priceMinor: -1 }, 400, ['priceMinor']],
    [{ ...tomatoes, broughtBy: '  ' }, 400, ['broughtBy']],
    [{ ...tomatoes, broughtBy: '\u0000' }, 400, ['broughtBy']],
    [{ ...tomatoes, colour: 'red' }, 400, ['body']],
  ])('refuse %o', async (body, status, fields) => {
    const answer = await app.call('POST', '/api/lots', body)
    expect(answer.statusCode).toBe(status)
    expect(Object.keys(answer.json().error.fields)).toEqual(fields)
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test.each([
    [{ how: 'weights', grams: { ripe: 1_000 } }, 422, ['sure']],
    [{ how: 'weights', grams: {} }, 422, ['total']],
    [{ how: 'weights', grams: { ripe: -1 } }, 400, ['grams.ripe']],
    [{ how: 'weights', grams: { ripe: 1.5 } }, 400, ['grams.ripe']],
    [{ how: 'weights', grams: { ripe: 99_000_000 } }, 400, ['grams.ripe']],
    [{ how: 'shares', shares: { ripe: 0.5 } }, 422, ['total']],
    [{ how: 'shares', shares: { ripe: 1.5 } }, 400, ['shares.ripe']],
    [{ how: 'guess', grams: { ripe: 8_000 } }, 400, ['how']],
  ])('refuse the sorting %o', async (body, status, fields) => {
    const { id } = (await app.call('POST', '/api/lots', tomatoes)).json()
    const answer = await app.call('POST', `/api/lots/${id}/sortings`, { version: 1, ...body })
    expect(answer.statusCode).toBe(status)
    expect(Object.keys(answer.json().error.fields)).toEqual(fields)
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(1)
  })

  test.each(['0', '367', '-1', 'NaN', '1e99', ''])('refuse a forecast of %s days', async (days) => {
    const { id } = (await app.call('POST', '/api/lots', tomatoes)).json()
    expect((await app.call('GET', `/api/lots/${id}/forecast?days=${days}`)).statusCode).toBe(400)
  })
})
