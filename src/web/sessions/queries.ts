import type { Member, Session } from '../../db/generated/client.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking, CoopWays, Via } from '../asking.ts'
import { unitsOf } from '../queries.ts'
import { roleOf } from '../roles.ts'
import { hashOfSecret } from './secrets.ts'

type CoopRow = Omit<CoopWays, 'units'> & { units: string; demonstration: boolean }

/** How long a session lasts without use and at most, in days: of a person, and of a kitchen screen. */
export const lifetimes = {
  person: { idleDays: 14, days: 90 },
  screen: { idleDays: 30, days: 365 },
} as const

const DAY_MS = 86_400_000
/** The last use is noted this exactly, so that looking at pages writes nothing most of the time. */
export const USE_NOTED_EVERY_MS = 5 * 60_000

/** What a session is begun with. */
export type NewSession = {
  id: string
  /** handed to the browser, kept as a hash alone */
  token: string
  coopId: string
  /** null: a kitchen screen */
  memberId: string | null
  device: string
}

/** Begins a session. The times follow `lifetimes`. */
export async function beginSession(prisma: TransactionClient, session: NewSession, now: Date): Promise<void> {
  const { token, ...rest } = session
  const { days } = lifetimes[session.memberId === null ? 'screen' : 'person']
  const expiresAt = new Date(now.getTime() + days * DAY_MS)
  await prisma.session.create({
    data: { ...rest, tokenHash: hashOfSecret(token), createdAt: now, lastUsedAt: now, expiresAt },
  })
}

/** Ends the session of this token; nothing for one that is not. */
export async function endSession(prisma: TransactionClient, token: string): Promise<void> {
  await prisma.session.deleteMany({ where: { tokenHash: hashOfSecret(token) } })
}

/**
 * Ends the sessions of a member, save the one of this id where one is given.
 *
 * @returns how many there were
 */
export async function endSessionsOf(
  prisma: TransactionClient,
  { coopId, memberId }: { coopId: string; memberId: string },
  exceptId?: string,
): Promise<number> {
  const where = { coopId, memberId, ...(exceptId === undefined ? {} : { id: { not: exceptId } }) }
  return (await prisma.session.deleteMany({ where })).count
}

/** A device on which somebody is signed in. */
export type SessionRow = { id: string; device: string; createdAt: Date; lastUsedAt: Date }

/** The sessions of a member that hold, those used last first. */
export async function listSessionsOf(
  prisma: TransactionClient,
  { coopId, memberId }: { coopId: string; memberId: string },
  now: Date,
): Promise<SessionRow[]> {
  const rows = await prisma.session.findMany({
    where: { coopId, memberId },
    orderBy: [{ lastUsedAt: 'desc' }, { createdAt: 'desc' }, { id: 'asc' }],
  })
  return rows
    .filter((row) => !isOver(row, now))
    .map(({ id, device, createdAt, lastUsedAt }) => ({ id, device, createdAt, lastUsedAt }))
}

/** Ends one session of a member by its id: how many that was, 0 for one that is not theirs. */
export async function endSessionById(
  prisma: TransactionClient,
  { coopId, memberId }: { coopId: string; memberId: string },
  id: string,
): Promise<number> {
  return (await prisma.session.deleteMany({ where: { id, coopId, memberId } })).count
}

/** Whether this browser was signed in as this member, be it that its session is over; its id, else null. */
export async function findSessionOf(
  prisma: TransactionClient,
  token: string,
  { coopId, memberId }: { coopId: string; memberId: string },
): Promise<string | null> {
  const found = await prisma.session.findUnique({ where: { tokenHash: hashOfSecret(token), coopId, memberId } })
  return found?.id ?? null
}

/** Takes away the sessions that are over: called now and then, they open nothing any more. */
export async function sweepSessions(prisma: TransactionClient, now: Date): Promise<void> {
  const idleSince = (kind: keyof typeof lifetimes) => new Date(now.getTime() - lifetimes[kind].idleDays * DAY_MS)
  await prisma.session.deleteMany({
    where: {
      OR: [
        { expiresAt: { lte: now } },
        { memberId: null, lastUsedAt: { lt: idleSince('screen') } },
        { memberId: { not: null }, lastUsedAt: { lt: idleSince('person') } },
      ],
    },
  })
}

/** Who has this token: null when there is no such session, or it is over. Notes its use when the last one is a while ago. */
export async function askingBySession(prisma: TransactionClient, token: string, now: Date): Promise<Asking | null> {
  // every request asks for this, and by Prisma's models it would be three queries
  const [found] = await prisma.$queryRaw<AskingRow[]>`
    SELECT s."id" AS "sessionId", s."memberId", s."device", s."lastUsedAt", s."expiresAt", m."name" AS "member",
      m."householdId", m."role", m."leftAt", m."units" AS "own", c."id", c."name", c."town", c."altitudeM", c."timeZone",
      c."locale", c."units", c."currency", c."demonstration"
    FROM "Session" s JOIN "Coop" c ON c."id" = s."coopId"
    LEFT JOIN "Member" m ON m."coopId" = s."coopId" AND m."id" = s."memberId"
    WHERE s."tokenHash" = ${hashOfSecret(token)}`
  if (found === undefined || isOver(found, now)) return null
  if (now.getTime() - found.lastUsedAt.getTime() > USE_NOTED_EVERY_MS) {
    await prisma.session.updateMany({ where: { id: found.sessionId }, data: { lastUsedAt: now } })
  }
  const via: Via = { kind: 'session', id: found.sessionId }
  const { memberId, member, householdId, role } = found
  if (memberId === null) return askingScreen(found, found.device, via)
  if (member === null || role === null || found.leftAt !== null) return null
  return {
    coopId: found.id,
    memberId,
    householdId,
    name: member,
    role: roleOf(role),
    via,
    coop: waysOf(found, found.own),
  }
}

type AskingRow = CoopRow & {
  sessionId: string
  memberId: string | null
  device: string
  lastUsedAt: Date
  expiresAt: Date
  member: string | null
  householdId: string | null
  role: string | null
  leftAt: Date | null
  own: string | null
}

/** Who has this API token: null when there is none, it is over or was taken back. */
export async function askingByToken(prisma: TransactionClient, token: string, now: Date): Promise<Asking | null> {
  const found = await prisma.apiToken.findUnique({
    where: { secretHash: hashOfSecret(token) },
    include: { coop: true, member: true },
  })
  if (found === null || found.revokedAt !== null || found.expiresAt <= now || found.member.leftAt !== null) return null
  if (now.getTime() - (found.lastUsedAt?.getTime() ?? 0) > USE_NOTED_EVERY_MS) {
    await prisma.apiToken.updateMany({ where: { coopId: found.coopId, id: found.id }, data: { lastUsedAt: now } })
  }
  const scope = found.scope === 'write' ? 'write' : 'read'
  return askingMember(found.coop, found.member, { kind: 'token', id: found.id, scope })
}

/** A session is over at its end, and when it was not used for as long as its kind may rest. */
export function isOver(session: Pick<Session, 'memberId' | 'lastUsedAt' | 'expiresAt'>, now: Date): boolean {
  const { idleDays } = lifetimes[session.memberId === null ? 'screen' : 'person']
  return session.expiresAt <= now || now.getTime() - session.lastUsedAt.getTime() > idleDays * DAY_MS
}

/** A member as one who asks. */
export function askingMember(coop: CoopRow, member: Member, via: Via): Asking {
  return {
    coopId: coop.id,
    memberId: member.id,
    householdId: member.householdId,
    name: member.name,
    role: roleOf(member.role),
    via,
    coop: waysOf(coop, member.units),
  }
}

function askingScreen(coop: CoopRow, name: string, via: Via): Asking {
  return { coopId: coop.id, memberId: null, householdId: null, name, role: 'screen', via, coop: waysOf(coop, null) }
}

function waysOf(coop: CoopRow, ownUnits: string | null): CoopWays {
  const { id, name, town, altitudeM, timeZone, locale, units, currency, demonstration } = coop
  return {
    id,
    name,
    town,
    altitudeM,
    timeZone,
    locale,
    units: unitsOf(ownUnits) ?? unitsOf(units) ?? 'metric',
    currency,
    demonstration,
  }
}

/** The first steward there is, for what the service begins by itself; null while there is none. */
export async function findSteward(prisma: TransactionClient): Promise<Asking | null> {
  const found = await prisma.member.findFirst({
    where: { role: 'steward', leftAt: null },
    include: { coop: true },
    orderBy: [{ coop: { createdAt: 'asc' } }, { coopId: 'asc' }, { id: 'asc' }],
  })
  return found === null ? null : askingMember(found.coop, found, { kind: 'inside' })
}
