import { Prisma } from '../../../db/generated/client.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict, notFound, refused } from '../../../errors.ts'
import type { Writing } from '../../changes/index.ts'
import { changedSinceShown, isCount, type NewEntry } from '../ledger.ts'

// The ledger for many entries at once: as many statements for thousands as for one, each column given as a list. What
// Prisma would build row by row takes it several times as long as the database takes to write it.

/** Jars of a batch in a place, of a household or shared (null). */
export type LineKey = { batchId: string; placeId: string; householdId: string | null }

/**
 * The lines of these jars, made where there are none yet: their ids in the order of the keys, which may name one twice.
 *
 * @throws not-found for a place of another co-op as for none; conflict in words for one that is closed
 */
export async function jarBatchesFor(
  { transaction, asking, now, newId }: Writing,
  keys: readonly LineKey[],
): Promise<string[]> {
  if (keys.length === 0) return []
  const { coopId } = asking
  const placeIds = [...new Set(keys.map(({ placeId }) => placeId))]
  // Shared, so that many may put there at once and whoever closes a place waits for them. Prisma has no word for it.
  const places = await transaction.$queryRaw<{ name: string; closed: boolean }[]>`
    SELECT "name", "closed" FROM "Place" WHERE "coopId" = ${coopId} AND "id" = ANY(${placeIds}::text[])
    ORDER BY "id" FOR SHARE`
  if (places.length < placeIds.length) throw notFound('such place')
  const closed = places.find((place) => place.closed)
  if (closed !== undefined) throw conflict(`${closed.name} is closed: choose another place.`)
  const batches = keys.map(({ batchId }) => batchId)
  const where = keys.map(({ placeId }) => placeId)
  const owners = keys.map(({ householdId }) => householdId)
  await planAnew(transaction)
  // Two who make the same lines at once do so in the same order: the second finds the first's.
  await transaction.$executeRaw`
    INSERT INTO "JarBatch" ("coopId", "id", "batchId", "placeId", "householdId", "createdAt")
    SELECT ${coopId}, k."id", k."batchId", k."placeId", k."householdId", ${now}::timestamptz
    FROM unnest(${keys.map(() => newId())}::text[], ${batches}::text[], ${where}::text[], ${owners}::text[])
      AS k("id", "batchId", "placeId", "householdId")
    ORDER BY k."batchId", k."placeId", k."householdId"
    ON CONFLICT DO NOTHING`
  const [found] = await transaction.$queryRaw<{ ids: string[] }[]>`
    SELECT array_agg(j."id" ORDER BY k."n") AS "ids"
    FROM unnest(${batches}::text[], ${where}::text[], ${owners}::text[])
        WITH ORDINALITY AS k("batchId", "placeId", "householdId", "n")
      JOIN "JarBatch" j ON j."coopId" = ${coopId} AND j."batchId" = k."batchId" AND j."placeId" = k."placeId"
        AND j."householdId" IS NOT DISTINCT FROM k."householdId"`
  const ids = found?.ids ?? []
  if (ids.length !== keys.length) throw new Error(`${keys.length} lines were to be there, and ${ids.length} are`)
  return ids
}

/**
 * Has the session plan its statements again. It planned the checks of foreign keys once, maybe when there was next to
 * nothing in a table: each of thousands of rows would read all of the others.
 */
async function planAnew(transaction: TransactionClient): Promise<void> {
  await transaction.$executeRaw`DISCARD PLANS`
}

/** What a line must have so that something can be done with it. */
export type Needed = { jarBatchId: string; units: number }

/** A line that has less than was needed, or is recalled; one that is not there has none and no name. */
export type Short = {
  jarBatchId: string
  needed: number
  stock: number
  recalled: boolean
  product: string | null
  code: string | null
  household: string | null
}

/**
 * Locks lines, and tells which have less than is needed of them or are recalled, in the order in which they were given,
 * each named once. Until this transaction ends nobody else writes an entry of any of them or recalls their batches. They
 * are locked in the order of ids, so that two who do this do not wait for each other.
 *
 * @param others lines that are locked as well, of which nothing is needed
 */
export async function lockedShort(
  { transaction, asking }: Writing,
  needed: readonly Needed[],
  others: readonly string[] = [],
): Promise<Short[]> {
  const ids = needed.map(({ jarBatchId }) => jarBatchId)
  const units = needed.map((one) => one.units)
  // Prisma has no word for a row's lock. Only what is short is sent: that is little.
  return transaction.$queryRaw<Short[]>`
    WITH "held" AS MATERIALIZED (${held(asking.coopId, [...ids, ...others])})
    SELECT n."id" AS "jarBatchId", n."units" AS "needed", coalesce(l."stock", 0) AS "stock",
      l."recalledAt" IS NOT NULL AS "recalled", l."product", l."code", h."name" AS "household"
    FROM unnest(${ids}::text[], ${units}::int[]) WITH ORDINALITY AS n("id", "units", "n")
      LEFT JOIN "held" l ON l."id" = n."id"
      LEFT JOIN "Household" h ON h."coopId" = ${asking.coopId} AND h."id" = l."householdId"
    WHERE l."id" IS NULL OR l."stock" < n."units" OR l."recalledAt" IS NOT NULL
    ORDER BY n."n"`
}

/** These lines, locked in the order of ids; their batches are not recalled meanwhile. */
function held(coopId: string, ids: readonly string[]): Prisma.Sql {
  return Prisma.sql`
    SELECT j."id", j."stock", j."householdId", b."recalledAt", b."product", b."code"
    FROM "JarBatch" j JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
    WHERE j."coopId" = ${coopId} AND j."id" = ANY(${[...ids]}::text[])
    ORDER BY j."id" FOR UPDATE OF j FOR SHARE OF b`
}

/** What a stock-take found of a line: `shown`: what the counter was shown. */
export type Counted = { jarBatchId: string; shown: number; counted: number }

/**
 * As `countStock`, for many lines at once, each named once.
 *
 * @throws conflict in words for the first line of which something was taken or counted since it was shown, or that is
 * not there
 */
export async function countStocks(writing: Writing, counts: readonly Counted[]): Promise<void> {
  if (!counts.every(({ counted }) => isCount(counted))) throw refused('Enter whole numbers, 0 or more.')
  if (counts.length === 0) return
  const { transaction, asking } = writing
  const ids = counts.map(({ jarBatchId }) => jarBatchId)
  const [other] = await transaction.$queryRaw<{ product: string | null; stock: number; shown: number }[]>`
    WITH "held" AS MATERIALIZED (${held(asking.coopId, ids)})
    SELECT l."product", coalesce(l."stock", 0) AS "stock", c."shown"
    FROM unnest(${ids}::text[], ${counts.map(({ shown }) => shown)}::int[]) WITH ORDINALITY AS c("id", "shown", "n")
      LEFT JOIN "held" l ON l."id" = c."id"
    WHERE l."stock" IS DISTINCT FROM c."shown"
    ORDER BY c."n" LIMIT 1`
  if (other !== undefined) throw changedSinceShown(other.product ?? 'These jars', other.stock, other.shown)
  await writeEntries(
    writing,
    counts.flatMap(({ jarBatchId, shown, counted }) =>
      counted === shown ? [] : [{ jarBatchId, kind: 'count', units: counted - shown, note: 'stock-take' }],
    ),
  )
}

/**
 * Writes entries in the order in which they come, in one statement. Their stocks are locked and looked at before
 * (`lockedShort`): the database moves them, and only refuses here too what is too few or recalled.
 */
export async function writeEntries(
  { transaction, asking, now, newId }: Writing,
  entries: readonly NewEntry[],
): Promise<void> {
  if (entries.length === 0) return
  await planAnew(transaction)
  const column = <T>(of: (entry: NewEntry) => T | null | undefined) => entries.map((entry) => of(entry) ?? null)
  await transaction.$executeRaw`
    INSERT INTO "ShelfEntry" ("coopId", "at", "by", "id", "jarBatchId", "supplyId", "kind", "units", "householdId", "note",
      "movement", "shareOutId", "undoesId")
    SELECT ${asking.coopId}, ${now}::timestamptz, ${asking.name}, e."id", e."jarBatchId", e."supplyId", e."kind",
      e."units", e."householdId", e."note", e."movement", e."shareOutId", e."undoesId"
    FROM unnest(
      ${entries.map(() => newId())}::text[],
      ${column((entry) => ('jarBatchId' in entry ? entry.jarBatchId : null))}::text[],
      ${column((entry) => ('supplyId' in entry ? entry.supplyId : null))}::text[],
      ${column(({ kind }) => kind)}::text[], ${column(({ units }) => units)}::int[],
      ${column(({ householdId }) => householdId)}::text[], ${column(({ note }) => note)}::text[],
      ${column(({ movement }) => movement)}::text[], ${column(({ shareOutId }) => shareOutId)}::text[],
      ${column(({ undoesId }) => undoesId)}::text[]
    ) WITH ORDINALITY AS e("id", "jarBatchId", "supplyId", "kind", "units", "householdId", "note", "movement",
      "shareOutId", "undoesId", "n")
    ORDER BY e."n"`
}
