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
import { readTimetableQuestion, readWorkedOut, type TimetableQuestion } from './documents.ts'

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
  /** What was settled by hand, and the timetable gone on from. */
  question: TimetableQuestion
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
  const division = await findDivision(writing.transaction, writing.asking, planId, divisionNumber)
  if (division.answer === null) throw refused('This division has no answer yet: its timetable follows from it.')
  return noteTimetable(writing, { planId, planName: division.planName, divisionId: division.id }, {}, 'asked for')
}

/** Notes the plan's next timetable: one of the same division, with other things settled or its day further on. */
export async function addChangedTimetable(
  writing: Writing,
  { planId, number: from }: Pick<TimetableRow, 'planId' | 'number'>,
  question: Pick<TimetableQuestion, 'edits' | 'progress'>,
): Promise<{ id: string; number: number }> {
  const { transaction, asking } = writing
  const { divisionId, plan } = await transaction.timetable.findUniqueOrThrow({
    where: { coopId_planId_number: { coopId: asking.coopId, planId, number: from } },
    select: { divisionId: true, plan: { select: { name: true } } },
  })
  const of = { planId, planName: plan.name, divisionId }
  return noteTimetable(writing, of, asJson({ ...question, from }), `asked for, going on from timetable ${from}`)
}

async function noteTimetable(
  writing: Writing,
  { planId, planName, divisionId }: { planId: string; planName: string; divisionId: string },
  question: Prisma.InputJsonValue,
  what: string,
): Promise<{ id: string; number: number }> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
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
      divisionId,
      number,
      state: 'waiting',
      question,
      askedBy: asking.name,
      startedAt: now,
    },
  })
  await noteChange(writing, 'plan', planId, `${planName}: timetable ${number} ${what}`)
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
  const { plan, division, state, answer, question, ...rest } = row
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
    question: readTimetableQuestion(question),
    worked: answer === null ? null : readWorkedOut(answer),
  }
}

/**
 * The timetable that others go back to: the one made from the division, with nothing settled by hand.
 *
 * @throws Error for one that was not worked out, which nothing can have gone on from
 */
export async function rootOf(
  prisma: TransactionClient,
  asking: Pick<Asking, 'coopId'>,
  row: TimetableRow,
): Promise<WorkedOut> {
  if (row.question.from === null) {
    if (row.worked === null) throw new Error('a timetable goes back to one that was not worked out')
    return row.worked
  }
  const { coopId } = asking
  const { planId } = row
  let number: number | null = row.question.from
  let root = number
  while (number !== null) {
    root = number
    const before: { question: unknown } = await prisma.timetable.findUniqueOrThrow({
      where: { coopId_planId_number: { coopId, planId, number } },
      select: { question: true },
    })
    number = readTimetableQuestion(before.question).from
  }
  return rootOf(prisma, asking, await findTimetable(prisma, asking, planId, root))
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

/** Timetables of all co-ops that nobody has answered, oldest first. */
export async function unansweredTimetables(prisma: TransactionClient): Promise<Key[]> {
  return prisma.timetable.findMany({
    where: open,
    orderBy: [{ startedAt: 'asc' }, { id: 'asc' }],
    select: { coopId: true, id: true },
  })
}

/** Which timetable is to be worked out, and what it was asked with; null where it is answered, or gone. */
export async function askedTimetable(
  prisma: TransactionClient,
  key: Key,
): Promise<{ planId: string; divisionNumber: number; question: TimetableQuestion; stopAsked: boolean } | null> {
  const row = await prisma.timetable.findFirst({
    where: { ...key, ...open },
    select: { planId: true, question: true, stopAsked: true, division: { select: { number: true } } },
  })
  if (row === null) return null
  const { planId, question, stopAsked, division } = row
  return { planId, divisionNumber: division.number, question: readTimetableQuestion(question), stopAsked }
}

/** Somebody wants no better timetable than the best so far. */
export async function timetableStopIsAsked(prisma: TransactionClient, key: Key): Promise<boolean> {
  return (await prisma.timetable.count({ where: { ...key, stopAsked: true } })) > 0
}

/** A co-op as work that nobody asks for at the moment needs it, read in the co-op's own units. */
export async function coopOf(
  prisma: TransactionClient,
  coopId: string,
): Promise<{ coopId: string; coop: Omit<CoopWays, 'id' | 'name' | 'town' | 'demonstration'> }> {
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

/** What the database stores: the same without what JSON has no word for, of which neither of them has anything. */
function asJson(document: WorkedOut | TimetableQuestion): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(document))
}
