import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict, notFound, refused } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteEvent } from '../../../web/events.ts'
import { type PersonRole, roleInWords, roleOf } from '../../../web/roles.ts'
import type { Writing } from '../../changes/index.ts'
import { findPerson, householdName } from '../queries.ts'
import { type PasswordAgain, refuseWithoutPassword } from '../stewards.ts'

const DAY_MS = 86_400_000
/** How long an invitation may hold, in days. */
export const invitationDays = [1, 7, 30] as const
/** How long a link for a new password holds, in days. */
const RESET_DAYS = 1

/** How many links may be open at once in a co-op; our choice, far above what a co-op needs. */
const MOST_OPEN = 100

/** How far it is with a link that lets somebody in. */
export type InvitationState = 'open' | 'used' | 'taken-back' | 'over'
export type Invitation = {
  id: string
  /** join: into the co-op; reset: to a new password */
  kind: 'join' | 'reset'
  forName: string
  /** A member who is there already; null: somebody new. */
  memberId: string | null
  role: PersonRole | null
  householdName: string | null
  madeBy: string
  madeAt: Date
  expiresAt: Date
  state: InvitationState
  /** When it was used or taken back. */
  endedAt: Date | null
  /** null: not sent by mail */
  mailing: 'sending' | 'sent' | 'failed' | null
}

/** What every link is made with: the hash of its secret, and whether it goes by mail as well. */
export type Sealed = { secretHash: string; byMail: boolean }
/** Whom to invite: somebody new, into a household that is there or a new one of this name. */
export type Invited = {
  forName: string
  role: PersonRole
  household: { id: string } | { name: string }
  days: number
}

/** All links, the newest first, those that hold no more too. */
export async function listInvitations(prisma: TransactionClient, asking: Asking, now: Date): Promise<Invitation[]> {
  const rows = await prisma.invitation.findMany({
    where: { coopId: asking.coopId },
    orderBy: [{ madeAt: 'desc' }, { id: 'asc' }],
  })
  const names = await namesOf(prisma, asking, rows)
  return rows.map((row) => fromRow(row, names, now))
}

export async function findInvitation(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
  now: Date,
): Promise<Invitation> {
  const row = await prisma.invitation.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } } })
  if (row === null) throw notFound('such invitation')
  return fromRow(row, await namesOf(prisma, asking, [row]), now)
}

/** Whether this is the hash of the link's secret. */
export async function isHashOf(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
  secretHash: string,
): Promise<boolean> {
  return (await prisma.invitation.count({ where: { coopId: asking.coopId, id, secretHash } })) === 1
}

/** Invites somebody new. Refused at `household` for one that is not there, or a new one whose name is taken. */
export async function inviteSomebody(
  writing: Writing,
  { forName, role, household, days }: Invited,
  sealed: Sealed,
  again: PasswordAgain,
): Promise<Invitation> {
  const { transaction, asking } = writing
  const words = 'Choose the household'
  const name = 'name' in household ? household.name : await householdName(transaction, asking, household.id)
  if (name === null) throw refused(words, { household: words })
  if ('name' in household) {
    const taken = 'There is a household of that name already: choose it above'
    const same = { coopId_name: { coopId: asking.coopId, name } }
    if ((await transaction.household.findUnique({ where: same })) !== null)
      throw refused(taken, { newHousehold: taken })
  }
  if (role === 'steward') refuseWithoutPassword(again, asking)
  const what = `${forName} invited as ${roleInWords(role)} into household ${name}, for ${daysInWords(days)}`
  return insert(writing, sealed, {
    kind: 'join',
    forName,
    role,
    memberId: null,
    ...('id' in household ? { householdId: household.id, household: null } : { householdId: null, household: name }),
    days,
    what,
  })
}

/** Invites a member who is there and has no account. Invitations made for the same one before lead nowhere from then on. */
export async function inviteMember(
  writing: Writing,
  memberId: string,
  days: number,
  sealed: Sealed,
  again: PasswordAgain,
): Promise<Invitation> {
  const { transaction, asking } = writing
  const person = await findPerson(transaction, asking, memberId)
  if (person.signInName !== null) throw conflict(`${person.name} has an account already.`)
  if (person.role === 'steward') refuseWithoutPassword(again, asking)
  await takeBackFor(writing, memberId)
  const { name, role, householdId } = person
  const what = `${name}, who is there as ${roleInWords(role)}, invited for ${daysInWords(days)}`
  return insert(writing, sealed, {
    kind: 'join',
    forName: name,
    role,
    memberId,
    householdId,
    household: null,
    days,
    what,
  })
}

/** Begins a new password for a member who has an account: the member chooses it, nobody else ever sees it. */
export async function beginReset(
  writing: Writing,
  memberId: string,
  sealed: Sealed,
  again: PasswordAgain,
): Promise<Invitation> {
  const { transaction, asking } = writing
  const { name, role, signInName } = await findPerson(transaction, asking, memberId)
  if (signInName === null) throw conflict(`${name} has no account yet: make an invitation instead.`)
  if (role === 'steward') refuseWithoutPassword(again, asking)
  await takeBackFor(writing, memberId)
  const what = `a link for a new password made for ${name}`
  const no = { role: null, householdId: null, household: null }
  return insert(writing, sealed, { kind: 'reset', forName: name, memberId, ...no, days: RESET_DAYS, what })
}

/** From now on the link leads nowhere. One that was used or taken back before stays as it is. */
export async function takeBackInvitation(writing: Writing, id: string): Promise<void> {
  const { transaction, asking, now } = writing
  const { forName, kind } = await findInvitation(transaction, asking, id, now)
  const { count } = await transaction.invitation.updateMany({
    where: { coopId: asking.coopId, id, usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  })
  if (count === 0) return
  const what =
    kind === 'join' ? `invitation of ${forName} taken back` : `link for a new password of ${forName} taken back`
  const { coopId, memberId, name: who } = asking
  await noteEvent(transaction, { kind: 'invitation-taken-back', coopId, who, memberId, what }, writing)
}

/** Keeps what came of sending it by mail. */
export async function noteMailing(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
  mailing: 'sent' | 'failed',
): Promise<void> {
  await prisma.invitation.updateMany({ where: { coopId, id }, data: { mailing } })
}

export const daysInWords = (days: number): string => (days === 1 ? 'a day' : `${days} days`)

type New = {
  kind: 'join' | 'reset'
  forName: string
  role: PersonRole | null
  memberId: string | null
  householdId: string | null
  household: string | null
  days: number
  what: string
}

async function insert(writing: Writing, { secretHash, byMail }: Sealed, made: New): Promise<Invitation> {
  const { transaction, asking, now, newId } = writing
  const { what, days, ...data } = made
  const { coopId, memberId, name: who } = asking
  const id = newId()
  const open = await transaction.invitation.count({
    where: { coopId, usedAt: null, revokedAt: null, expiresAt: { gt: now } },
  })
  if (open >= MOST_OPEN) throw conflict(`There are ${MOST_OPEN} open links already: take back those that nobody needs.`)
  await transaction.invitation.create({
    data: {
      ...data,
      coopId,
      id,
      secretHash,
      madeBy: who,
      madeAt: now,
      expiresAt: new Date(now.getTime() + days * DAY_MS),
      mailing: byMail ? 'sending' : null,
    },
  })
  const kind = made.kind === 'join' ? 'invited' : 'reset-begun'
  await noteEvent(transaction, { kind, coopId, who, memberId, what }, writing)
  return findInvitation(transaction, asking, id, now)
}

/** The newest link counts: older ones for the same member are taken back. */
async function takeBackFor({ transaction, asking, now }: Writing, memberId: string): Promise<void> {
  await transaction.invitation.updateMany({
    where: { coopId: asking.coopId, memberId, usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  })
}

type Row = {
  id: string
  kind: string
  forName: string
  memberId: string | null
  role: string | null
  householdId: string | null
  household: string | null
  madeBy: string
  madeAt: Date
  expiresAt: Date
  usedAt: Date | null
  revokedAt: Date | null
  mailing: string | null
}

/** Names of the households that links lead into, by id. */
async function namesOf(prisma: TransactionClient, asking: Asking, rows: readonly Row[]): Promise<Map<string, string>> {
  const ids = rows.flatMap(({ householdId }) => (householdId === null ? [] : [householdId]))
  if (ids.length === 0) return new Map()
  const found = await prisma.household.findMany({
    where: { coopId: asking.coopId, id: { in: ids } },
    select: { id: true, name: true },
  })
  return new Map(found.map(({ id, name }) => [id, name]))
}

function fromRow(row: Row, names: ReadonlyMap<string, string>, now: Date): Invitation {
  const { id, forName, memberId, role, householdId, household, madeBy, madeAt, expiresAt, usedAt, revokedAt } = row
  return {
    id,
    kind: row.kind === 'reset' ? 'reset' : 'join',
    forName,
    memberId,
    role: role === null ? null : roleOf(role),
    householdName: householdId === null ? household : (names.get(householdId) ?? null),
    madeBy,
    madeAt,
    expiresAt,
    state: stateOf(row, now),
    endedAt: usedAt ?? revokedAt,
    mailing: mailings.find((one) => one === row.mailing) ?? null,
  }
}

const mailings = ['sending', 'sent', 'failed'] as const

function stateOf({ usedAt, revokedAt, expiresAt }: Row, now: Date): InvitationState {
  if (usedAt !== null) return 'used'
  if (revokedAt !== null) return 'taken-back'
  return expiresAt <= now ? 'over' : 'open'
}
