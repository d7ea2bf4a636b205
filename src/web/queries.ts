import { type UnitSystem, unitSystems } from '../core/units/index.ts'
import { isUniqueViolation } from '../db/errors.ts'
import type { Prisma, PrismaClient } from '../db/generated/client.ts'
import { inTransaction, type TransactionClient, type TransactionOptions } from '../db/transaction.ts'

/** Whether there is a co-op at all. */
export async function hasCoop(prisma: PrismaClient): Promise<boolean> {
  return (await prisma.coop.findFirst({ select: { id: true } })) !== null
}

/** The units in a column; null for none. */
export function unitsOf(stored: string | null): UnitSystem | null {
  return unitSystems.find((one) => one === stored) ?? null
}

/** What was sent once: `bodyHash` tells a repeat from something else under the same id. */
export type Submitted = { coopId: string; id: string; bodyHash: string }
/** Where it led (forms) and what was answered (calls). */
export type Outcome = { path: string; answer: Prisma.InputJsonValue | null }
export type OnceResult =
  | { kind: 'done'; outcome: Outcome }
  | { kind: 'repeat'; path: string; answer: unknown }
  | { kind: 'other-body'; path: string }

/**
 * Does the work and notes its outcome in one transaction; when the same id was sent before, does nothing and tells the
 * first one's outcome. Two at the same moment: the second waits for the first.
 */
export async function actOnce(
  prisma: PrismaClient,
  sent: Submitted,
  at: Date,
  act: (transaction: TransactionClient) => Promise<Outcome>,
  options: TransactionOptions = {},
): Promise<OnceResult> {
  const before = await findSubmission(prisma, sent)
  if (before !== null) return before
  try {
    const outcome = await inTransaction(
      prisma,
      async (transaction) => {
        await transaction.submission.create({ data: { ...sent, path: '', at } })
        const outcome = await act(transaction)
        await transaction.submission.update({
          where: { coopId_id: { coopId: sent.coopId, id: sent.id } },
          data: { path: outcome.path, ...(outcome.answer === null ? {} : { answer: outcome.answer }) },
        })
        return outcome
      },
      options,
    )
    return { kind: 'done', outcome }
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const first = await findSubmission(prisma, sent)
    if (first === null) throw error
    return first
  }
}

/**
 * How long a form or call that was acted on is remembered, in days, so that a repeat counts once. As long as a session
 * lasts at most: a form holds in the session that it was shown in and in no other (web/csrf), so whatever was left open,
 * no form that is older can be sent again. A kitchen screen's session lasts longer, but its ticks count once by
 * themselves. Programs that got no answer call again within minutes or days.
 */
export const SUBMISSION_DAYS = 90
const DAY_MS = 86_400_000
/** So many go in one statement, which thus stays short whatever has piled up. */
const SWEPT_AT_ONCE = 5_000

/**
 * Forgets the forms and calls that were acted on longer ago than `SUBMISSION_DAYS`. It may be done by several processes at
 * the same time: what one forgets the other does not find.
 *
 * @returns how many were forgotten
 */
export async function sweepSubmissions(prisma: PrismaClient, now: Date, atOnce = SWEPT_AT_ONCE): Promise<number> {
  const before = new Date(now.getTime() - SUBMISSION_DAYS * DAY_MS)
  let forgotten = 0
  for (;;) {
    const count = await prisma.$executeRaw`
      DELETE FROM "Submission" WHERE ("coopId", "id") IN (
        SELECT "coopId", "id" FROM "Submission" WHERE "at" < ${before} LIMIT ${atOnce})`
    forgotten += count
    if (count < atOnce) return forgotten
  }
}

/** What came of a form or call that was sent before; null: it was not. */
export async function findSubmission(
  prisma: PrismaClient,
  { coopId, id, bodyHash }: Submitted,
): Promise<OnceResult | null> {
  const found = await prisma.submission.findUnique({ where: { coopId_id: { coopId, id } } })
  if (found === null) return null
  if (found.bodyHash !== bodyHash) return { kind: 'other-body', path: found.path }
  return { kind: 'repeat', path: found.path, answer: found.answer }
}
