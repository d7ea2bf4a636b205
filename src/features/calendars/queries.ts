import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { findHelper } from '../helpers/queries.ts'

/** An address for calendar programs; what its secret is, nobody knows any more. `helperName` null: slow jobs. */
export type CalendarLink = {
  id: string
  helperId: string | null
  helperName: string | null
  madeBy: string
  createdAt: Date
  revokedAt: Date | null
  readAt: Date | null
}
/** Whose calendar an address leads to. */
export type FeedOf = {
  coop: { id: string; name: string; timeZone: string }
  helperId: string | null
  helperName: string | null
}

/** All addresses, the newest first, those taken back too. */
export async function listCalendars(prisma: TransactionClient, asking: Asking): Promise<CalendarLink[]> {
  const rows = await prisma.calendarLink.findMany({
    where: { coopId: asking.coopId },
    select: shown,
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
  })
  return rows.map(fromRow)
}

export async function findCalendar(prisma: TransactionClient, asking: Asking, id: string): Promise<CalendarLink> {
  const row = await prisma.calendarLink.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id } },
    select: shown,
  })
  if (row === null) throw notFound('such calendar')
  return fromRow(row)
}

/** Whether this is the hash of the address's secret. */
export async function isHashOf(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
  secretHash: string,
): Promise<boolean> {
  return (await prisma.calendarLink.count({ where: { coopId: asking.coopId, id, secretHash } })) === 1
}

/** Makes an address for a helper's work, or for the slow jobs (`helperId` null). Refused for a helper not of this co-op. */
export async function addCalendar(
  writing: Writing,
  { helperId, secretHash }: { helperId: string | null; secretHash: string },
): Promise<CalendarLink> {
  const { transaction, asking, now, newId } = writing
  const id = newId()
  if (helperId !== null) await findHelper(transaction, asking, helperId)
  await transaction.calendarLink.create({
    data: { coopId: asking.coopId, id, helperId, secretHash, madeBy: asking.name, createdAt: now },
  })
  const made = await findCalendar(transaction, asking, id)
  await noteChange(writing, 'calendars', id, `address for ${made.helperName ?? 'slow jobs'} made`)
  return made
}

/** From now on the address leads nowhere. One that was taken back before stays as it is. */
export async function revokeCalendar(writing: Writing, id: string): Promise<void> {
  const { transaction, asking, now } = writing
  const { helperName } = await findCalendar(transaction, asking, id)
  const { count } = await transaction.calendarLink.updateMany({
    where: { coopId: asking.coopId, id, revokedAt: null },
    data: { revokedAt: now },
  })
  if (count > 0) await noteChange(writing, 'calendars', id, `address for ${helperName ?? 'slow jobs'} taken back`)
}

/**
 * Whose calendar it is, by the hash of the secret alone: nobody is known who asks. Throws not-found in the same words,
 * after the same one look, for a secret that never was and for one taken back.
 */
export async function findFeed(prisma: TransactionClient, secretHash: string): Promise<FeedOf> {
  const row = await prisma.calendarLink.findUnique({
    where: { secretHash, revokedAt: null },
    select: {
      helperId: true,
      coop: { select: { id: true, name: true, timeZone: true } },
      helper: { select: { name: true } },
    },
  })
  if (row === null) throw notFound('such calendar')
  return { coop: row.coop, helperId: row.helperId, helperName: row.helper?.name ?? null }
}

/** Notes that a program read the address just now: all that a reading leaves behind. */
export async function noteReading(prisma: TransactionClient, secretHash: string, now: Date): Promise<void> {
  await prisma.calendarLink.updateMany({ where: { secretHash, revokedAt: null }, data: { readAt: now } })
}

const shown = {
  id: true,
  helperId: true,
  madeBy: true,
  createdAt: true,
  revokedAt: true,
  readAt: true,
  helper: { select: { name: true } },
} as const

type Row = Omit<CalendarLink, 'helperName'> & { helper: { name: string } | null }

function fromRow({ helper, ...row }: Row): CalendarLink {
  return { ...row, helperName: helper?.name ?? null }
}
