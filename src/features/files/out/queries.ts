import { type RipenessClass, ripenessClasses } from '../../../core/produce/index.ts'
import { storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { typedMass, typedMoney } from '../../../web/typed.ts'
import type { Cell } from '../csv.ts'

// Each reads one page of a table: the rows after a key, and the key of the last of them. Pages rather than one long
// answer, so that memory does not grow with the ledger; no transaction is held open while somebody downloads.

type OfCoop = Pick<Asking, 'coopId'>
export type PageOf<K> = { rows: Cell[][]; next: K | null }

export type StockKey = { number: number; id: string }

/** What is in stock, by batch and place. */
export async function stockRows(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  after: StockKey | null,
  take: number,
): Promise<PageOf<StockKey>> {
  const rows = await prisma.$queryRaw<
    {
      id: string
      number: number
      code: string
      product: string
      variety: string | null
      pack: string
      unit: string
      keeping: string
      madeOn: Date
      bestBy: Date | null
      place: string
      household: string | null
      stock: number
      recalled: boolean
    }[]
  >`
    SELECT j."id", b."number", b."code", b."product", b."variety", b."pack", b."unit", b."keeping", b."madeOn",
      b."bestBy", p."name" AS "place", h."name" AS "household", j."stock", b."recalledAt" IS NOT NULL AS "recalled"
    FROM "JarBatch" j
      JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      JOIN "Place" p ON p."coopId" = j."coopId" AND p."id" = j."placeId"
      LEFT JOIN "Household" h ON h."coopId" = j."coopId" AND h."id" = j."householdId"
    WHERE j."coopId" = ${coopId} AND j."stock" > 0
      AND (b."number", j."id") > (${after?.number ?? -1}::int, ${after?.id ?? ''}::text)
    ORDER BY b."number", j."id" LIMIT ${take}`
  const last = rows.at(-1)
  return {
    rows: rows.map((row) => [
      row.code,
      row.product,
      row.variety,
      row.pack,
      row.unit,
      row.keeping,
      storedDate(row.madeOn),
      row.bestBy === null ? null : storedDate(row.bestBy),
      row.place,
      row.household,
      row.stock,
      row.recalled ? 'yes' : '',
    ]),
    next: last === undefined || rows.length < take ? null : { number: last.number, id: last.id },
  }
}

/** The ledger in the order in which it was written. */
export async function ledgerRows(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  after: number | null,
  take: number,
): Promise<PageOf<number>> {
  const rows = await prisma.$queryRaw<
    {
      order: number
      at: Date
      kind: string
      units: number
      stockAfter: number
      code: string | null
      product: string | null
      place: string | null
      owner: string | null
      supply: string | null
      household: string | null
      by: string
      note: string | null
      undoes: number | null
    }[]
  >`
    SELECT e."order", e."at", e."kind", e."units", e."stockAfter", b."code", b."product", p."name" AS "place",
      o."name" AS "owner", s."name" AS "supply", h."name" AS "household", e."by", e."note", u."order" AS "undoes"
    FROM "ShelfEntry" e
      LEFT JOIN "JarBatch" j ON j."coopId" = e."coopId" AND j."id" = e."jarBatchId"
      LEFT JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      LEFT JOIN "Place" p ON p."coopId" = j."coopId" AND p."id" = j."placeId"
      LEFT JOIN "Household" o ON o."coopId" = j."coopId" AND o."id" = j."householdId"
      LEFT JOIN "Supply" s ON s."coopId" = e."coopId" AND s."id" = e."supplyId"
      LEFT JOIN "Household" h ON h."coopId" = e."coopId" AND h."id" = e."householdId"
      LEFT JOIN "ShelfEntry" u ON u."coopId" = e."coopId" AND u."id" = e."undoesId"
    WHERE e."coopId" = ${coopId} AND e."order" > ${after ?? 0}::int
    ORDER BY e."order" LIMIT ${take}`
  const last = rows.at(-1)
  return {
    rows: rows.map((row) => [
      row.order,
      row.at.toISOString(),
      row.kind,
      row.units,
      row.stockAfter,
      row.code,
      row.product,
      row.place,
      row.owner,
      row.supply,
      row.household,
      row.by,
      row.note,
      row.undoes,
    ]),
    next: last === undefined || rows.length < take ? null : last.order,
  }
}

/** All lots, the closed ones too, by id: in an order that a page can go on from. */
export async function lotRows(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  after: string | null,
  take: number,
): Promise<PageOf<string>> {
  const rows = await prisma.lot.findMany({
    where: { coopId, ...(after === null ? {} : { id: { gt: after } }) },
    include: {
      household: { select: { name: true } },
      sortings: { orderBy: [{ createdAt: 'desc' }, { id: 'desc' }], take: 1 },
    },
    orderBy: { id: 'asc' },
    take,
  })
  return {
    rows: rows.map((row) => [
      row.id,
      storedDate(row.arrivedOn),
      row.crop,
      row.variety,
      typedMass(row.weightGrams),
      row.weightTyped,
      mostly(row.sortings[0]),
      row.storage,
      row.source,
      row.broughtBy,
      row.household?.name ?? null,
      row.priceMinor === null ? null : typedMoney(row.priceMinor),
      row.note,
      row.closedOn === null ? null : storedDate(row.closedOn),
    ]),
    next: rows.length < take ? null : (rows.at(-1)?.id ?? null),
  }
}

type Sorted = { firmGrams: number; ripeGrams: number; softGrams: number; damagedGrams: number }

/** The class that most of it was in at its newest sorting; null where nothing of it is left. */
function mostly(sorting: Sorted | undefined): RipenessClass | null {
  if (sorting === undefined) return null
  const grams: Record<RipenessClass, number> = {
    firm: sorting.firmGrams,
    ripe: sorting.ripeGrams,
    soft: sorting.softGrams,
    damaged: sorting.damagedGrams,
  }
  const most = ripenessClasses.reduce((best, one) => (grams[one] > grams[best] ? one : best))
  return grams[most] > 0 ? most : null
}
