import { validate } from '@apidevtools/swagger-parser'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { addJars, addManyJars } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())

const post = (path: string, body: object = {}, headers = {}) => app.call('POST', `/api/shelf/${path}`, body, headers)
const jars = async (id: string) => (await app.call('GET', `/api/shelf/jars/${id}`)).json()

describe('the calls of the shelf', () => {
  test('take, give, break, count and move, each answering the jars as they are then', async () => {
    const { jarBatchId: id } = await addJars(app, 20)
    const cellar = (await post('places', { name: 'cellar', kind: 'cellar', householdId: null })).json()
    expect((await post(`jars/${id}/take`, { units: 3, householdId: 'pike' })).json()).toMatchObject({ id, stock: 17 })
    expect((await post(`jars/${id}/give`, { units: 2, note: 'the fete' })).json()).toMatchObject({ stock: 15 })
    expect((await post(`jars/${id}/break`, { units: 1 })).json()).toMatchObject({ stock: 14 })
    expect((await post(`jars/${id}/count`, { shown: 14, counted: 13 })).json()).toMatchObject({ stock: 13 })
    const moved = await post(`jars/${id}/move`, { units: 10, placeId: cellar.id, householdId: 'pike' })
    expect([moved.statusCode, moved.json()]).toMatchObject([
      200,
      {
        stock: 10,
        place: { name: 'cellar' },
        household: { name: 'Pike' },
        product: 'Damson jam',
        bestBy: '2027-09-12',
      },
    ])
    const { entries, more } = (await app.call('GET', `/api/shelf/ledger?jars=${id}`)).json()
    expect(more).toBe(false)
    expect(entries.map(({ kind, units }: { kind: string; units: number }) => [kind, units])).toEqual([
      ['move', -10],
      ['count', -1],
      ['break', -1],
      ['give', -2],
      ['take', -3],
      ['put', 20],
    ])
    expect((await app.call('GET', '/api/shelf/ledger?household=pike')).json().entries).toHaveLength(3)
    expect((await post(`entries/${entries[0].id}/undo`)).statusCode).toBe(204)
    expect(await jars(id)).toMatchObject({ stock: 13 })
    const again = await post(`entries/${entries[0].id}/undo`)
    expect([again.statusCode, again.json().error.message]).toEqual([409, 'Somebody took this back already.'])
    expect((await post(`entries/${entries[5].id}/undo`)).statusCode).toBe(409)
  })

  test('count once under the same key', async () => {
    const { jarBatchId: id } = await addJars(app, 20)
    const key = { 'idempotency-key': `take-${id}` }
    for (let i = 0; i < 3; i++)
      expect((await post(`jars/${id}/take`, { units: 3, householdId: 'pike' }, key)).json()).toMatchObject({
        stock: 17,
      })
    expect((await post(`jars/${id}/take`, { units: 4, householdId: 'pike' }, key)).statusCode).toBe(422)
    expect(await jars(id)).toMatchObject({ stock: 17 })
  })

  test('of twelve that take the last ten, ten get one', async () => {
    const { jarBatchId: id } = await addJars(app, 10)
    const takes = await Promise.all(
      Array.from({ length: 12 }, () => post(`jars/${id}/take`, { units: 1, householdId: 'pike' })),
    )
    expect(takes.map(({ statusCode }) => statusCode).sort()).toEqual([...Array(10).fill(200), 409, 409])
    expect(await jars(id)).toMatchObject({ stock: 0 })
  })

  test('list what is in stock, narrowed and by pages', async () => {
    await emptyTables(app.prisma, 'Batch')
    await addManyJars(app, 51)
    const { jarBatchId } = await addJars(app, 5, { variety: 'Farleigh', bestBy: new Date('2026-12-01T00:00:00Z') })
    const first = (await app.call('GET', '/api/shelf/stock')).json()
    expect([first.jars.length, first.more, first.jars[0].id]).toEqual([50, true, jarBatchId])
    const second = (await app.call('GET', '/api/shelf/stock?page=2')).json()
    expect([second.jars.length, second.more]).toEqual([2, false])
    const found = (await app.call('GET', '/api/shelf/stock?q=farleigh&whose=shared&keeping=shelf')).json()
    expect(found.jars.map(({ id }: { id: string }) => id)).toEqual([jarBatchId])
  })

  test('keep places', async () => {
    const body = { name: 'larder', kind: 'pantry', householdId: 'pike' }
    const added = await post('places', body)
    const { id } = added.json()
    expect([added.statusCode, added.json()]).toEqual([
      201,
      { id, ...body, household: 'Pike', closed: false, version: 1 },
    ])
    expect((await post('places', body)).statusCode).toBe(422)
    const changed = await app.call('PUT', `/api/shelf/places/${id}`, { ...body, name: 'cold larder', version: 1 })
    expect(changed.json()).toMatchObject({ name: 'cold larder', version: 2 })
    expect((await app.call('PUT', `/api/shelf/places/${id}`, { ...body, version: 1 })).statusCode).toBe(409)
    expect((await app.call('PUT', `/api/shelf/places/${id}/closed`, { closed: true })).json()).toMatchObject({
      closed: true,
    })
    const { jarBatchId } = await addJars(app, 1)
    const move = await post(`jars/${jarBatchId}/move`, { units: 1, placeId: id, householdId: null })
    expect([move.statusCode, move.json().error.message]).toEqual([409, 'cold larder is closed: choose another place.'])
    const full = await app.call('PUT', '/api/shelf/places/pantry/closed', { closed: true })
    expect(full.statusCode).toBe(409)
    expect((await app.call('GET', '/api/shelf/places/pantry')).json()).toMatchObject({ closed: false })
  })

  test.each([
    ['take', { units: 0, householdId: 'pike' }],
    ['take', { units: 1.5, householdId: 'pike' }],
    ['take', { units: 1e12, householdId: 'pike' }],
    ['take', { units: 1 }],
    ['give', { units: 1, note: 'a\u0000b' }],
    ['move', { units: 1, placeId: 'pantry' }],
    ['count', { counted: 3 }],
    ['break', { units: '1' }],
  ])('refuse to %s by %o', async (does, body) => {
    const { jarBatchId } = await addJars(app, 5)
    expect((await post(`jars/${jarBatchId}/${does}`, body)).statusCode).toBe(400)
  })

  test('tell what is wrong by field, and do not find what is not there', async () => {
    const { jarBatchId } = await addJars(app, 5)
    const wrong = await post(`jars/${jarBatchId}/take`, { units: 1, householdId: 'their-household' })
    expect([wrong.statusCode, wrong.json().error.fields]).toEqual([422, { householdId: 'Choose who takes them' }])
    const calls = [
      post('jars/nowhere/take', { units: 1, householdId: 'pike' }),
      post('jars/nowhere/count', { shown: 1, counted: 1 }),
      post('entries/nowhere/undo'),
      post(`jars/${jarBatchId}/move`, { units: 1, placeId: 'nowhere', householdId: null }),
      app.call('GET', '/api/shelf/jars/nowhere'),
      app.call('GET', '/api/shelf/places/nowhere'),
      app.call('PUT', '/api/shelf/places/nowhere/closed', { closed: true }),
    ]
    expect((await Promise.all(calls)).map(({ statusCode }) => statusCode)).toEqual(calls.map(() => 404))
  })

  test('are described', async () => {
    const description = (await app.app.inject({ url: '/openapi.json' })).json()
    expect(Object.keys(description.paths).filter((path) => path.startsWith('/api/shelf/'))).toHaveLength(14)
    await validate(description)
  })
})
