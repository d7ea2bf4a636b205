import { inTransaction } from '../../../src/db/transaction.ts'
import { writeEntry } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars, writingFor } from '../shelf/jars.ts'

/** Lines of shared jars. */
export type Stocked = { jam: string; olderJam: string; chutney: string }

/** A co-op of three households with two kinds of shared jars in stock: 10 damson jam (3.50), 7 plum chutney (4.20). */
export async function sharingApp(): Promise<TestApp & Stocked> {
  const app = await testApp()
  await addNeighbours(app)
  const { coopId, prisma } = app
  await prisma.household.createMany({
    data: [
      { coopId, id: 'hedger', name: 'Hedger', people: 4 },
      { coopId, id: 'moss', name: 'Moss', people: 2 },
    ],
  })
  await prisma.recipe.create({
    data: { coopId, id: 'plum-chutney', name: 'Plum chutney', method: 'water-bath', definition: {} },
  })
  await prisma.shareOut.create({
    data: {
      coopId: neighboursId,
      ...{ id: 'their-shares', number: 1, name: 'theirs', state: 'proposed', question: {}, answer: {} },
      ...{ by: 'Their Steward', at: new Date('2026-09-01T00:00:00Z') },
    },
  })
  return { ...app, ...(await stockedIn(app)) }
}

/** The same stock anew, with nothing of what was shared out, brought or sent before. */
export async function restocked(app: TestApp): Promise<TestApp & Stocked> {
  await emptyTables(app.prisma, 'ShelfEntry', 'JarBatch', 'Batch', 'Lot', 'OwedEntry', 'Submission')
  await app.prisma.shareOut.deleteMany({ where: { coopId: app.coopId } })
  return { ...app, ...(await stockedIn(app)) }
}

async function stockedIn(app: TestApp): Promise<Stocked> {
  const { jarBatchId: jam } = await addJars(app, 6, { code: 'NEW1' })
  const { jarBatchId: olderJam } = await addJars(app, 4, { code: 'OLD1', bestBy: new Date('2027-03-01T00:00:00Z') })
  const { jarBatchId: chutney } = await addJars(app, 7, {
    ...{ code: 'CHU1', recipeId: 'plum-chutney', pack: 'pint', product: 'Plum chutney', worthMinor: 420 },
    ...{ unit: 'pint jar', unitsName: 'pint jars', jar: 'pint' },
  })
  return { jam, olderJam, chutney }
}

/** Takes jars out of a line, as somebody would on the shelf. */
export async function takeJars(app: TestApp, jarBatchId: string, units: number): Promise<void> {
  await inTransaction(app.prisma, async (transaction) => {
    const entry = { jarBatchId, kind: 'take', units: -units, householdId: app.householdId } as const
    await writeEntry(writingFor(app, transaction), entry)
  })
}

/** Units in stock by owner ("shared" for none) and code: { "hedger OLD1": 2 }. */
export async function stockByOwner({ prisma, coopId }: TestApp): Promise<Record<string, number>> {
  const lines = await prisma.jarBatch.findMany({
    where: { coopId, stock: { gt: 0 } },
    select: { stock: true, householdId: true, batch: { select: { code: true } } },
  })
  return Object.fromEntries(
    lines.map(({ stock, householdId, batch }) => [`${householdId ?? 'shared'} ${batch.code}`, stock]),
  )
}

export const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0)
