import pg from 'pg'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { randomId } from '../../../src/ids.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { describeServer } from '../../support/database.ts'
import { addJars, addManyJars, addUsed } from './jars.ts'

// Counted at the server's own client, so that whatever a page asks of the database is seen, however it was asked.
describeServer('the number of queries', () => {
  let app: TestApp
  let line: string
  beforeAll(async () => {
    app = await testApp()
    line = (await addJars(app, 5)).jarBatchId
    await addManyJars(app, 10, near)
    await addLow(1)
  })
  afterAll(() => app?.close())

  test('of no page of the shelf grows with what stands there', async () => {
    const paths = [
      '/',
      '/shelf',
      '/shelf?q=jam&whose=shared',
      '/shelf/first',
      '/shelf/places',
      '/shelf/places/pantry/count',
      '/shelf/products/damson-jam/half-pint',
      `/shelf/jars/${line}`,
      '/shelf/ledger',
      '/shelf/empties',
      '/api/shelf/stock',
      '/api/shelf/ledger',
    ]
    const few = await queriesOf(paths)
    await addManyJars(app, 290, near)
    await addLow(12)
    expect(await queriesOf(paths)).toEqual(few)
    for (const [path, many] of few) {
      expect(many, path).toBeGreaterThan(1)
      expect(many, path).toBeLessThan(30)
    }
  })

  /** Products that run low, and supplies that are used up. */
  async function addLow(many: number): Promise<void> {
    const names = Array.from({ length: many }, (_, n) => `low ${many} ${n}`)
    for (const product of names) await addUsed(app, { product, left: 1, used: 9 })
    await app.prisma.supply.createMany({
      data: names.map((name) => ({
        ...{ coopId: app.coopId, id: randomId(), key: name, name, unit: 'piece', onHand: 0 },
        ...{ packSize: 12, packPriceMinor: 420, packsAtMost: 0 },
      })),
    })
  }

  async function queriesOf(paths: string[]): Promise<[string, number][]> {
    const asked: [string, number][] = []
    for (const path of paths) {
      const query = vi.spyOn(pg.Client.prototype, 'query')
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(200)
      asked.push([path, query.mock.calls.length])
      query.mockRestore()
    }
    return asked
  }
})

/** Half of them are near their best-by date. */
function near(n: number): Record<string, unknown> {
  return { bestBy: new Date(n % 2 === 0 ? '2026-09-30T00:00:00Z' : '2027-09-30T00:00:00Z') }
}
