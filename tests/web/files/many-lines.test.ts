import { load } from 'cheerio'
import pg from 'pg'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { describeServer } from '../../support/database.ts'
import { textsAt } from '../../support/html.ts'
import { addManyJars } from '../shelf/jars.ts'
import { countedTotals, keptTotals } from '../shelf/totals.ts'

let app: TestApp
const jam = starters.find(({ name }) => name === 'Damson jam')
const pack = jam?.definition.packs[0]
if (jam === undefined || pack === undefined) throw new Error('there is no starter for damson jam')

beforeAll(async () => {
  app = await testApp()
  const { prisma, coopId } = app
  await prisma.place.createMany({ data: [{ coopId, id: 'cellar', name: 'cellar', kind: 'cellar' }] })
  // as a recipe of the co-op, and the pantry
  await addManyJars(app, 1)
})
afterAll(() => app?.close())

const days = (n: number) => `2026-0${1 + (n % 6)}-${String(1 + (n % 28)).padStart(2, '0')}`
const opening = (n: number) =>
  `${jam.name},${pack.key},${days(n)},,${n % 2 === 0 ? 'cellar' : 'pantry'},Pike,${1 + (n % 40)}`
const openings = (many: number, first = 0) =>
  `product,pack,made on,best by,place,household,units\n${Array.from({ length: many }, (_, n) => opening(first + n)).join('\n')}\n`
const lots = (many: number, note: string) =>
  `crop,weight,came in on,brought by,note\n${Array.from({ length: many }, (_, n) => `damson,${1 + (n % 30)} kg,2026-09-0${1 + (n % 9)},Mara Pike,${note} ${n}`).join('\n')}\n`
/** A stock-take of lines that are in the pantry, one fewer of each; a place where none stood gets two. */
async function counts(many: number): Promise<string> {
  const lines = await app.prisma.jarBatch.findMany({
    where: { stock: { gt: 0 }, placeId: 'pantry', householdId: 'pike' },
    include: { batch: true },
    orderBy: { batch: { number: 'asc' } },
    take: many,
  })
  expect(lines).toHaveLength(many)
  return `code,place,household,units\n${lines
    .map(({ stock, batch }, n) => (n % 10 === 0 ? `${batch.code},cellar,,2` : `${batch.code},pantry,Pike,${stock - 1}`))
    .join('\n')}\n`
}
/** Looks at a table and brings it in. */
async function bring(path: string, table: string): Promise<void> {
  const looked = await app.postForm(path, { table, does: 'look' })
  expect(looked.statusCode, textsAt(load(looked.payload), '.lost').slice(0, 3).join(' ')).toBe(200)
  const seen = String(load(looked.payload)('input[name=seen]').attr('value'))
  const answer = await app.postForm(path, { table, does: 'bring', seen })
  expect(
    [answer.statusCode, answer.headers.location],
    textsAt(load(answer.payload), '.refused a, h1').join(' '),
  ).toEqual([303, '/files'])
}
const stockIn = '/files/stock/import'
const lotsIn = '/files/lots/import'

test('2,000 lines of stock from before come in at once, then 900 of a stock-take, and the totals agree', async () => {
  const batches = await app.prisma.batch.count()
  await bring(stockIn, openings(2_000))
  expect(await app.prisma.batch.count()).toBe(batches + 2_000)
  const units = Array.from({ length: 2_000 }, (_, n) => 1 + (n % 40)).reduce((sum, one) => sum + one, 0)
  const put = await app.prisma.shelfEntry.aggregate({
    where: { kind: 'put', note: 'brought in from a table' },
    _sum: { units: true },
    _count: true,
  })
  expect(put).toEqual({ _sum: { units }, _count: 2_000 })
  const numbers = await app.prisma.batch.groupBy({ by: ['code'], having: { code: { _count: { gt: 1 } } } })
  expect(numbers).toEqual([])
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))

  await bring(stockIn, await counts(900))
  const counted = await app.prisma.shelfEntry.groupBy({
    by: ['units'],
    where: { kind: 'count' },
    _count: true,
    orderBy: { units: 'asc' },
  })
  expect(counted).toEqual([
    { units: -1, _count: 810 },
    { units: 2, _count: 90 },
  ])
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))
}, 180_000)

test('2,000 lots come in at once, each with its sorting and its line in the history', async () => {
  await bring(lotsIn, lots(2_000, 'first'))
  const [lot, sorting, change] = [
    await app.prisma.lot.aggregate({
      where: { note: { startsWith: 'first' } },
      _sum: { weightGrams: true },
      _count: true,
    }),
    await app.prisma.sorting.aggregate({ where: { how: 'arrival' }, _sum: { ripeGrams: true }, _count: true }),
    await app.prisma.change.count({ where: { noun: 'lot', what: { endsWith: ' kg' } } }),
  ]
  const grams = Array.from({ length: 2_000 }, (_, n) => 1_000 * (1 + (n % 30))).reduce((sum, one) => sum + one, 0)
  expect(lot).toEqual({ _sum: { weightGrams: grams }, _count: 2_000 })
  expect(sorting).toEqual({ _sum: { ripeGrams: grams }, _count: 2_000 })
  expect(change).toBe(2_000)
  // the same table again counts once
  const again = load((await app.postForm(lotsIn, { table: lots(2_000, 'first'), does: 'look' })).payload)
  expect(again('[aria-labelledby=looked-heading]').text()).toContain('This table was brought in before')
}, 120_000)

test('of 2,000 lines one with a fault keeps all out, is told by its number, and the text stays', async () => {
  const before = await app.prisma.batch.count()
  const lines = openings(2_000, 5_000).split('\n')
  lines[1_500] = `${jam.name},${pack.key},2026-03-01,,attic,,4`
  const table = lines.join('\n')
  const answer = await app.postForm(stockIn, { table, does: 'bring', seen: 'anything' })
  expect(answer.statusCode).toBe(422)
  const $ = load(answer.payload)
  expect(textsAt($, 'tr:has(.lost)')).toEqual(['1501No place in use is called “attic”.'])
  expect($('textarea').text().trim()).toBe(table.trim())
  expect(await app.prisma.batch.count()).toBe(before)
}, 120_000)

describeServer('the number of statements', () => {
  test('of bringing a table in does not grow with its lines', async () => {
    const few = [
      await statements(stockIn, openings(10, 1)),
      await statements(stockIn, await counts(10)),
      await statements(lotsIn, lots(10, 'few')),
    ]
    const many = [
      await statements(stockIn, openings(300, 2)),
      await statements(stockIn, await counts(300)),
      await statements(lotsIn, lots(300, 'many')),
    ]
    expect(many).toEqual(few)
    for (const one of few) expect(one).toBeLessThan(80)
  }, 120_000)

  async function statements(path: string, table: string): Promise<number> {
    const query = vi.spyOn(pg.Client.prototype, 'query')
    await bring(path, table)
    const count = query.mock.calls.length
    query.mockRestore()
    expect(count).toBeGreaterThan(5)
    return count
  }
})
