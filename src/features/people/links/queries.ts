import type { TransactionClient } from '../../../db/transaction.ts'
import { Failure } from '../../../errors.ts'
import type { NewId } from '../../../ids.ts'
import type { Asking, CoopWays } from '../../../web/asking.ts'
import { noteEvent } from '../../../web/events.ts'
import { type PersonRole, roleInWords, roleOf } from '../../../web/roles.ts'
import { askingMember } from '../../../web/sessions/index.ts'
import { createAccount, setPassword } from '../../accounts/index.ts'
import { householdNamed } from '../queries.ts'

/** A link that leads in, as whoever opens it is told of it. */
export type OpenLink = {
  coopId: string
  id: string
  coop: Omit<CoopWays, 'units'> & { units: string }
  madeBy: string
  forName: string
  expiresAt: Date
  /** join: who is there already; reset: whose password; null: somebody new */
  member: { id: string; name: string } | null
  /** reset: how the member signs in */
  signInName: string | null
  /** join */
  role: PersonRole | null
  householdId: string | null
  householdName: string | null
}

/** Who joins, and how they will sign in. */
export type Joining = { name: string; signInName: string; mail: string | null; passwordHash: string }

type Noting = { now: Date; newId: NewId }

/**
 * One and the same answer for a secret that never was, one that was used, taken back or has run out, and for a member
 * who left: a secret that is guessed tells nothing.
 */
export function linkGone(): Failure {
  return new Failure(
    'not-found',
    'This link leads nowhere, or not any more: a link counts once, and for a while. If you have used it, sign in; else ask a steward of your co-op for another one.',
    { onward: { href: '/sign-in', text: 'Sign in' } },
  )
}

/** What the link of this secret leads to; throws `linkGone`. Reading uses nothing up: programs look at links in advance. */
export async function findLink(
  prisma: TransactionClient,
  kind: 'join' | 'reset',
  secretHash: string,
  now: Date,
): Promise<OpenLink> {
  const row = await prisma.invitation.findUnique({ where: { secretHash, kind, ...open(now) }, include: { coop: true } })
  if (row === null) throw linkGone()
  const { coopId, id, coop, madeBy, forName, expiresAt } = row
  const member =
    row.memberId === null
      ? null
      : await prisma.member.findUnique({
          where: { coopId_id: { coopId, id: row.memberId }, leftAt: null },
          include: { account: true, household: true },
        })
  if (row.memberId !== null && member === null) throw linkGone()
  // whoever joins has no account, and whoever needs a new password has one
  if (member !== null && (member.account === null) !== (kind === 'join')) throw linkGone()
  if (kind === 'reset' && member === null) throw linkGone()
  const householdId = member?.householdId ?? row.householdId
  return {
    coopId,
    id,
    coop,
    madeBy,
    forName,
    expiresAt,
    member: member === null ? null : { id: member.id, name: member.name },
    signInName: member?.account?.signInName ?? null,
    role: kind === 'reset' ? null : roleOf(member?.role ?? row.role ?? ''),
    householdId,
    householdName: householdId === null ? row.household : await nameOf(prisma, coopId, householdId),
  }
}

/**
 * Uses an invitation up: the member, where it is for somebody new, and the account. Of two who use it at the same moment
 * the second finds it used.
 *
 * @returns the member's id
 * @throws `linkGone`; refused for a name or an address of mail that somebody has
 */
export async function join(
  transaction: TransactionClient,
  link: OpenLink,
  { name, signInName, mail, passwordHash }: Joining,
  noting: Noting,
): Promise<{ coopId: string; memberId: string }> {
  const { coopId, role } = link
  const { now, newId } = noting
  await useUp(transaction, link, now)
  if (role === null) throw new Error('an invitation without a role')
  const memberId = link.member?.id ?? newId()
  if (link.member === null) {
    const writing = { transaction, asking: newcomer(link, memberId, name, role), ...noting }
    const householdId = link.householdId ?? (await householdNamed(writing, link.householdName ?? ''))
    await transaction.member.create({ data: { coopId, id: memberId, householdId, name, role } })
  } else {
    await refuseLeft(transaction, coopId, memberId)
  }
  await createAccount(transaction, { coopId, memberId, signInName, mail, passwordHash }, now)
  const what = `${name} joined as ${roleInWords(role)}, invited by ${link.madeBy}`
  await noteEvent(transaction, { kind: 'joined', coopId, who: name, memberId, what }, noting)
  return { coopId, memberId }
}

/**
 * Uses a link up for a new password: all sessions of the account end, tokens of programs stay.
 *
 * @throws `linkGone`
 */
export async function chooseNewPassword(
  transaction: TransactionClient,
  link: OpenLink,
  passwordHash: string,
  noting: Noting,
): Promise<void> {
  const { coopId, member } = link
  await useUp(transaction, link, noting.now)
  if (member === null) throw linkGone()
  await refuseLeft(transaction, coopId, member.id)
  await setPassword(transaction, { coopId, memberId: member.id }, passwordHash, noting.now)
  const { count } = await transaction.session.deleteMany({ where: { coopId, memberId: member.id } })
  const ended = count === 0 ? '' : `; ${count === 1 ? 'one session' : `${count} sessions`} ended`
  const what = `new password chosen by a link that ${link.madeBy} made${ended}`
  await noteEvent(
    transaction,
    { kind: 'password-changed', coopId, who: member.name, memberId: member.id, what },
    noting,
  )
}

/** Marks it as used, where it is still open: the row is locked from here on. */
async function useUp(transaction: TransactionClient, { coopId, id }: OpenLink, now: Date): Promise<void> {
  const { count } = await transaction.invitation.updateMany({
    where: { coopId, id, ...open(now) },
    data: { usedAt: now },
  })
  if (count === 0) throw linkGone()
}

/** The member may have left since the link was looked at. Locked, so that nobody leaves meanwhile. */
async function refuseLeft(transaction: TransactionClient, coopId: string, memberId: string): Promise<void> {
  const rows = await transaction.$queryRaw<unknown[]>`
    SELECT 1 FROM "Member" WHERE "coopId" = ${coopId} AND "id" = ${memberId} AND "leftAt" IS NULL FOR NO KEY UPDATE`
  if (rows.length === 0) throw linkGone()
}

async function nameOf(prisma: TransactionClient, coopId: string, id: string): Promise<string | null> {
  const row = await prisma.household.findUnique({ where: { coopId_id: { coopId, id } }, select: { name: true } })
  return row?.name ?? null
}

const open = (now: Date) => ({ usedAt: null, revokedAt: null, expiresAt: { gt: now } })

/** Whoever joins, as one who asks: notes what comes with it in the co-op's history. */
function newcomer({ coop, coopId }: OpenLink, id: string, name: string, role: PersonRole): Asking {
  const member = { coopId, id, householdId: '', name, role, units: null, leftAt: null }
  return askingMember(coop, member, { kind: 'inside' })
}
