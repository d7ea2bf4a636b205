import { isUniqueViolation } from '../../db/errors.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, notFound, refused } from '../../errors.ts'
import { type Asking, memberOf } from '../../web/asking.ts'
import { noteEvent } from '../../web/events.ts'
import { hashOfSecret } from '../../web/sessions/index.ts'
import { doorKey } from '../../web/tries.ts'
import type { Writing } from '../changes/index.ts'

/** A passkey as its owner sees it. Credential ids are long: addresses have a part of their hash. */
export type Passkey = { id: string; credentialId: string; name: string; createdAt: Date; lastUsedAt: Date | null }
/** What verifying takes, and whose it is. */
export type Credential = {
  id: string
  publicKey: Uint8Array<ArrayBuffer>
  counter: number
  transports: string[]
  coopId: string
  memberId: string
  memberName: string
  handle: string
}

/** The account of whoever is asking, as a passkey is bound to it; null for one who has none. */
export async function findHolder(
  prisma: TransactionClient,
  asking: Asking,
): Promise<{ handle: string; signInName: string; hasPassword: boolean } | null> {
  const found = await prisma.account.findUnique({ where: { coopId_memberId: ownOf(asking) } })
  if (found === null) return null
  return { handle: found.handle, signInName: found.signInName, hasPassword: found.passwordHash !== null }
}

/** One's own, the newest first. */
export async function listPasskeys(prisma: TransactionClient, asking: Asking): Promise<Passkey[]> {
  const rows = await prisma.passkey.findMany({ where: ownOf(asking), orderBy: [{ createdAt: 'desc' }, { id: 'asc' }] })
  return rows.map(({ id, name, createdAt, lastUsedAt }) => ({
    id: hashOfSecret(id).slice(0, 24),
    credentialId: id,
    name,
    createdAt,
    lastUsedAt,
  }))
}

export async function findPasskey(prisma: TransactionClient, asking: Asking, id: string): Promise<Passkey> {
  const found = (await listPasskeys(prisma, asking)).find((one) => one.id === id)
  if (found === undefined) throw notFound('such passkey')
  return found
}

/** Keeps a passkey that was verified. One that somebody has already is a conflict. */
export async function addPasskey(
  writing: Writing,
  {
    name,
    credential,
  }: {
    name: string
    credential: { id: string; publicKey: Uint8Array<ArrayBuffer>; counter: number; transports?: readonly string[] }
  },
): Promise<void> {
  const { transaction, asking, now, newId } = writing
  const { id, publicKey, counter, transports = [] } = credential
  try {
    await transaction.passkey.create({
      data: {
        ...ownOf(asking),
        id,
        publicKey,
        counter: BigInt(counter),
        transports: transports.join(','),
        name,
        createdAt: now,
      },
    })
  } catch (error) {
    if (isUniqueViolation(error)) throw conflict('This passkey is known here already.')
    throw error
  }
  const { coopId, memberId, name: who } = asking
  const what = `passkey ${name} added`
  await noteEvent(transaction, { kind: 'passkey-added', coopId, memberId, who, what }, { now, newId })
}

/** Removes one's own passkey. Refused where it is the only way in. */
export async function removePasskey(writing: Writing, id: string): Promise<void> {
  const { transaction, asking, now, newId } = writing
  const { credentialId, name } = await findPasskey(transaction, asking, id)
  if (await isOnlyWayIn(transaction, asking)) throw refused(onlyWayIn)
  const { count } = await transaction.passkey.deleteMany({ where: { ...ownOf(asking), id: credentialId } })
  if (count === 0) return
  const { coopId, memberId, name: who } = asking
  const what = `passkey ${name} removed`
  await noteEvent(transaction, { kind: 'passkey-removed', coopId, memberId, who, what }, { now, newId })
}

export const onlyWayIn = 'It is the only way in that you have. Choose a password first, or add another passkey.'

/** There is one passkey, and no password. */
export async function isOnlyWayIn(prisma: TransactionClient, asking: Asking): Promise<boolean> {
  const holder = await findHolder(prisma, asking)
  return holder?.hasPassword === false && (await prisma.passkey.count({ where: ownOf(asking) })) < 2
}

/** The credential of this id, whosever it is; null for none, and for one of somebody who left. */
export async function findCredential(prisma: TransactionClient, id: string): Promise<Credential | null> {
  const found = await prisma.passkey.findFirst({
    where: { id, account: { member: { leftAt: null } } },
    include: { account: { select: { handle: true, member: { select: { name: true } } } } },
  })
  if (found === null) return null
  const { publicKey, counter, transports, coopId, memberId, account } = found
  return {
    id,
    publicKey: new Uint8Array(publicKey),
    counter: Number(counter),
    transports: transports === '' ? [] : transports.split(','),
    coopId,
    memberId,
    memberName: account.member.name,
    handle: account.handle,
  }
}

/** Notes a use. false: the same counter was used meanwhile, so one of the two is a copy. */
export async function noteUse(
  transaction: TransactionClient,
  { id, counter }: Credential,
  newCounter: number,
  now: Date,
): Promise<boolean> {
  const { count } = await transaction.passkey.updateMany({
    where: { id, counter: BigInt(counter) },
    data: { counter: BigInt(newCounter), lastUsedAt: now },
  })
  return count === 1
}

/** Marks a challenge as answered, among the tries at doors; false where it was before. Forgotten with them, after a day. */
export async function useUp(prisma: TransactionClient, challenge: string, now: Date): Promise<boolean> {
  const data = [{ key: doorKey('passkey challenge', challenge), count: 1, lastAt: now }]
  return (await prisma.attempt.createMany({ data, skipDuplicates: true })).count === 1
}

function ownOf(asking: Asking): { coopId: string; memberId: string } {
  return { coopId: asking.coopId, memberId: memberOf(asking) }
}
