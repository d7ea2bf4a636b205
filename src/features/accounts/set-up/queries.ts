import type { UnitSystem } from '../../../core/units/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { refused } from '../../../errors.ts'
import type { NewId } from '../../../ids.ts'
import type { Entrant } from '../queries.ts'
import { hashOfSetUpCode } from './code.ts'

/** A steward of a co-op that is older than accounts: nobody there can sign in yet. */
export type Locked = Entrant & { coopName: string }
/** What a co-op is founded with. */
export type Founding = {
  name: string
  town: string
  altitudeM: number
  timeZone: string
  locale: string
  units: UnitSystem
  currency: string
  household: string
  people: number
  steward: string
}

/** Whether there is a co-op that is not made up. */
export async function hasOwnCoop(prisma: TransactionClient): Promise<boolean> {
  return (await prisma.coop.findFirst({ where: { demonstration: false }, select: { id: true } })) !== null
}

/** The first steward of the first co-op in which no steward has an account; null where there is none. */
export async function findLocked(prisma: TransactionClient): Promise<Locked | null> {
  const steward = { role: 'steward', leftAt: null }
  const coop = await prisma.coop.findFirst({
    where: {
      demonstration: false,
      members: { some: steward },
      NOT: { members: { some: { ...steward, account: { isNot: null } } } },
    },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: { id: true, name: true, members: { where: steward, orderBy: { id: 'asc' }, take: 1 } },
  })
  const member = coop?.members[0]
  if (!coop || !member) return null
  return { coopId: coop.id, coopName: coop.name, memberId: member.id, name: member.name }
}

/** A code that nobody used and that has not run out. */
function usable(now: Date) {
  return { usedAt: null, OR: [{ expiresAt: null }, { expiresAt: { gt: now } }] }
}

/** Whether any code could found a co-op now. */
export async function hasUsableCode(prisma: TransactionClient, now: Date): Promise<boolean> {
  return (await prisma.setUpCode.findFirst({ where: usable(now), select: { codeHash: true } })) !== null
}

/** Whether this very code could. */
export async function isUsableCode(prisma: TransactionClient, code: string, now: Date): Promise<boolean> {
  const found = await prisma.setUpCode.findFirst({ where: { codeHash: hashOfSetUpCode(code), ...usable(now) } })
  return found !== null
}

/** Notes a code; one that was used before stays used. `expiresAt` null: it holds until a co-op is founded. */
export async function addCode(
  prisma: TransactionClient,
  code: string,
  { now, expiresAt }: { now: Date; expiresAt: Date | null },
): Promise<void> {
  const codeHash = hashOfSetUpCode(code)
  await prisma.setUpCode.createMany({ data: [{ codeHash, madeAt: now, expiresAt }], skipDuplicates: true })
}

/** Takes away codes that were made before this instant and that nobody used. */
export async function dropCodes(prisma: TransactionClient, madeBefore: Date): Promise<void> {
  await prisma.setUpCode.deleteMany({ where: { usedAt: null, madeAt: { lt: madeBefore } } })
}

/** Uses a code up, and with it all others: the door that it opened is closed. Refused at its field when it is not usable any more. */
export async function useCode(transaction: TransactionClient, code: string, now: Date): Promise<void> {
  const { count } = await transaction.setUpCode.updateMany({
    where: { codeHash: hashOfSetUpCode(code), ...usable(now) },
    data: { usedAt: now },
  })
  if (count === 0) throw refused(wrongCode, { setUpCode: wrongCode })
  await transaction.setUpCode.updateMany({ where: { usedAt: null }, data: { usedAt: now } })
}

/** Beside the field of a code that is not usable. */
export const wrongCode = 'This is not the code, or it was used or has run out. Look at what the service printed last'

/** Writes a co-op with its first household and its first steward. */
export async function found(transaction: TransactionClient, founding: Founding, newId: NewId): Promise<Entrant> {
  const { household, people, steward, ...coop } = founding
  const [coopId, householdId, memberId] = [newId(), newId(), newId()]
  await transaction.coop.create({ data: { id: coopId, ...coop } })
  await transaction.household.create({ data: { coopId, id: householdId, name: household, people } })
  await transaction.member.create({ data: { coopId, id: memberId, householdId, name: steward, role: 'steward' } })
  return { coopId, memberId, name: steward }
}
