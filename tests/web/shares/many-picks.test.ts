import pg from 'pg'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { describeServer } from '../../support/database.ts'
import { addManyJars } from '../shelf/jars.ts'
import { countedTotals, keptTotals } from '../shelf/totals.ts'
import { restocked, sharingApp, stockByOwner, sum } from './sharing.ts'

let app: Awaited<ReturnType<typeof sharingApp>>
beforeAll(async () => {
  app = await sharingApp()
})
afterAll(() => app?.close())

/** A sharing of so many jars of damson jam, each of a batch of its own; there are ten of other batches besides. */
async function proposed(jars: number): Promise<string> {
  app = await restocked(app)
  await addManyJars(app, jars)
  const made = await app.call('POST', '/api/shares', {
    name: 'harvest',
    households: [
      { id: 'hedger', grams: 30_000 },
      { id: 'moss', minutes: 750 },
      { id: 'pike', moneyMinor: 750 },
    ],
    products: [{ recipeId: 'damson-jam', pack: 'half-pint', units: jars }],
  })
  expect(made.statusCode, made.payload).toBe(201)
  return made.json().id
}

test('a sharing of 2,000 picks is handed out in one go, and taken back in one', async () => {
  const id = await proposed(2_000)
  const before = await stockByOwner(app)
  const { answer } = (await app.call('GET', `/api/shares/${id}`)).json()
  const due: { householdId: string; picks: { units: number }[] }[] = answer.picks
  expect(sum(due.map(({ picks }) => picks.length))).toBeGreaterThan(1_980)

  const handedOut = await app.call('POST', `/api/shares/${id}/hand-out`, {})
  expect(handedOut.statusCode, handedOut.payload.slice(0, 300)).toBe(200)
  const owned = await app.prisma.jarBatch.groupBy({
    by: ['householdId'],
    where: { coopId: app.coopId, householdId: { not: null } },
    _sum: { stock: true },
    orderBy: { householdId: 'asc' },
  })
  expect(owned.map(({ householdId, _sum }) => [householdId, _sum.stock])).toEqual(
    due.map(({ householdId, picks }) => [householdId, sum(picks.map(({ units }) => units))]).sort(),
  )
  const entries = await app.prisma.shelfEntry.aggregate({
    where: { coopId: app.coopId, shareOutId: id, kind: 'share' },
    _sum: { units: true },
    _count: true,
  })
  expect(entries).toEqual({ _sum: { units: 0 }, _count: 2 * sum(due.map(({ picks }) => picks.length)) })
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))

  const undone = await app.call('POST', `/api/shares/${id}/undo`, {})
  expect(undone.statusCode, undone.payload.slice(0, 300)).toBe(200)
  expect(await stockByOwner(app)).toEqual(before)
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))
}, 120_000)

describeServer('the number of statements', () => {
  test('of a hand-out, and of taking it back, does not grow with the picks', async () => {
    const asked: number[][] = []
    for (const picks of [20, 200]) {
      const id = await proposed(picks)
      asked.push([await statements(`/api/shares/${id}/hand-out`), await statements(`/api/shares/${id}/undo`)])
    }
    expect(asked[1]).toEqual(asked[0])
    expect(Math.max(...asked.flat())).toBeLessThan(40)
  })

  async function statements(path: string): Promise<number> {
    const query = vi.spyOn(pg.Client.prototype, 'query')
    expect((await app.call('POST', path, {})).statusCode).toBe(200)
    const many = query.mock.calls.length
    query.mockRestore()
    expect(many).toBeGreaterThan(1)
    return many
  }
})
