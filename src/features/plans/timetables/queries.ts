import { unitSystems } from '../../../core/units/index.ts'
import type { Prisma } from '../../../db/generated/client.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound, refused } from '../../../errors.ts'
import type { TimetableAnswer, WorkedOut } from '../../../jobs/timetable.ts'
import type { Asking, CoopWays } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import { addFittedDivision, findDivision } from '../divisions/queries.ts'
import type { Headline } from '../documents.ts'
import { readWorkedOut } from './documents.ts'

/** waiting: in line; solving: its thread is at it; done: has a schedule that was checked; failed: says why. */
export const timetableStates = ['waiting', 'solving', 'done', 'failed'] as const
export type TimetableState = (typeof timetableStates)[number]

/** What lists show of a timetable. */
export type TimetableLine = {
  number: number
  divisionNumber: number
  state: TimetableState
  askedBy: string
  startedAt: Date
}

export type TimetableRow = TimetableLine & {
  id: string
  coopId: string
  planId: string
  planName: string
  worked: WorkedOut | null
  stopAsked: boolean
  /** While it is worked out: plain words. */
  progress: string | null
  failure: string | null
  /** Number of the division that was asked about, where the clock did not hold it. */
  fittedFrom: number | null
}

/** Notes a timetable of a division that has an answer, as the plan's next. Refused in words for one that has none. */
export async function addTimetable(
  writing: Writing,
  planId: string,
  divisionNumber: number,
): Promise<{ id: string; number: number }> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  const division = await findDivision(transaction, asking, planId, divisionNumber)
  if (division.answer === null) throw refused('This division has no answer yet: its timetable follows from it.')
  // Adding nothing takes the plan's lock and puts back no older version: two that ask at the same moment get two numbers.
  await transaction.plan.updateMany({ where: { coopId, id: planId }, data: { version: { increment: 0 } } })
  const { _max } = await transaction.timetable.aggregate({ where: { coopId, planId }, _max: { number: true } })
  const number = (_max.number ?? 0) + 1
  const id = newId()
  await transaction.timetable.create({
    data: {
      coopId,
      id,
      planId,
      divisionId: division.id,
      number,
      state: 'waiting',
      question: {},
      askedBy: asking.name,
      startedAt: now,
    },
  })
  await noteChange(writing, 'plan', planId, `${division.planName}: timetable ${number} asked for`)
  return { id, number }
}

/** The timetables of a plan, newest first. */
export async function listTimetables(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  planId: string,
): Promise<TimetableLine[]> {
  const rows = await prisma.timetable.findMany({
    where: { coopId, planId },
    orderBy: { number: 'desc' },
    select: { number: true, state: true, askedBy: true, startedAt: true, division: { select: { number: true } } },
  })
  return rows.map(({ state, division, ...row }) => ({
    ...row,
    state: storedAs(timetableStates, state),
    divisionNumber: division.number,
  }))
}

export async function findTimetable(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  planId: string,
  number: number,
): Promise<TimetableRow> {
  const row = await prisma.timetable.findUnique({
    where: { coopId_planId_number: { coopId, planId, number } },
    include: { plan: { select: { name: true } }, division: { select: { number: true, fittedFrom: true } } },
  })
  if (row === null) throw notFound('such timetable')
  const { plan, division, state, answer, ...rest } = row
  return {
    id: rest.id,
    coopId: rest.coopId,
    planId: rest.planId,
    number: rest.number,
    askedBy: rest.askedBy,
    startedAt: rest.startedAt,
    stopAsked: rest.stopAsked,
    failure: rest.failure,
    progress: rest.progress,
    fittedFrom: division.fittedFrom,
    planName: plan.name,
    divisionNumber: division.number,
    state: storedAs(timetableStates, state),
    worked: answer === null ? null : readWorkedOut(answer),
  }
}

/** The newest timetable of each of the co-op's plans that was worked out. */
export async function newestTimetables(
  prisma: TransactionClient,
  coopId: string,
): Promise<{ planId: string; worked: WorkedOut; at: Date }[]> {
  const newest = await prisma.timetable.groupBy({
    by: ['planId'],
    where: { coopId, state: 'done' },
    _max: { number: true },
  })
  const rows = await prisma.timetable.findMany({
    where: { coopId, OR: newest.map(({ planId, _max }) => ({ planId, number: _max.number ?? 0 })) },
    orderBy: { planId: 'asc' },
    select: { planId: true, answer: true, startedAt: true },
  })
  return rows.map(({ planId, answer, startedAt }) => ({ planId, worked: readWorkedOut(answer), at: startedAt }))
}

/** Timetables of all co-ops that nobody has answered: at start-up those that the last process left behind. */
export async function unansweredTimetables(
  prisma: TransactionClient,
): Promise<{ coopId: string; id: string; planId: string; divisionNumber: number; stopAsked: boolean }[]> {
  const rows = await prisma.timetable.findMany({
    where: { state: { in: ['waiting', 'solving'] } },
    orderBy: [{ startedAt: 'asc' }, { id: 'asc' }],
    select: { coopId: true, id: true, planId: true, stopAsked: true, division: { select: { number: true } } },
  })
  return rows.map(({ division, ...row }) => ({ ...row, divisionNumber: division.number }))
}

/** A co-op as work that nobody asks for at the moment needs it, read in the co-op's own units. */
export async function coopOf(
  prisma: TransactionClient,
  coopId: string,
): Promise<{ coopId: string; coop: Omit<CoopWays, 'id' | 'name' | 'town'> }> {
  const { altitudeM, timeZone, locale, units, currency } = await prisma.coop.findUniqueOrThrow({
    where: { id: coopId },
  })
  return { coopId, coop: { altitudeM, timeZone, locale, units: storedAs(unitSystems, units), currency } }
}

type Key = { coopId: string; id: string }
const open = { state: { in: ['waiting', 'solving'] } }

/** @param progress how far it is, in plain words */
export async function saveTimetableProgress(prisma: TransactionClient, key: Key, progress: string): Promise<void> {
  await prisma.timetable.updateMany({ where: { ...key, ...open }, data: { state: 'solving', progress } })
}

/**
 * Saves a timetable once, with the division that it holds as the plan's next where that is another than was asked about.
 * Belongs in one transaction.
 */
export async function saveWorkedOut(
  transaction: TransactionClient,
  key: Key,
  { worked, division }: TimetableAnswer & { division: { headline: Headline } | null },
  with_: { now: Date; newId: () => string },
): Promise<void> {
  const { count } = await transaction.timetable.updateMany({
    where: { ...key, ...open },
    data: { state: 'done', answer: asJson(worked), finishedAt: with_.now },
  })
  if (count === 0 || division === null) return
  const { divisionId } = await transaction.timetable.findUniqueOrThrow({
    where: { coopId_id: key },
    select: { divisionId: true },
  })
  const fitted = await addFittedDivision(transaction, { coopId: key.coopId, id: divisionId }, division, with_)
  await transaction.timetable.update({ where: { coopId_id: key }, data: { divisionId: fitted } })
}

/** @param failure one or two plain sentences: what happened, and what to do */
export async function saveTimetableFailure(
  prisma: TransactionClient,
  key: Key,
  failure: string,
  now: Date,
): Promise<void> {
  await prisma.timetable.updateMany({ where: { ...key, ...open }, data: { state: 'failed', failure, finishedAt: now } })
}

/** Notes that the best so far is enough; the id, so that its thread can be told. */
export async function saveTimetableStop(writing: Writing, planId: string, number: number): Promise<string> {
  const { transaction, asking } = writing
  const { id, planName, state } = await findTimetable(transaction, asking, planId, number)
  if (state === 'waiting' || state === 'solving') {
    await transaction.timetable.updateMany({ where: { coopId: asking.coopId, id }, data: { stopAsked: true } })
    await noteChange(writing, 'plan', planId, `${planName}: timetable ${number} stopped`)
  }
  return id
}

/** What the database stores: the same without what JSON has no word for, of which a schedule has nothing. */
function asJson(worked: WorkedOut): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(worked))
}
