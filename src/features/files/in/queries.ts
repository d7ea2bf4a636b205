import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import type { TableIn } from '../columns.ts'

type OfCoop = Pick<Asking, 'coopId'>

/** Which of these ids are lots of the co-op. */
export async function knownLots(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  ids: readonly string[],
): Promise<Set<string>> {
  if (ids.length === 0) return new Set()
  const [found] = await prisma.$queryRaw<{ ids: string[] | null }[]>`
    SELECT array_agg("id") AS "ids" FROM "Lot" WHERE "coopId" = ${coopId} AND "id" = ANY(${[...ids]}::text[])`
  return new Set(found?.ids ?? [])
}

/** Which of these numbers, as they were typed, are entries of the co-op's ledger. */
export async function knownEntries(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  numbers: readonly string[],
): Promise<Set<string>> {
  const orders = numbers.filter((number) => /^\d{1,9}$/.test(number)).map(Number)
  if (orders.length === 0) return new Set()
  const [found] = await prisma.$queryRaw<{ orders: number[] | null }[]>`
    SELECT array_agg("order") AS "orders" FROM "ShelfEntry" WHERE "coopId" = ${coopId} AND "order" = ANY(${orders}::int[])`
  return new Set((found?.orders ?? []).map(String))
}

export type CodedBatch = {
  id: string
  code: string
  product: string
  unit: string
  unitsName: string
  keeping: string
  recalled: boolean
  lines: { id: string; placeId: string; householdId: string | null; stock: number }[]
}

/** The batches that have one of these codes, by code, with where their jars stand. */
export async function batchesByCode(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  codes: readonly string[],
): Promise<Map<string, CodedBatch>> {
  if (codes.length === 0) return new Map()
  // In one value: Prisma would take several times as long to build the rows as the database to read them.
  const [found] = await prisma.$queryRaw<{ batches: CodedBatch[] | null }[]>`
    SELECT json_agg(json_build_object('id', b."id", 'code', b."code", 'product', b."product", 'unit', b."unit",
      'unitsName', b."unitsName", 'keeping', b."keeping", 'recalled', b."recalledAt" IS NOT NULL, 'lines', (
        SELECT coalesce(json_agg(json_build_object('id', j."id", 'placeId', j."placeId", 'householdId', j."householdId",
          'stock', j."stock")), '[]') FROM "JarBatch" j WHERE j."coopId" = b."coopId" AND j."batchId" = b."id"
      ))) AS "batches"
    FROM "Batch" b WHERE b."coopId" = ${coopId} AND b."code" = ANY(${[...codes]}::text[])`
  return new Map((found?.batches ?? []).map((batch) => [batch.code, batch]))
}

/** When a table was brought in; null: never. */
export async function broughtIn(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  hash: string,
): Promise<{ at: Date; who: string } | null> {
  return prisma.change.findUnique({
    where: { coopId_id: { coopId, id: changeId(hash) } },
    select: { at: true, who: true },
  })
}

/** Lets one table in at a time: whoever brings in another waits until this transaction ends. */
export async function lockImports({ transaction, asking }: Writing): Promise<void> {
  // Prisma has no word for a row's lock. Others may still refer to the co-op meanwhile.
  await transaction.$queryRaw`SELECT "id" FROM "Coop" WHERE "id" = ${asking.coopId} FOR NO KEY UPDATE`
}

/** Notes that a table was brought in. Its line in the list of changes has an id made from the table, so that there is one. */
export async function noteBroughtIn(writing: Writing, table: TableIn, hash: string, what: string): Promise<void> {
  await noteChange({ ...writing, newId: () => changeId(hash) }, 'table', table, what)
}

function changeId(hash: string): string {
  return `table-${hash}`
}
