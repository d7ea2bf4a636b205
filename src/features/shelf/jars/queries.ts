import { type Keeping, keepings, type PlaceKind, placeKinds } from '../../../core/shelf/index.ts'
import { Prisma } from '../../../db/generated/client.ts'
import { storedAs, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import type { StockFilter } from '../stock/filter.ts'

/** Jars of one batch in one place, shared (`household` null) or of one household. */
export type JarLine = {
  id: string
  stock: number
  batchId: string
  code: string
  recipeId: string
  pack: string
  product: string
  variety: string | null
  unit: string
  unitsName: string
  jar: string | null
  keeping: Keeping
  madeOn: string
  bestBy: string | null
  recalled: boolean
  place: { id: string; name: string; kind: PlaceKind }
  household: { id: string; name: string } | null
}

/** Which lines with stock: all of a filter, a product, a batch. */
export type LineChoice = Partial<StockFilter> & { recipeId?: string; pack?: string; batchId?: string }

/** One line, with stock or without. */
export async function findLine(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<JarLine> {
  const [row] = await prisma.$queryRaw<LineRow[]>`
    SELECT ${lineColumns} FROM ${lineTables} WHERE j."coopId" = ${coopId} AND j."id" = ${id}`
  if (row === undefined) throw notFound('such jars')
  return lineOf(row)
}

/**
 * Lines by best-by date, those without one last. Read in the order of an index, as many as are asked for; which lines
 * are in stock is as it was when the last transaction ended. One query, whatever there is.
 */
export async function listLines(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  choice: LineChoice,
  { take, skip = 0 }: { take: number; skip?: number },
): Promise<JarLine[]> {
  const rows = await prisma.$queryRaw<LineRow[]>`
    SELECT ${lineColumns} FROM "ShelfLine" l JOIN ${lineTables} ON j."coopId" = l."coopId" AND j."id" = l."jarBatchId"
    WHERE l."coopId" = ${coopId} AND ${linesWhere(choice)}
    ORDER BY l."bestBy", l."number", l."jarBatchId" LIMIT ${take} OFFSET ${skip}`
  return rows.map(lineOf)
}

/** How many lines stand in a place. */
export async function countLines(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  placeId: string,
): Promise<number> {
  return prisma.shelfLine.count({ where: { coopId, placeId } })
}

export type RecallNotice = { id: string; reason: string; todo: string }

/** Recalls of a batch that still hold, newest first. */
export async function listRecalls(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  batchId: string,
): Promise<RecallNotice[]> {
  return prisma.recall.findMany({
    where: { coopId, liftedAt: null, batches: { some: { batchId } } },
    select: { id: true, reason: true, todo: true },
    orderBy: [{ at: 'desc' }, { id: 'asc' }],
  })
}

/** A batch by its code; null for none. */
export async function findByCode(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  code: string,
): Promise<{ id: string; code: string; product: string; variety: string | null } | null> {
  return prisma.batch.findUnique({
    where: { coopId_code: { coopId, code } },
    select: { id: true, code: true, product: true, variety: true },
  })
}

/** Whether the co-op has that household. */
export async function hasHousehold(
  transaction: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<boolean> {
  return (await transaction.household.count({ where: { coopId, id } })) > 0
}

function linesWhere({
  q = '',
  placeId,
  shared,
  householdId,
  keeping,
  recipeId,
  pack,
  batchId,
}: LineChoice): Prisma.Sql {
  const conditions = [
    Prisma.sql`j."stock" > 0`,
    ...(recipeId === undefined ? [] : [Prisma.sql`l."recipeId" = ${recipeId}`]),
    ...(pack === undefined ? [] : [Prisma.sql`l."pack" = ${pack}`]),
    ...(batchId === undefined ? [] : [Prisma.sql`j."batchId" = ${batchId}`]),
    ...(placeId ? [Prisma.sql`l."placeId" = ${placeId}`] : []),
    ...(shared ? [Prisma.sql`j."householdId" IS NULL`] : []),
    ...(householdId ? [Prisma.sql`j."householdId" = ${householdId}`] : []),
    ...(keeping ? [Prisma.sql`b."keeping" = ${keeping}`] : []),
    ...(q === ''
      ? []
      : [
          Prisma.sql`(strpos(lower(b."product"), lower(${q})) > 0 OR strpos(lower(b."variety"), lower(${q})) > 0
            OR b."code" = upper(${q}))`,
        ]),
  ]
  return Prisma.join(conditions, ' AND ')
}

/** The columns of a `LineRow`; `lineTables` names the tables that they are of. */
export const lineColumns = Prisma.sql`
  j."id", j."stock", b."id" AS "batchId", b."code", b."recipeId", b."pack", b."product", b."variety", b."unit",
  b."unitsName", b."jar", b."keeping", b."madeOn", b."bestBy", b."recalledAt" IS NOT NULL AS "recalled",
  p."id" AS "placeId", p."name" AS "place", p."kind", h."id" AS "householdId", h."name" AS "household"`
export const lineTables = Prisma.sql`("JarBatch" j
  JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
  JOIN "Place" p ON p."coopId" = j."coopId" AND p."id" = j."placeId"
  LEFT JOIN "Household" h ON h."coopId" = j."coopId" AND h."id" = j."householdId")`

/** A line as these columns give it. */
export type LineRow = Omit<JarLine, 'keeping' | 'madeOn' | 'bestBy' | 'place' | 'household'> & {
  keeping: string
  madeOn: Date
  bestBy: Date | null
  placeId: string
  place: string
  kind: string
  householdId: string | null
  household: string | null
}

export function lineOf({
  keeping,
  madeOn,
  bestBy,
  placeId,
  place,
  kind,
  householdId,
  household,
  ...rest
}: LineRow): JarLine {
  return {
    ...rest,
    keeping: storedAs(keepings, keeping),
    madeOn: storedDate(madeOn),
    bestBy: bestBy === null ? null : storedDate(bestBy),
    place: { id: placeId, name: place, kind: storedAs(placeKinds, kind) },
    household: householdId === null || household === null ? null : { id: householdId, name: household },
  }
}
