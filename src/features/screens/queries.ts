import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { noteEvent } from '../../web/events.ts'
import { isOver } from '../../web/sessions/index.ts'
import type { Writing } from '../changes/index.ts'
import { codeMinutes } from './codes.ts'

/** A tablet on the wall: its session, by the name it was given. */
export type Screen = { id: string; name: string; since: Date; lastUsedAt: Date }
/** A code that was made, without the code. */
export type Pairing = { id: string; name: string; madeBy: string; expiresAt: Date; usedAt: Date | null }

/** The screens that are paired now, by name. */
export async function listScreens(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  now: Date,
): Promise<Screen[]> {
  const rows = await prisma.session.findMany({
    where: { coopId, memberId: null },
    orderBy: [{ device: 'asc' }, { id: 'asc' }],
  })
  return rows.filter((row) => !isOver(row, now)).map(screenOf)
}

export async function findScreen(prisma: TransactionClient, { coopId }: Asking, id: string): Promise<Screen> {
  const row = await prisma.session.findFirst({ where: { coopId, id, memberId: null } })
  if (row === null) throw notFound('such screen')
  return screenOf(row)
}

function screenOf({
  id,
  device,
  createdAt,
  lastUsedAt,
}: {
  id: string
  device: string
  createdAt: Date
  lastUsedAt: Date
}): Screen {
  return { id, name: device, since: createdAt, lastUsedAt }
}

/** Ends a screen's session: its next request is nobody's. */
export async function removeScreen(writing: Writing, id: string): Promise<void> {
  const { transaction, asking, now, newId } = writing
  const { coopId, name: who, memberId } = asking
  const { name } = await findScreen(transaction, asking, id)
  const { count } = await transaction.session.deleteMany({ where: { coopId, id, memberId: null } })
  if (count === 0) return
  const event = { kind: 'screen-removed', coopId, memberId, who, what: `screen ${name} removed` } as const
  await noteEvent(transaction, event, { now, newId })
}

/**
 * Notes a code for a new screen. Refused where a screen of this name is there already, or waits for its code: ticks are
 * told by that name.
 */
export async function addPairing(
  writing: Writing,
  { name, codeHash }: { name: string; codeHash: string },
): Promise<Pairing> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  const same = (other: string) => other.toLowerCase() === name.toLowerCase()
  if ((await listScreens(transaction, asking, now)).some((screen) => same(screen.name))) {
    const problem = 'A screen has this name already. Choose another, or remove that screen first'
    throw refused(problem, { name: problem })
  }
  await transaction.pairing.deleteMany({ where: { coopId, expiresAt: { lt: now } } })
  const waiting = (await transaction.pairing.findMany({ where: { coopId, usedAt: null } })).filter((one) =>
    same(one.name),
  )
  // a code that was mislaid opens nothing once there is a new one
  await transaction.pairing.deleteMany({ where: { coopId, id: { in: waiting.map(({ id }) => id) } } })
  const expiresAt = new Date(now.getTime() + codeMinutes * 60_000)
  return transaction.pairing.create({
    data: { coopId, id: newId(), name, codeHash, madeBy: asking.name, madeAt: now, expiresAt },
  })
}

/** A code that was made, with whether this is its hash; throws not-found for another co-op's. */
export async function findPairing(
  prisma: TransactionClient,
  { coopId }: Asking,
  id: string,
): Promise<Pairing & { codeHash: string }> {
  const row = await prisma.pairing.findUnique({ where: { coopId_id: { coopId, id } } })
  if (row === null) throw notFound('such code')
  return row
}

/**
 * Uses a code up, by its hash alone: nobody is known who types it. Of two at the same moment one gets it.
 *
 * @returns the screen's co-op and name; null for a code that was never made, was used or is over
 */
export async function usePairing(
  transaction: TransactionClient,
  codeHash: string,
  { now, newId }: Pick<Writing, 'now' | 'newId'>,
): Promise<{ coopId: string; name: string } | null> {
  const { count } = await transaction.pairing.updateMany({
    where: { codeHash, usedAt: null, expiresAt: { gt: now } },
    data: { usedAt: now },
  })
  if (count === 0) return null
  const { coopId, name, madeBy } = await transaction.pairing.findUniqueOrThrow({ where: { codeHash } })
  const what = `screen ${name} paired with the code that ${madeBy} made`
  await noteEvent(transaction, { kind: 'screen-paired', coopId, memberId: null, who: name, what }, { now, newId })
  return { coopId, name }
}
