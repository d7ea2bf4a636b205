import type { Prisma } from '../../../../db/generated/client.ts'
import { storedAs } from '../../../../db/stored.ts'
import type { TransactionClient } from '../../../../db/transaction.ts'
import { refused } from '../../../../errors.ts'
import type { Asking } from '../../../../web/asking.ts'
import { noteChange, type Writing } from '../../../changes/index.ts'
import { findTimetable, type TimetableRow, timetableStates } from '../queries.ts'
import { helpsTried, isWhole, readWorth, type WorthAnswer } from './documents.ts'

/** As for a timetable. One that was stopped is done, with less than everything tried. */
export type WorthState = (typeof timetableStates)[number]

/** What further help would be worth to a timetable, as far as somebody has asked. */
export type WorthRow = {
  state: WorthState
  /** null: not begun. */
  answer: WorthAnswer | null
  failure: string | null
  askedBy: string
  startedAt: Date
  finishedAt: Date | null
}

/** Which timetable's helps are tried. */
export type AskedWorth = { coopId: string; timetableId: string; planId: string; number: number }

/**
 * A timetable of the co-op and what was tried for it; `worth` null: nobody has asked. One that was changed by hand leads
 * back to the one that was made from the division, whose plan the division has.
 */
export async function findWorth(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  planId: string,
  number: number,
): Promise<{ timetable: TimetableRow; worth: WorthRow | null }> {
  const timetable = await findTimetable(prisma, { coopId }, planId, number)
  if (timetable.question.from !== null) return findWorth(prisma, { coopId }, planId, timetable.question.from)
  const row = await prisma.timetableWorth.findUnique({
    where: { coopId_timetableId: { coopId, timetableId: timetable.id } },
  })
  if (row === null) return { timetable, worth: null }
  const { state, answer, failure, askedBy, startedAt, finishedAt } = row
  const read = answer === null ? null : readWorth(answer)
  const worth = { state: storedAs(timetableStates, state), answer: read, failure, askedBy, startedAt, finishedAt }
  return { timetable, worth }
}

/**
 * Notes that somebody asks what would help a timetable. What was tried before is kept, and what is left is tried next;
 * `start` null: that is going on already, or nothing is left. `number` is the timetable's that it is noted for.
 * Refused in words for one that is not worked out.
 */
export async function addWorth(
  writing: Writing,
  planId: string,
  number: number,
): Promise<{ number: number; start: AskedWorth | null }> {
  const { transaction, asking, now } = writing
  const { coopId } = asking
  // Adding nothing takes the plan's lock: of two that ask at the same moment the second sees what the first noted.
  await transaction.plan.updateMany({ where: { coopId, id: planId }, data: { version: { increment: 0 } } })
  const { timetable, worth } = await findWorth(transaction, asking, planId, number)
  if (timetable.worked === null) throw refused('This timetable is not worked out: what helps is told of one that is.')
  const noted = { number: timetable.number, start: null }
  if (worth?.state === 'waiting' || worth?.state === 'solving') return noted
  if (worth?.state === 'done' && worth.answer !== null && isWhole(worth.answer)) return noted
  const key = { coopId, timetableId: timetable.id }
  const asked = { state: 'waiting', failure: null, askedBy: asking.name, startedAt: now, finishedAt: null }
  await transaction.timetableWorth.upsert({
    where: { coopId_timetableId: key },
    create: { ...key, ...asked },
    update: asked,
  })
  await noteChange(
    writing,
    'plan',
    planId,
    `${timetable.planName}: what would help timetable ${noted.number} asked for`,
  )
  return { ...noted, start: { ...key, planId, number: noted.number } }
}

/** Ends it with what was tried so far; the id and number of the timetable, so that its thread can be ended. */
export async function saveWorthStop(
  writing: Writing,
  planId: string,
  asked: number,
): Promise<{ id: string; number: number }> {
  const { transaction, asking, now } = writing
  const { id, number, planName } = (await findWorth(transaction, asking, planId, asked)).timetable
  const { count } = await transaction.timetableWorth.updateMany({
    where: { coopId: asking.coopId, timetableId: id, ...open },
    data: { state: 'done', finishedAt: now },
  })
  if (count > 0) {
    await noteChange(writing, 'plan', planId, `${planName}: what would help timetable ${number} stopped`)
  }
  return { id, number }
}

/** Timetables of all co-ops whose helps are still to be tried, in the order in which somebody asked. */
export async function unansweredWorths(prisma: TransactionClient): Promise<{ coopId: string; id: string }[]> {
  const rows = await prisma.timetableWorth.findMany({
    where: open,
    orderBy: [{ startedAt: 'asc' }, { timetableId: 'asc' }],
    select: { coopId: true, timetableId: true },
  })
  return rows.map(({ coopId, timetableId }) => ({ coopId, id: timetableId }))
}

/** Where the timetable is of which helps are still to be tried; null where they were, or somebody has had it end. */
export async function askedWorth(
  prisma: TransactionClient,
  { coopId, id: timetableId }: { coopId: string; id: string },
): Promise<AskedWorth | null> {
  const row = await prisma.timetableWorth.findFirst({
    where: { coopId, timetableId, ...open },
    select: { timetable: { select: { planId: true, number: true } } },
  })
  return row === null ? null : { coopId, timetableId, ...row.timetable }
}

type Key = { coopId: string; timetableId: string }
const open = { state: { in: ['waiting', 'solving'] } }
const keyOf = ({ coopId, timetableId }: Key): Key => ({ coopId, timetableId })

/** Keeps what was tried so far; nothing where it was ended meanwhile. */
export async function saveTries(prisma: TransactionClient, key: Key, answer: WorthAnswer): Promise<void> {
  await prisma.timetableWorth.updateMany({
    where: { ...keyOf(key), ...open },
    data: { state: 'solving', done: helpsTried(answer), answer: asJson(answer) },
  })
}

export async function saveWorth(prisma: TransactionClient, key: Key, answer: WorthAnswer, now: Date): Promise<void> {
  await prisma.timetableWorth.updateMany({
    where: { ...keyOf(key), ...open },
    data: { state: 'done', done: helpsTried(answer), answer: asJson(answer), finishedAt: now },
  })
}

/** @param failure one or two plain sentences: what happened, and what to do */
export async function saveWorthFailure(prisma: TransactionClient, key: Key, failure: string, now: Date): Promise<void> {
  await prisma.timetableWorth.updateMany({
    where: { ...keyOf(key), ...open },
    data: { state: 'failed', failure, finishedAt: now },
  })
}

/** What the database stores: the same without what JSON has no word for, of which it has nothing. */
function asJson(answer: WorthAnswer): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(answer))
}
