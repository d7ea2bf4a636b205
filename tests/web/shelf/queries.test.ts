import pg from 'pg'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { describeServer } from '../../support/database.ts'
import { addJars, addManyJars } from './jars.ts'

// Counted at the server's own client, so that whatever a page asks of the database is seen, however it was asked.
describeServer('the number of queries', () => {
  let app: TestApp
  let line: string
  beforeAll(async () => {
    app = await testApp()
    line = (await addJars(app, 5)).jarBatchId
    await addManyJars(app, 10, near)
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
    expect(await queriesOf(paths)).toEqual(few)
    for (const [path, many] of few) {
      expect(many, path).toBeGreaterThan(1)
      expect(many, path).toBeLessThan(30)
    }
  })

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
