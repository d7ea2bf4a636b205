import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import type { Writing } from '../../../src/features/changes/index.ts'
import { countStock, jarBatchFor, moveUnits, undoEntry, writeEntry } from '../../../src/features/shelf/index.ts'
import { randomId } from '../../../src/ids.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { addJars, writingFor } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

const written = <T>(work: (writing: Writing) => Promise<T>) =>
  inTransaction(app.prisma, (transaction) => work(writingFor(app, transaction)))
const stockOf = async (id: string) =>
  (await app.prisma.jarBatch.findUniqueOrThrow({ where: { coopId_id: { coopId: app.coopId, id } } })).stock
const entriesOf = (jarBatchId: string) =>
  app.prisma.shelfEntry.findMany({ where: { coopId: app.coopId, jarBatchId }, orderBy: { order: 'asc' } })

describe('an entry', () => {
  test('moves the stock and is told what it left', async () => {
    const { jarBatchId } = await addJars(app, 20)
    const { stockAfter } = await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -3 }))
    expect(stockAfter).toBe(17)
    expect(await stockOf(jarBatchId)).toBe(17)
  })

  test('that would leave less than nothing is refused with what is there', async () => {
    const { jarBatchId } = await addJars(app, 2)
    await expect(written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -3 }))).rejects.toThrow(
      'Only 2 of Damson jam are left here.',
    )
    expect(await entriesOf(jarBatchId)).toHaveLength(1)
  })

  test('is undone once, by another', async () => {
    const { jarBatchId } = await addJars(app, 5)
    const { id } = await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -2 }))
    await written((w) => undoEntry(w, id))
    expect(await stockOf(jarBatchId)).toBe(5)
    await expect(written((w) => undoEntry(w, id))).rejects.toThrow('Somebody took this back already.')
    const back = (await entriesOf(jarBatchId)).at(-1)
    await expect(written((w) => undoEntry(w, back?.id ?? ''))).rejects.toThrow('takes another entry back')
  })

  test('moves to another place, and both sides of it go back together', async () => {
    const { jarBatchId, batchId } = await addJars(app, 6)
    const placeId = await cellar()
    const { toId } = await written((w) => moveUnits(w, jarBatchId, { placeId, householdId: null }, 4))
    expect([await stockOf(jarBatchId), await stockOf(toId)]).toEqual([2, 4])
    expect(await written((w) => jarBatchFor(w, { batchId, placeId, householdId: null }))).toBe(toId)
    const [put] = await entriesOf(toId)
    await written((w) => undoEntry(w, put?.id ?? ''))
    expect([await stockOf(jarBatchId), await stockOf(toId)]).toEqual([6, 0])
  })

  test('of a recalled batch is no taking, but can be thrown out', async () => {
    const { jarBatchId, batchId } = await addJars(app, 4)
    await app.prisma.batch.update({
      where: { coopId_id: { coopId: app.coopId, id: batchId } },
      data: { recalledAt: new Date() },
    })
    await expect(written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -1 }))).rejects.toThrow('is recalled')
    await written((w) => writeEntry(w, { jarBatchId, kind: 'break', units: -4 }))
    expect(await stockOf(jarBatchId)).toBe(0)
  })
})

test('a stock-take writes the difference, and is refused when something was taken meanwhile', async () => {
  const { jarBatchId } = await addJars(app, 10)
  await written((w) => countStock(w, { jarBatchId }, 10, 8))
  expect(await entriesOf(jarBatchId)).toMatchObject([{ units: 10 }, { kind: 'count', units: -2, stockAfter: 8 }])
  await expect(written((w) => countStock(w, { jarBatchId }, 10, 9))).rejects.toThrow('8 are on the shelf now, not 10')
})

describe('the database itself', () => {
  test('lets nobody change stock or entries behind the ledger', async () => {
    const { jarBatchId } = await addJars(app, 3)
    const key = { coopId_id: { coopId: app.coopId, id: jarBatchId } }
    await expect(app.prisma.jarBatch.update({ where: key, data: { stock: 30 } })).rejects.toThrow('by an entry')
    const [entry] = await entriesOf(jarBatchId)
    const own = { coopId_id: { coopId: app.coopId, id: entry?.id ?? '' } }
    await expect(app.prisma.shelfEntry.update({ where: own, data: { units: 30 } })).rejects.toThrow('counter-entry')
    await expect(app.prisma.shelfEntry.delete({ where: own })).rejects.toThrow('counter-entry')
    expect(await stockOf(jarBatchId)).toBe(3)
  })

  test('refuses an entry that would leave less than nothing, or take what is recalled', async () => {
    const { jarBatchId, batchId } = await addJars(app, 3)
    const take = (units: number) =>
      app.prisma.shelfEntry.create({
        data: { coopId: app.coopId, id: randomId(), at: new Date(), jarBatchId, kind: 'take', units, by: 'a test' },
      })
    await expect(take(-4)).rejects.toThrow('JarBatch_never_below_zero')
    await app.prisma.batch.updateMany({ where: { id: batchId }, data: { recalledAt: new Date() } })
    await expect(take(-1)).rejects.toThrow('recalled batch')
    expect(await stockOf(jarBatchId)).toBe(3)
  })
})

async function cellar(): Promise<string> {
  const id = randomId()
  await app.prisma.place.create({ data: { coopId: app.coopId, id, name: `cellar ${id}`, kind: 'cellar' } })
  return id
}
