import { afterAll, beforeAll, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { listEntries } from '../../../src/features/shelf/entries/queries.ts'
import { writeEntries } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { addJars, writingFor } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

test('the newest entries of a product are the same as of its whole ledger, however they lie on its lines', async () => {
  const lines: string[] = []
  for (let n = 0; n < 12; n++) lines.push((await addJars(app, 100)).jarBatchId)
  const other = (await addJars(app, 100, { pack: 'pint' })).jarBatchId
  // One line after the other, then all in turn, then one alone; another product between them.
  const order = [
    ...lines.flatMap((line) => [line, line, line, other]),
    ...lines,
    ...lines.flatMap((line, n) => (n % 3 === 0 ? [line, other] : [])),
    ...Array.from({ length: 9 }, () => lines[4] ?? ''),
  ]
  await inTransaction(app.prisma, (transaction) =>
    writeEntries(
      writingFor(app, transaction),
      order.map((jarBatchId, n) => ({ jarBatchId, kind: n % 5 === 0 ? 'break' : 'give', units: -1 })),
    ),
  )
  const product = { recipeId: 'damson-jam', pack: 'half-pint' }
  const ledger = await app.prisma.shelfEntry.findMany({
    where: { jarBatchId: { in: lines } },
    orderBy: { order: 'desc' },
    select: { order: true, kind: true },
  })
  expect(ledger.length).toBe(order.filter((line) => line !== other).length + lines.length)
  const middle = ledger[20]?.order ?? 0
  for (const take of [1, 2, 7, 30, 61, 200])
    for (const kinds of [undefined, ['give'] as const])
      for (const before of [undefined, middle]) {
        const choice = { product, ...(kinds && { kinds }), ...(before !== undefined && { before }) }
        const wanted = ledger
          .filter(
            (entry) => (kinds === undefined || entry.kind === 'give') && (before === undefined || entry.order < before),
          )
          .slice(0, take)
        const listed = await listEntries(app.prisma, app, choice, take)
        expect(
          listed.map((entry) => entry.order),
          JSON.stringify({ take, ...choice }),
        ).toEqual(wanted.map((entry) => entry.order))
      }
})
