import { isUniqueViolation } from '../../db/errors.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { refused } from '../../errors.ts'
import { type Asking, memberOf } from '../../web/asking.ts'
import { randomSecret } from '../../web/sessions/index.ts'

/** Whoever enters: a member of a co-op. */
export type Entrant = { coopId: string; memberId: string; name: string }
/** A member of a demonstration, open to whoever comes by. */
export type DemonstrationMember = { id: string; name: string; role: string; coop: { id: string; name: string } }
/** How a member signs in. */
export type NewAccount = {
  coopId: string
  memberId: string
  signInName: string
  mail: string | null
  /** null: by passkey only */
  passwordHash: string | null
}
export type OwnAccount = {
  signInName: string
  mail: string | null
  hasPassword: boolean
  passwordChangedAt: Date | null
}

/** The account of this sign-in name or address of mail, whatever its case; null where there is none. */
export async function findAccount(
  prisma: TransactionClient,
  name: string,
): Promise<(Entrant & { passwordHash: string | null }) | null> {
  const key = name.toLowerCase()
  const found = await prisma.account.findFirst({
    where: { OR: [{ signInName: key }, { mail: key }], member: { leftAt: null } },
    include: { member: { select: { name: true } } },
  })
  if (found === null) return null
  const { coopId, memberId, passwordHash, member } = found
  return { coopId, memberId, passwordHash, name: member.name }
}

/** Everybody as whom the demonstrations can be entered. */
export async function listDemonstrationMembers(prisma: TransactionClient): Promise<DemonstrationMember[]> {
  return prisma.member.findMany({
    where: { coop: { demonstration: true }, leftAt: null },
    select: { id: true, name: true, role: true, coop: { select: { id: true, name: true } } },
    orderBy: [{ coopId: 'asc' }, { name: 'asc' }, { id: 'asc' }],
  })
}

/** Sessions of a demonstration that are kept: anybody may begin one, and nobody should fill the database with them. */
const DEMONSTRATION_SESSIONS = 500

/** Ends the sessions of a demonstration that were not used for longest, so that few enough are left. */
export async function dropOldDemonstrationSessions(transaction: TransactionClient, coopId: string): Promise<void> {
  const last = await transaction.session.findFirst({
    where: { coopId, memberId: { not: null } },
    orderBy: [{ lastUsedAt: 'desc' }, { id: 'desc' }],
    skip: DEMONSTRATION_SESSIONS - 1,
    select: { lastUsedAt: true },
  })
  if (last === null) return
  await transaction.session.deleteMany({
    where: { coopId, memberId: { not: null }, lastUsedAt: { lte: last.lastUsedAt } },
  })
}

/**
 * Gives a member an account. A name or an address of mail that somebody has is refused at its field (`signInName`,
 * `mail`); a password is hashed by `hashPassword` before, outside of the transaction.
 */
export async function createAccount(transaction: TransactionClient, account: NewAccount, now: Date): Promise<void> {
  await refuseTaken(transaction, account)
  try {
    await transaction.account.create({
      data: {
        ...account,
        passwordChangedAt: account.passwordHash === null ? null : now,
        createdAt: now,
        handle: randomSecret(),
      },
    })
  } catch (error) {
    // somebody took it a moment ago
    if (isUniqueViolation(error)) throw taken('signInName')
    throw error
  }
}

/** The hash of whoever is asking, for `isPassword`; null: no account, or none with a password. */
export async function findOwnPasswordHash(prisma: TransactionClient, asking: Asking): Promise<string | null> {
  if (asking.memberId === null) return null
  const found = await prisma.account.findUnique({
    where: { coopId_memberId: { coopId: asking.coopId, memberId: asking.memberId } },
    select: { passwordHash: true },
  })
  return found?.passwordHash ?? null
}

/** The account of whoever is asking; null for a member who has none (in a demonstration nobody has). */
export async function findOwnAccount(prisma: TransactionClient, asking: Asking): Promise<OwnAccount | null> {
  if (asking.memberId === null) return null
  const found = await prisma.account.findUnique({
    where: { coopId_memberId: { coopId: asking.coopId, memberId: asking.memberId } },
  })
  if (found === null) return null
  const { signInName, mail, passwordHash, passwordChangedAt } = found
  return { signInName, mail, hasPassword: passwordHash !== null, passwordChangedAt }
}

/** When the session was begun by which somebody is asking; null for a program. */
export async function findOwnSessionBegun(prisma: TransactionClient, { via }: Asking): Promise<Date | null> {
  if (via.kind !== 'session') return null
  const found = await prisma.session.findUnique({ where: { id: via.id }, select: { createdAt: true } })
  return found?.createdAt ?? null
}

/** Changes how somebody is called in the co-op. */
export async function setOwnName(transaction: TransactionClient, asking: Asking, name: string): Promise<void> {
  await transaction.member.update({
    where: { coopId_id: { coopId: asking.coopId, id: memberOf(asking) } },
    data: { name },
  })
}

/** Changes sign-in name and mail of an account; what somebody else has is refused at its field. */
export async function setSignInNames(
  transaction: TransactionClient,
  names: Pick<NewAccount, 'coopId' | 'memberId' | 'signInName' | 'mail'>,
): Promise<void> {
  const { coopId, memberId, signInName, mail } = names
  await refuseTaken(transaction, names)
  try {
    await transaction.account.update({
      where: { coopId_memberId: { coopId, memberId } },
      data: { signInName, mail },
    })
  } catch (error) {
    if (isUniqueViolation(error)) throw taken('signInName')
    throw error
  }
}

/** Sets a new password (hashed), and takes back the links by which it could have been reset. */
export async function setPassword(
  transaction: TransactionClient,
  { coopId, memberId }: { coopId: string; memberId: string },
  passwordHash: string,
  now: Date,
): Promise<void> {
  await transaction.account.update({
    where: { coopId_memberId: { coopId, memberId } },
    data: { passwordHash, passwordChangedAt: now },
  })
  await transaction.invitation.updateMany({
    where: { coopId, memberId, kind: 'reset', usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  })
}

async function refuseTaken(
  transaction: TransactionClient,
  { coopId, memberId, signInName, mail }: Pick<NewAccount, 'coopId' | 'memberId' | 'signInName' | 'mail'>,
): Promise<void> {
  const others = await transaction.account.findMany({
    where: {
      OR: [{ signInName }, ...(mail === null ? [] : [{ mail }])],
      NOT: { coopId, memberId },
    },
    select: { signInName: true },
  })
  if (others.some((one) => one.signInName === signInName)) throw taken('signInName')
  if (others.length > 0) throw taken('mail')
}

function taken(field: 'signInName' | 'mail') {
  const words =
    field === 'mail' ? 'Somebody has this mail address already' : 'Somebody has this name already: choose another'
  return refused(words, { [field]: words })
}
