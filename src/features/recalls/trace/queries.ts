import { type LotSource, lotSources } from '../../../core/produce/index.ts'
import { storedAs, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'

type OfCoop = Pick<Asking, 'coopId'>

/** A lot as far as tracing tells it. Dates are ISO dates, weights whole grams. */
export type TracedLot = {
  id: string
  crop: string
  variety: string | null
  source: LotSource
  broughtBy: string
  household: string | null
  arrivedOn: string
  weightGrams: number
}

/** What went into a batch: produce of a lot, or jars of another batch. */
export type TracedInput =
  | { kind: 'lot'; lot: TracedLot; grams: number }
  | { kind: 'batch'; batchId: string; code: string; product: string; units: number; grams: number }

export type TracedBatch = {
  id: string
  code: string
  product: string
  variety: string | null
  unit: string
  unitsName: string
  madeOn: string
  units: number
  inGrams: number
  recalled: boolean
  inputs: TracedInput[]
}

/** Jars that stand somewhere now. */
export type Standing = {
  batchId: string
  jarBatchId: string
  place: string
  householdId: string | null
  household: string | null
  units: number
}

/** How jars left the shelf. `count`: a stock-take found fewer, or more (then `units` is below 0). */
export const leavings = ['take', 'give', 'share', 'break', 'use', 'count'] as const
export type Leaving = (typeof leavings)[number]

/** Jars of a batch that left the shelf in one way, for one household; what was taken back is not counted. */
export type Gone = {
  batchId: string
  kind: Leaving
  householdId: string | null
  household: string | null
  /** What was noted where they went outside the co-op: to whom. */
  note: string | null
  units: number
  first: Date
  last: Date
}

/** Ids of the batches that a lot went into, and of all that were made of their jars, to any depth. One query. */
export async function batchesOfLot(prisma: TransactionClient, { coopId }: OfCoop, lotId: string): Promise<string[]> {
  // UNION drops what was reached before, so that the walk ends even where rows should run in a circle.
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE "made"("id") AS (
      SELECT i."batchId" FROM "BatchInput" i WHERE i."coopId" = ${coopId} AND i."lotId" = ${lotId}
      UNION
      SELECT i."batchId" FROM "made" m
        JOIN "JarBatch" j ON j."coopId" = ${coopId} AND j."batchId" = m."id"
        JOIN "BatchInput" i ON i."coopId" = ${coopId} AND i."jarBatchId" = j."id"
    ) SELECT "id" FROM "made"`
  return rows.map(({ id }) => id)
}

/** Ids of these batches and of all that were made of their jars, to any depth. One query. */
export async function batchesMadeOf(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  batchIds: readonly string[],
): Promise<string[]> {
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE "made"("id") AS (
      SELECT b."id" FROM "Batch" b WHERE b."coopId" = ${coopId} AND b."id" = ANY(${[...batchIds]}::text[])
      UNION
      SELECT i."batchId" FROM "made" m
        JOIN "JarBatch" j ON j."coopId" = ${coopId} AND j."batchId" = m."id"
        JOIN "BatchInput" i ON i."coopId" = ${coopId} AND i."jarBatchId" = j."id"
    ) SELECT "id" FROM "made"`
  return rows.map(({ id }) => id)
}

/** Ids of a batch and of all whose jars went into it, to any depth. One query. */
export async function batchesBehind(prisma: TransactionClient, { coopId }: OfCoop, batchId: string): Promise<string[]> {
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE "behind"("id") AS (
      SELECT b."id" FROM "Batch" b WHERE b."coopId" = ${coopId} AND b."id" = ${batchId}
      UNION
      SELECT j."batchId" FROM "behind" m
        JOIN "BatchInput" i ON i."coopId" = ${coopId} AND i."batchId" = m."id"
        JOIN "JarBatch" j ON j."coopId" = ${coopId} AND j."id" = i."jarBatchId"
    ) SELECT "id" FROM "behind"`
  return rows.map(({ id }) => id)
}

/** Batches by their numbers, with what went into each. */
export async function tracedBatches(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  ids: readonly string[],
): Promise<TracedBatch[]> {
  const rows = await prisma.batch.findMany({
    where: { coopId, id: { in: [...ids] } },
    include: {
      inputs: {
        include: {
          lot: { include: { household: { select: { name: true } } } },
          jarBatch: { include: { batch: { select: { id: true, code: true, product: true } } } },
        },
        orderBy: { id: 'asc' },
      },
    },
    orderBy: { number: 'asc' },
  })
  return rows.map(({ inputs, madeOn, recalledAt, ...row }) => ({
    id: row.id,
    code: row.code,
    product: row.product,
    variety: row.variety,
    unit: row.unit,
    unitsName: row.unitsName,
    madeOn: storedDate(madeOn),
    units: row.units,
    inGrams: row.inGrams,
    recalled: recalledAt !== null,
    inputs: inputs.flatMap(({ lot, jarBatch, grams, units }): TracedInput[] => {
      if (lot !== null) return [{ kind: 'lot', lot: lotOf(lot), grams }]
      if (jarBatch === null) return []
      const { id: batchId, code, product } = jarBatch.batch
      return [{ kind: 'batch', batchId, code, product, units: units ?? 0, grams }]
    }),
  }))
}

/** One lot; `notFound` for one of another co-op as for none. */
export async function tracedLot(prisma: TransactionClient, { coopId }: OfCoop, id: string): Promise<TracedLot> {
  const row = await prisma.lot.findUnique({
    where: { coopId_id: { coopId, id } },
    include: { household: { select: { name: true } } },
  })
  if (row === null) throw notFound('such lot')
  return lotOf(row)
}

/** Where jars of these batches stand, by batch and place. One query. */
export async function standingJars(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  batchIds: readonly string[],
): Promise<Standing[]> {
  return prisma.$queryRaw<Standing[]>`
    SELECT j."batchId", j."id" AS "jarBatchId", p."name" AS "place", j."householdId", h."name" AS "household",
      j."stock" AS "units"
    FROM "JarBatch" j
      JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      JOIN "Place" p ON p."coopId" = j."coopId" AND p."id" = j."placeId"
      LEFT JOIN "Household" h ON h."coopId" = j."coopId" AND h."id" = j."householdId"
    WHERE j."coopId" = ${coopId} AND j."batchId" = ANY(${[...batchIds]}::text[]) AND j."stock" > 0
    ORDER BY b."number", p."name", h."name" NULLS FIRST, j."id"`
}

/** What left the shelf of these batches, summed by batch, way and household. One query; entries of a move are none of it. */
export async function goneJars(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  batchIds: readonly string[],
): Promise<Gone[]> {
  const rows = await prisma.$queryRaw<(Omit<Gone, 'kind'> & { kind: string })[]>`
    SELECT j."batchId", e."kind", e."householdId", h."name" AS "household",
      CASE WHEN e."kind" = 'give' THEN e."note" END AS "note",
      sum(-e."units")::float8 AS "units", min(e."at") AS "first", max(e."at") AS "last"
    FROM "JarBatch" j
      JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      JOIN "ShelfEntry" e ON e."coopId" = j."coopId" AND e."jarBatchId" = j."id"
      LEFT JOIN "ShelfEntry" u ON u."coopId" = e."coopId" AND u."undoesId" = e."id"
      LEFT JOIN "Household" h ON h."coopId" = e."coopId" AND h."id" = e."householdId"
    WHERE j."coopId" = ${coopId} AND j."batchId" = ANY(${[...batchIds]}::text[])
      AND e."kind" = ANY(${[...leavings]}::text[]) AND e."movement" IS NULL AND u."id" IS NULL
    GROUP BY b."number", j."batchId", e."kind", e."householdId", h."name", 5
    HAVING sum(e."units") <> 0
    ORDER BY b."number", h."name" NULLS LAST, e."kind", min(e."at")`
  return rows.map((row) => ({ ...row, kind: storedAs(leavings, row.kind) }))
}

type LotRow = Omit<TracedLot, 'source' | 'household' | 'arrivedOn'> & {
  source: string
  household: { name: string } | null
  arrivedOn: Date
}

function lotOf(row: LotRow): TracedLot {
  const { id, crop, variety, broughtBy, weightGrams } = row
  return {
    id,
    crop,
    variety,
    source: storedAs(lotSources, row.source),
    broughtBy,
    household: row.household?.name ?? null,
    arrivedOn: storedDate(row.arrivedOn),
    weightGrams,
  }
}
