import { Prisma } from '../../../db/generated/client.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import { type EntryKind, entryKinds } from '../ledger.ts'

/** An entry of the ledger as it is shown. */
export type Entry = {
  id: string
  order: number
  at: Date
  kind: EntryKind
  units: number
  stockAfter: number
  by: string
  note: string | null
  household: string | null
  undone: boolean
  /** What it is of: jars of a batch in a place, or a supply. */
  of:
    | { jarBatchId: string; product: string; code: string; place: string; owner: string | null }
    | { supplyId: string; name: string; unit: string }
}

export type EntryChoice = {
  householdId?: string
  jarBatchId?: string
  product?: { recipeId: string; pack: string }
  kinds?: readonly EntryKind[]
  /** Only entries written before that one, by `order`. */
  before?: number
}

/** Entries, newest first. One query, whatever there is. */
export async function listEntries(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  { householdId, jarBatchId, product, kinds, before }: EntryChoice,
  take: number,
): Promise<Entry[]> {
  const conditions = [
    Prisma.sql`e."coopId" = ${coopId}`,
    ...(householdId === undefined ? [] : [Prisma.sql`e."householdId" = ${householdId}`]),
    ...(jarBatchId === undefined ? [] : [Prisma.sql`e."jarBatchId" = ${jarBatchId}`]),
    ...(kinds === undefined ? [] : [Prisma.sql`e."kind" = ANY(${[...kinds]}::text[])`]),
    ...(before === undefined ? [] : [Prisma.sql`e."order" < ${before}`]),
  ]
  const all = Prisma.sql`FROM "ShelfEntry" e WHERE ${Prisma.join(conditions, ' AND ')}`
  const chosen =
    product === undefined
      ? Prisma.sql`SELECT e.* ${all} ORDER BY e."order" DESC LIMIT ${take}`
      : newestOfProduct({ coopId, ...product }, all, take)
  const rows = await prisma.$queryRaw<Row[]>`${entriesIn(chosen)} ORDER BY e."order" DESC`
  return rows.map(entryOf)
}

/**
 * The newest entries of a product. An index has those of each line in order, none those of all its lines together. So a
 * few of the newest of each line are looked at first: as many as are wanted are at least as new as the last wanted one of
 * these, and then only what is as new is read of each line.
 */
function newestOfProduct(
  { coopId, recipeId, pack }: { coopId: string; recipeId: string; pack: string },
  all: Prisma.Sql,
  take: number,
): Prisma.Sql {
  return Prisma.sql`
    WITH "lines" AS MATERIALIZED (
      SELECT j."id" FROM "Batch" b JOIN "JarBatch" j ON j."coopId" = b."coopId" AND j."batchId" = b."id"
      WHERE b."coopId" = ${coopId} AND b."recipeId" = ${recipeId} AND b."pack" = ${pack}
    ), "oldest" AS MATERIALIZED (
      SELECT e."order" FROM "lines" l CROSS JOIN LATERAL (
        SELECT e."order" ${all} AND e."jarBatchId" = l."id" ORDER BY e."order" DESC LIMIT ${Math.ceil(Math.sqrt(take))}
      ) e ORDER BY e."order" DESC LIMIT 1 OFFSET ${take - 1}
    )
    SELECT e.* FROM "lines" l CROSS JOIN LATERAL (
      SELECT e.* ${all} AND e."jarBatchId" = l."id" AND e."order" >= coalesce((SELECT "order" FROM "oldest"), 0)
      ORDER BY e."order" DESC LIMIT ${take}
    ) e ORDER BY e."order" DESC LIMIT ${take}`
}

export async function findEntry(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<Entry> {
  const one = Prisma.sql`SELECT * FROM "ShelfEntry" WHERE "coopId" = ${coopId} AND "id" = ${id}`
  const [row] = await prisma.$queryRaw<Row[]>(entriesIn(one))
  if (row === undefined) throw notFound('such entry')
  return entryOf(row)
}

/** The rows of these entries, with the names of what they are of and whether another takes them back. */
function entriesIn(chosen: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`
    SELECT e."id", e."order", e."at", e."kind", e."units", e."stockAfter", e."by", e."note", g."name" AS "household",
      EXISTS (SELECT 1 FROM "ShelfEntry" u WHERE u."coopId" = e."coopId" AND u."undoesId" = e."id") AS "undone",
      j."id" AS "jarBatchId", b."product", b."code", p."name" AS "place", o."name" AS "owner",
      s."id" AS "supplyId", s."name", s."unit"
    FROM (${chosen}) e
      LEFT JOIN "Household" g ON g."coopId" = e."coopId" AND g."id" = e."householdId"
      LEFT JOIN "JarBatch" j ON j."coopId" = e."coopId" AND j."id" = e."jarBatchId"
      LEFT JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      LEFT JOIN "Place" p ON p."coopId" = j."coopId" AND p."id" = j."placeId"
      LEFT JOIN "Household" o ON o."coopId" = j."coopId" AND o."id" = j."householdId"
      LEFT JOIN "Supply" s ON s."coopId" = e."coopId" AND s."id" = e."supplyId"`
}

type Row = Omit<Entry, 'kind' | 'of'> & { kind: string } & (
    | { jarBatchId: string; product: string; code: string; place: string; owner: string | null }
    | { jarBatchId: null; supplyId: string; name: string; unit: string }
  )

function entryOf(row: Row): Entry {
  const { id, order, at, units, stockAfter, by, note, household, undone } = row
  const kind = storedAs(entryKinds, row.kind)
  return { id, order, at, kind, units, stockAfter, by, note, household, undone, of: ofWhat(row) }
}

function ofWhat(row: Row): Entry['of'] {
  if (row.jarBatchId === null) return { supplyId: row.supplyId, name: row.name, unit: row.unit }
  return {
    jarBatchId: row.jarBatchId,
    product: row.product,
    code: row.code,
    place: row.place,
    owner: row.owner,
  }
}
