import { dateAfter, daysBetween } from '../../../core/produce/dates.ts'
import { soonDays, type Use, yearDays } from '../../../core/shelf/index.ts'
import { Prisma } from '../../../db/generated/client.ts'
import { dateColumn, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { type JarLine, type LineRow, lineColumns, lineOf, lineTables } from '../jars/queries.ts'
import { ROWS_PER_PAGE } from '../stock/filter.ts'

/** Lines of what to eat first, and how many there are in all. */
export type First = { lines: JarLine[]; all: number }

/**
 * Lines that are past their best or soon will be, without what is recalled, in the order in which they are eaten: from
 * the refrigerator first, as nothing else spoils as fast, then by date, then by the number of the batch. Read in the
 * order of an index, as many as are asked for.
 */
export async function listFirst(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  today: string,
  { take = ROWS_PER_PAGE, skip = 0 }: { take?: number; skip?: number } = {},
): Promise<First> {
  const until = dateColumn(dateAfter(today, soonDays))
  const due = Prisma.sql`l."coopId" = ${coopId} AND l."eatable" AND l."bestBy" <= ${until}::date`
  // each half is read in order and no further than asked for; one scan over both would read the first to its end
  const half = (cold: boolean) => Prisma.sql`(
    SELECT l.* FROM "ShelfLine" l WHERE ${due} AND l."cold" = ${cold}
    ORDER BY l."bestBy", l."number", l."jarBatchId" LIMIT ${skip + take})`
  const rows = await prisma.$queryRaw<FirstRow[]>`
    WITH "shown" AS (
      SELECT * FROM (${half(true)} UNION ALL ${half(false)}) l
      ORDER BY l."cold" DESC, l."bestBy", l."number", l."jarBatchId" LIMIT ${take} OFFSET ${skip}
    )
    SELECT ${lineColumns}, (SELECT count(*) FROM "ShelfLine" l WHERE ${due})::float8 AS "all"
    FROM (VALUES (true)) "one" LEFT JOIN (
      "shown" l JOIN ${lineTables} ON j."coopId" = l."coopId" AND j."id" = l."jarBatchId"
    ) ON true
    ORDER BY l."cold" DESC, l."bestBy", l."number", l."jarBatchId"`
  return {
    lines: rows.flatMap(({ all: _, ...row }) => (row.id === null ? [] : [lineOf(row)])),
    all: rows[0]?.all ?? 0,
  }
}

/** A line with the number of all; where there is none to show, one row tells the number alone. */
type FirstRow = (LineRow | { id: null }) & { all: number }

/** A product's stock that may be eaten, and what was taken, given away or used of it in the last year. */
export type ProductUse = Use & { recipeId: string; pack: string; product: string; unit: string; unitsName: string }

type Row = Omit<ProductUse, 'overDays'> & { firstMadeOn: Date }

/**
 * Every product of which something was used in the last year: the days (UTC) of 365 days before now and after. From the
 * totals of its months, and of the days of the month in which it begins. One query, whatever there is.
 */
export async function listUse(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  { today, now }: { today: string; now: Date },
): Promise<ProductUse[]> {
  const since = dateColumn(dateAfter(storedDate(now), -yearDays))
  const month = new Date(Date.UTC(since.getUTCFullYear(), since.getUTCMonth() + 1, 1))
  const rows = await prisma.$queryRaw<Row[]>`
    SELECT p."recipeId", p."pack", p."product", p."unit", p."unitsName", p."firstMadeOn",
      p."eatable"::float8 AS "stock", u."used"::float8 AS "used"
    FROM (
      SELECT "recipeId", "pack", sum("units") AS "used" FROM (
        SELECT "recipeId", "pack", "units" FROM "ShelfUse"
          WHERE "coopId" = ${coopId} AND "span" = 'day' AND "from" >= ${since}::date AND "from" < ${month}::date
        UNION ALL
        SELECT "recipeId", "pack", "units" FROM "ShelfUse"
          WHERE "coopId" = ${coopId} AND "span" = 'month' AND "from" >= ${month}::date
      ) "spans" GROUP BY 1, 2 HAVING sum("units") > 0
    ) u JOIN "ShelfProduct" p
      ON p."coopId" = ${coopId} AND p."recipeId" = u."recipeId" AND p."pack" = u."pack"
    ORDER BY p."product", p."pack"`
  return rows.map(({ firstMadeOn, ...row }) => ({
    ...row,
    overDays: Math.max(0, daysBetween(storedDate(firstMadeOn), today)),
  }))
}
