import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'
import type { ProcessSummary } from './trace/making.ts'
import { readProcess } from './trace/making.ts'

type OfCoop = Pick<Asking, 'coopId'>

export const RECALLS_PER_PAGE = 50

export type RecalledBatch = {
  id: string
  code: string
  product: string
  variety: string | null
  method: string
  process: ProcessSummary | null
}

/** A warning; `liftedAt` null: it stands. */
export type Recall = {
  id: string
  reason: string
  todo: string
  by: string
  at: Date
  liftedAt: Date | null
  liftedBy: string | null
  batches: RecalledBatch[]
}

/** Recalls that stand, newest first: what Today begins with. */
export async function standingRecalls(prisma: TransactionClient, { coopId }: OfCoop): Promise<Recall[]> {
  const rows = await prisma.recall.findMany({
    where: { coopId, liftedAt: null },
    include: withBatches,
    orderBy: [{ at: 'desc' }, { id: 'asc' }],
    take: RECALLS_PER_PAGE,
  })
  return rows.map(recallOf)
}

/** A page of recalls, those that stand first, then the newest; one more than a page where there are more. */
export async function listRecalls(prisma: TransactionClient, { coopId }: OfCoop, page: number): Promise<Recall[]> {
  const rows = await prisma.recall.findMany({
    where: { coopId },
    include: withBatches,
    orderBy: [{ liftedAt: { sort: 'desc', nulls: 'first' } }, { at: 'desc' }, { id: 'asc' }],
    take: RECALLS_PER_PAGE + 1,
    skip: (page - 1) * RECALLS_PER_PAGE,
  })
  return rows.map(recallOf)
}

/** One recall; `notFound` for one of another co-op as for none. */
export async function findRecall(prisma: TransactionClient, { coopId }: OfCoop, id: string): Promise<Recall> {
  const row = await prisma.recall.findUnique({ where: { coopId_id: { coopId, id } }, include: withBatches })
  if (row === null) throw notFound('such recall')
  return recallOf(row)
}

/** Batches by id, in the order of their numbers; those of another co-op are not there. */
export async function batchesById(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  ids: readonly string[],
): Promise<RecalledBatch[]> {
  const rows = await prisma.batch.findMany({
    where: { coopId, id: { in: [...ids] } },
    select: batchColumns,
    orderBy: { number: 'asc' },
  })
  return rows.map(batchOf)
}

/** Ids by code (capital letters) of the batches that have one of these. */
export async function batchesByCode(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  codes: readonly string[],
): Promise<Map<string, string>> {
  const rows = await prisma.batch.findMany({
    where: { coopId, code: { in: [...codes] } },
    select: { id: true, code: true },
  })
  return new Map(rows.map(({ id, code }) => [code, id]))
}

/** Holds these batches until the transaction ends: whoever is taking of one is waited for, whoever comes later waits. */
export async function lockBatches({ transaction, asking }: Writing, ids: readonly string[]): Promise<number> {
  // Prisma has no word for a row's lock. In one order for all, so that two recalls do not wait for each other.
  const rows = await transaction.$queryRaw<{ id: string }[]>`
    SELECT "id" FROM "Batch" WHERE "coopId" = ${asking.coopId} AND "id" = ANY(${[...ids]}::text[])
    ORDER BY "id" FOR NO KEY UPDATE`
  return rows.length
}

/** Adds a recall and marks its batches; the database refuses from then on that anything of them is taken. */
export async function insertRecall(
  { transaction, asking, now, newId }: Writing,
  { batchIds, reason, todo }: { batchIds: readonly string[]; reason: string; todo: string },
): Promise<string> {
  const { coopId } = asking
  const id = newId()
  await transaction.recall.create({ data: { coopId, id, reason, todo, by: asking.name, at: now } })
  await transaction.recallBatch.createMany({ data: batchIds.map((batchId) => ({ coopId, recallId: id, batchId })) })
  await transaction.batch.updateMany({
    where: { coopId, id: { in: [...batchIds] }, recalledAt: null },
    data: { recalledAt: now, version: { increment: 1 } },
  })
  return id
}

/** Marks a recall as lifted; false where it was lifted before. */
export async function markLifted({ transaction, asking, now }: Writing, id: string): Promise<boolean> {
  const { count } = await transaction.recall.updateMany({
    where: { coopId: asking.coopId, id, liftedAt: null },
    data: { liftedAt: now, liftedBy: asking.name, version: { increment: 1 } },
  })
  return count > 0
}

/** Lets those of these batches be taken again that no other recall stands for. */
export async function releaseBatches({ transaction, asking }: Writing, batchIds: readonly string[]): Promise<void> {
  await transaction.batch.updateMany({
    where: {
      coopId: asking.coopId,
      id: { in: [...batchIds] },
      recalledAt: { not: null },
      recalls: { none: { recall: { liftedAt: null } } },
    },
    data: { recalledAt: null, version: { increment: 1 } },
  })
}

const batchColumns = { id: true, code: true, product: true, variety: true, method: true, process: true } as const
const withBatches = {
  batches: { include: { batch: { select: batchColumns } }, orderBy: { batch: { number: 'asc' } } },
} as const

type BatchRow = Omit<RecalledBatch, 'process'> & { process: unknown }
type RecallRow = Omit<Recall, 'batches'> & { batches: { batch: BatchRow }[] }

function recallOf({ id, reason, todo, by, at, liftedAt, liftedBy, batches }: RecallRow): Recall {
  return { id, reason, todo, by, at, liftedAt, liftedBy, batches: batches.map(({ batch }) => batchOf(batch)) }
}

function batchOf({ process, ...batch }: BatchRow): RecalledBatch {
  return { ...batch, process: readProcess(process) }
}
