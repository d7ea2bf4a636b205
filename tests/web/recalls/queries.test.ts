import pg from 'pg'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { describeServer } from '../../support/database.ts'
import { addJars } from '../shelf/jars.ts'
import { addChain, addInput } from './chain.ts'

// Counted at the server's own client, so that whatever a page asks of the database is seen, however it was asked.
describeServer('the number of queries', () => {
  let app: TestApp
  let chain: Awaited<ReturnType<typeof addChain>>
  let recallId: string
  beforeAll(async () => {
    app = await testApp()
    chain = await addChain(app)
    const body = { batchIds: [chain.jelly.batchId], reason: 'Mould' }
    recallId = (await app.call('POST', '/api/recalls', body)).json().id
  })
  afterAll(() => app?.close())

  test('of tracing and of a recall does not grow with what was made', async () => {
    const paths = [
      `/trace/lots/${chain.lotId}`,
      `/trace/batches/${chain.juice.batchId}`,
      `/recalls/new?lot=${chain.lotId}`,
      `/recalls/${recallId}`,
      `/recalls/${recallId}/notice`,
      '/recalls',
      '/files/stock.csv',
      '/files/ledger.csv',
      '/files/lots.csv',
    ]
    const few = await queriesOf(paths)
    for (let n = 0; n < 20; n += 1) {
      const { batchId } = await addJars(app, 3)
      await addInput(
        app,
        batchId,
        n % 2 === 0 ? { lotId: chain.lotId } : { jarBatchId: chain.jelly.jarBatchId, units: 1 },
        100,
      )
    }
    expect(await queriesOf(paths)).toEqual(few)
    for (const [path, many] of few) expect(many, path).toBeLessThan(25)
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
