import { type JarSize, jarSizes } from '../../../core/process/index.ts'
import { type Keeping, keepings } from '../../../core/shelf/index.ts'
import type { Prisma } from '../../../db/generated/client.ts'
import { storedAs, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'

/** Jars of one batch in one place, shared (`household` null) or of one household, and all that their labels say. */
export type JarsToLabel = {
  id: string
  stock: number
  place: string
  household: string | null
  batchId: string
  number: number
  code: string
  product: string
  variety: string | null
  unit: string
  unitsName: string
  jar: JarSize | null
  keeping: Keeping
  madeOn: string
  bestBy: string | null
  allergens: string[]
  recalled: boolean
}

/** So many lines are listed, and so many may be printed at once: all of them must find room in an address. */
export const MOST_LINES = 40
const NEWEST_BATCHES = 20

/** Which jars are offered: of a batch, or of the newest batches that a search finds ('' finds all). */
export type JarsChoice = { batchId: string } | { q: string }

/** Jars in stock, of the newest batches first. One query. */
export async function listJars(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  choice: JarsChoice,
): Promise<JarsToLabel[]> {
  const rows = await prisma.jarBatch.findMany({
    where: {
      coopId,
      stock: { gt: 0 },
      ...('batchId' in choice ? { batchId: choice.batchId } : { batch: { is: found(choice.q) } }),
    },
    select: columns,
    orderBy: [{ batch: { number: 'desc' } }, { place: { name: 'asc' } }, { id: 'asc' }],
    take: MOST_LINES,
  })
  const jars = rows.map(fromRow)
  const batches = [...new Set(jars.map(({ batchId }) => batchId))].slice(0, NEWEST_BATCHES)
  return jars.filter(({ batchId }) => batches.includes(batchId))
}

/** These jars, in stock or not, in the order of their ids here. @throws not found where one is not the co-op's */
export async function findJars(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  ids: readonly string[],
): Promise<JarsToLabel[]> {
  if (ids.length === 0) return []
  const rows = await prisma.jarBatch.findMany({ where: { coopId, id: { in: [...ids] } }, select: columns })
  const byId = new Map(rows.map((row) => [row.id, fromRow(row)]))
  return ids.map((id) => {
    const jars = byId.get(id)
    if (jars === undefined) throw notFound('such jars')
    return jars
  })
}

export type LabelledBatch = { id: string; code: string; product: string; variety: string | null }

export async function findBatch(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<LabelledBatch> {
  const batch = await prisma.batch.findUnique({
    where: { coopId_id: { coopId, id } },
    select: { id: true, code: true, product: true, variety: true },
  })
  if (batch === null) throw notFound('such batch')
  return batch
}

function found(q: string): Prisma.BatchWhereInput {
  if (q === '') return {}
  return {
    OR: [
      { product: { contains: q, mode: 'insensitive' } },
      { variety: { contains: q, mode: 'insensitive' } },
      { code: q.toUpperCase() },
    ],
  }
}

const columns = {
  id: true,
  stock: true,
  place: { select: { name: true } },
  household: { select: { name: true } },
  batch: {
    select: {
      id: true,
      number: true,
      code: true,
      product: true,
      variety: true,
      unit: true,
      unitsName: true,
      jar: true,
      keeping: true,
      madeOn: true,
      bestBy: true,
      allergens: true,
      recalledAt: true,
    },
  },
} as const satisfies Prisma.JarBatchSelect

type Row = Prisma.JarBatchGetPayload<{ select: typeof columns }>

function fromRow({ id, stock, place, household, batch }: Row): JarsToLabel {
  const { id: batchId, jar, keeping, madeOn, bestBy, recalledAt, ...rest } = batch
  return {
    id,
    stock,
    place: place.name,
    household: household?.name ?? null,
    batchId,
    ...rest,
    jar: jar === null ? null : storedAs(jarSizes, jar),
    keeping: storedAs(keepings, keeping),
    madeOn: storedDate(madeOn),
    bestBy: bestBy === null ? null : storedDate(bestBy),
    recalled: recalledAt !== null,
  }
}
