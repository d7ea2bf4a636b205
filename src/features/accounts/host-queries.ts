import type { TransactionClient } from '../../db/transaction.ts'
import type { NewId } from '../../ids.ts'
import { noteEvent } from '../../web/events.ts'
import { findAccount } from './queries.ts'

/** How long a link holds that the person who hosts the service made, in minutes. */
const HOST_RESET_MINUTES = 60

/** Every sign-in name of the service, by co-op. */
export async function listSignInNames(
  prisma: TransactionClient,
): Promise<{ signInName: string; name: string; role: string; coop: string }[]> {
  const rows = await prisma.account.findMany({
    where: { member: { leftAt: null } },
    include: { member: { select: { name: true, role: true } }, coop: { select: { name: true } } },
    orderBy: [{ coopId: 'asc' }, { signInName: 'asc' }],
  })
  return rows.map(({ signInName, member, coop }) => ({ signInName, ...member, coop: coop.name }))
}

/**
 * Begins a new password for whoever has this sign-in name or mail address, on the word of the person who hosts the
 * service: of links for that the newest counts. null where nobody has the name.
 */
export async function beginHostReset(
  transaction: TransactionClient,
  typed: string,
  secretHash: string,
  noting: { now: Date; newId: NewId },
): Promise<{ name: string; coop: string } | null> {
  const account = await findAccount(transaction, typed.normalize('NFC').trim())
  if (account === null) return null
  const { coopId, memberId, name } = account
  const { now, newId } = noting
  await transaction.invitation.updateMany({
    where: { coopId, memberId, kind: 'reset', usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  })
  const who = 'whoever hosts the service'
  const expiresAt = new Date(now.getTime() + HOST_RESET_MINUTES * 60_000)
  await transaction.invitation.create({
    data: {
      coopId,
      id: newId(),
      secretHash,
      kind: 'reset',
      forName: name,
      memberId,
      madeBy: who,
      madeAt: now,
      expiresAt,
    },
  })
  const what = `a link for a new password made for ${name}`
  await noteEvent(transaction, { kind: 'reset-begun', coopId, memberId: null, who, what }, noting)
  const coop = await transaction.coop.findUniqueOrThrow({ where: { id: coopId }, select: { name: true } })
  return { name, coop: coop.name }
}
