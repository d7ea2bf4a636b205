import { type UnitSystem, unitSystems } from '../core/units/index.ts'
import { isUniqueViolation } from '../db/errors.ts'
import type { Prisma, PrismaClient } from '../db/generated/client.ts'
import { inTransaction, type TransactionClient } from '../db/transaction.ts'
import type { Asking } from './asking.ts'

/** The one co-op and its steward, while there are no accounts; null until there is one. */
export async function findSteward(prisma: PrismaClient): Promise<Asking | null> {
  const found = await prisma.member.findFirst({
    where: { role: 'steward' },
    include: { coop: true },
    orderBy: [{ coop: { createdAt: 'asc' } }, { coopId: 'asc' }, { id: 'asc' }],
  })
  if (found === null) return null
  const { id, name, town, altitudeM, timeZone, locale, units, currency } = found.coop
  return {
    coopId: id,
    memberId: found.id,
    name: found.name,
    role: 'steward',
    coop: {
      id,
      name,
      town,
      altitudeM,
      timeZone,
      locale,
      units: unitsOf(found.units) ?? unitsOf(units) ?? 'metric',
      currency,
    },
  }
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
): Promise<OnceResult> {
  const before = await findSubmission(prisma, sent)
  if (before !== null) return before
  try {
    const outcome = await inTransaction(prisma, async (transaction) => {
      await transaction.submission.create({ data: { ...sent, path: '', at } })
      const outcome = await act(transaction)
      await transaction.submission.update({
        where: { coopId_id: { coopId: sent.coopId, id: sent.id } },
        data: { path: outcome.path, ...(outcome.answer === null ? {} : { answer: outcome.answer }) },
      })
      return outcome
    })
    return { kind: 'done', outcome }
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const first = await findSubmission(prisma, sent)
    if (first === null) throw error
    return first
  }
}

async function findSubmission(prisma: PrismaClient, { coopId, id, bodyHash }: Submitted): Promise<OnceResult | null> {
  const found = await prisma.submission.findUnique({ where: { coopId_id: { coopId, id } } })
  if (found === null) return null
  if (found.bodyHash !== bodyHash) return { kind: 'other-body', path: found.path }
  return { kind: 'repeat', path: found.path, answer: found.answer }
}
