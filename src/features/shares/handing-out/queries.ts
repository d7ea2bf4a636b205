import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import type { SharedEntry } from './movements.ts'

/** Both sides of every movement of a hand-out that holds still, in the order in which they were written. */
export async function sharedEntries(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  shareOutId: string,
): Promise<SharedEntry[]> {
  // In one value: of a large sharing Prisma would build thousands of rows.
  const [found] = await prisma.$queryRaw<{ entries: SharedEntry[] | null }[]>`
    SELECT json_agg(json_build_object('id', e."id", 'jarBatchId', e."jarBatchId", 'householdId', e."householdId",
      'movement', e."movement", 'units', e."units") ORDER BY e."order") AS "entries"
    FROM "ShelfEntry" e
    WHERE e."coopId" = ${coopId} AND e."shareOutId" = ${shareOutId} AND e."kind" = 'share' AND e."jarBatchId" IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM "ShelfEntry" u WHERE u."coopId" = e."coopId" AND u."undoesId" = e."id")`
  return found?.entries ?? []
}
