import type { TransactionClient } from '../../db/transaction.ts'
import type { NewId } from '../../ids.ts'
import type { Asking } from '../../web/asking.ts'

/** All that a write needs: where it writes, for whom, when, and how new things are named. */
export type Writing = { transaction: TransactionClient; asking: Asking; now: Date; newId: NewId }

export type Change = { at: Date; who: string; what: string }

/**
 * Notes who changed what, in the transaction of the change itself.
 *
 * @param noun the feature's word: "equipment"
 * @param what one plain line: "chest freezer added"
 */
export async function noteChange(writing: Writing, noun: string, nounId: string, what: string): Promise<void> {
  const { transaction, asking, now, newId } = writing
  await transaction.change.create({
    data: { coopId: asking.coopId, id: newId(), at: now, who: asking.name, noun, nounId, what },
  })
}

/** As `noteChange`, for many things of one noun at once, in one statement. */
export async function noteChanges(
  { transaction, asking, now, newId }: Writing,
  noun: string,
  changes: readonly { nounId: string; what: string }[],
): Promise<void> {
  await transaction.$executeRaw`
    INSERT INTO "Change" ("coopId", "id", "at", "who", "noun", "nounId", "what")
    SELECT ${asking.coopId}, c."id", ${now}::timestamptz, ${asking.name}, ${noun}, c."nounId", c."what"
    FROM unnest(${changes.map(() => newId())}::text[], ${changes.map(({ nounId }) => nounId)}::text[],
      ${changes.map(({ what }) => what)}::text[]) AS c("id", "nounId", "what")`
}

/** The newest change of a noun, or of one thing when its id is given; null when nothing was ever changed. */
export async function newestChange(
  prisma: TransactionClient,
  asking: Asking,
  noun: string,
  nounId?: string,
): Promise<Change | null> {
  return prisma.change.findFirst({
    where: { coopId: asking.coopId, noun, ...(nounId === undefined ? {} : { nounId }) },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    select: { at: true, who: true, what: true },
  })
}
