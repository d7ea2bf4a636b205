import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { jarBatchFor, moveUnits, writeEntry } from '../../../src/features/shelf/index.ts'
import { randomId } from '../../../src/ids.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { addJars, addManyJars, writingFor } from './jars.ts'
import { countedTotals, keptTotals } from './totals.ts'

// What the model test does not do to a shelf: many products, varieties and dates, a batch that changes, everything at
// once, and a ledger that is emptied, written again entry by entry, or written without the triggers.

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await app.prisma.place.create({ data: { coopId: app.coopId, id: 'cellar', name: 'cellar', kind: 'cellar' } })
})
afterAll(() => app?.close())

const day = (date: string) => new Date(`${date}T00:00:00Z`)
const truncate = () => emptyTables(app.prisma, 'Batch')

/** Three packs, two varieties and none, four dates and none, two ways of keeping, a recalled one now and then. */
const each = (n: number) => ({
  pack: ['half-pint', 'pint', 'quart'][n % 3],
  variety: ['Farleigh', null, 'Shropshire'][n % 7 < 2 ? 0 : n % 2 === 0 ? 1 : 2],
  bestBy: n % 5 === 0 ? null : day(`2027-0${1 + (n % 4)}-11`),
  madeOn: day(`2026-08-${String(10 + (n % 15))}`),
  keeping: n % 4 === 0 ? 'refrigerator' : 'shelf',
  recalledAt: n % 11 === 0 ? day('2026-09-01') : null,
})

async function expectTrue(): Promise<void> {
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))
}

describe('the totals of the shelf', () => {
  beforeEach(async () => {
    await truncate()
    await addManyJars(app, 60, each)
  })

  test('are those of the ledger after many entries of one transaction', async () => {
    await expectTrue()
    const lines = await app.prisma.jarBatch.findMany({
      where: { stock: { gt: 0 }, batch: { recalledAt: null } },
      orderBy: { id: 'asc' },
      take: 15,
    })
    await inTransaction(app.prisma, async (transaction) => {
      const writing = writingFor(app, transaction)
      for (const [n, { id: jarBatchId, batchId }] of lines.entries()) {
        if (n % 3 === 0) await moveUnits(writing, jarBatchId, { placeId: 'cellar', householdId: app.householdId }, 1)
        if (n % 3 === 1) await writeEntry(writing, { jarBatchId, kind: 'give', units: -1 })
        if (n % 6 !== 2) continue
        const put = await jarBatchFor(writing, { batchId, placeId: 'pantry', householdId: app.householdId })
        await writeEntry(writing, { jarBatchId: put, kind: 'put', units: 7 })
        await writeEntry(writing, { jarBatchId: put, kind: 'take', units: -2, householdId: app.householdId })
      }
    })
    await expectTrue()
    expect((await keptTotals(app.prisma)).use.length).toBeGreaterThan(1)
  })

  test('count the first batch of a product that is written with its jars in one transaction', async () => {
    const { process: _, ...like } = await app.prisma.batch.findFirstOrThrow({ where: { recalledAt: null } })
    const batch = { ...like, id: randomId(), number: 99_001, code: 'T99001', pack: 'litre' }
    await inTransaction(app.prisma, async (transaction) => {
      await transaction.batch.create({ data: batch })
      const writing = writingFor(app, transaction)
      const line = await jarBatchFor(writing, { batchId: batch.id, placeId: 'pantry', householdId: null })
      await writeEntry(writing, { jarBatchId: line, kind: 'put', units: 9 })
    })
    await expectTrue()
    const product = await app.prisma.shelfProduct.findFirstOrThrow({ where: { pack: 'litre' } })
    expect(product).toMatchObject({ lines: 1, units: 9n, eatable: 9n })
  })

  test('follow a batch whose date, name or recall changes', async () => {
    const batches = await app.prisma.batch.findMany({ where: { units: 1 }, orderBy: { number: 'asc' } })
    for (const [n, { id }] of batches.entries()) {
      const data = [{ bestBy: day('2026-12-24') }, { recalledAt: new Date() }, { bestBy: null }, { recalledAt: null }]
      const names = { product: 'Damson cheese', keeping: 'refrigerator', variety: null }
      await app.prisma.batch.update({ where: { coopId_id: { coopId: app.coopId, id } }, data: data[n % 4] ?? {} })
      if (n % 5 === 0) await app.prisma.batch.updateMany({ where: { id }, data: names })
    }
    await expectTrue()
  })

  test('are added up anew to the same', async () => {
    const kept = await keptTotals(app.prisma)
    await app.prisma.$executeRawUnsafe('UPDATE "ShelfTotal" SET "units" = "units" + 1')
    expect(await keptTotals(app.prisma)).not.toEqual(kept)
    await app.prisma.$queryRawUnsafe('SELECT 1 AS "done" FROM (SELECT "shelf_totals_anew"()) "anew"')
    expect(await keptTotals(app.prisma)).toEqual(kept)
  })

  test('are none of an emptied ledger, and the same again when its entries are written back', async () => {
    const kept = await keptTotals(app.prisma)
    const entries = await app.prisma.shelfEntry.findMany({ orderBy: { order: 'asc' } })
    await emptyTables(app.prisma, 'ShelfEntry')
    const empty = await keptTotals(app.prisma)
    expect([empty.lines, empty.totals, empty.use]).toEqual([[], [], []])
    expect(await app.prisma.jarBatch.count({ where: { stock: { not: 0 } } })).toBe(0)
    await expectTrue()
    for (const entry of entries) await app.prisma.shelfEntry.create({ data: entry })
    expect(await keptTotals(app.prisma)).toEqual(kept)
  })

  test('are none where the batches are gone', async () => {
    await truncate()
    expect(await keptTotals(app.prisma)).toEqual({ lines: [], totals: [], products: [], use: [] })
  })

  test('are right after eight wrote to one product at once, and none waited in a circle', async () => {
    const { coopId, householdId } = app
    const writers = []
    for (let n = 0; n < 8; n++) {
      const { jarBatchId } = await addJars(app, 50)
      const supplyId = randomId()
      const supply = { key: `jar-${n}`, name: `jars ${n}`, unit: 'jar', onHand: 5 }
      const bought = { packSize: 12, packPriceMinor: 1000, packsAtMost: 5 }
      await app.prisma.supply.create({ data: { coopId, id: supplyId, ...supply, ...bought } })
      writers.push({ jarBatchId, supplyId })
    }
    // Each has jars and empties of its own, so only the totals are common: of jars, of use, of empties.
    await Promise.all(
      writers.map(({ jarBatchId, supplyId }, n) =>
        inTransaction(
          app.prisma,
          async (transaction) => {
            const writing = writingFor(app, transaction)
            const back = () => writeEntry(writing, { supplyId, kind: 'return', units: 1, householdId })
            if (n % 2 === 0) await back()
            await writeEntry(writing, { jarBatchId, kind: 'take', units: -1, householdId })
            if (n % 2 === 1) await back()
          },
          { attempts: 1 },
        ),
      ),
    )
    await expectTrue()
    const { units } = await app.prisma.shelfProduct.findFirstOrThrow({ where: { coopId, pack: 'half-pint' } })
    expect(Number(units)).toBe(20 + 8 * 49)
  })
})

test('a batch stays one of its recipe and pack, jars of their batch', async () => {
  const { batchId, jarBatchId } = await addJars(app, 3)
  const { batchId: other } = await addJars(app, 3)
  await expect(app.prisma.batch.updateMany({ where: { id: batchId }, data: { pack: 'pint' } })).rejects.toThrow(
    'stays one of its recipe and pack',
  )
  await expect(app.prisma.jarBatch.updateMany({ where: { id: jarBatchId }, data: { batchId: other } })).rejects.toThrow(
    'jars stay of their batch',
  )
})
