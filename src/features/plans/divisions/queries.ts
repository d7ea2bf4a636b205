import type { StepWorth } from '../../../core/allocation/index.ts'
import type { Question } from '../../../core/division/index.ts'
import type { Prisma } from '../../../db/generated/client.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import { changedMeanwhile } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import { type Answer, type Headline, headlineDocument, readAnswer, readQuestion } from '../documents.ts'
import type { Plan } from '../queries.ts'

/** waiting: in line; solving: has a best so far; done: has an answer that was checked; failed: says why. */
export const divisionStates = ['waiting', 'solving', 'done', 'failed'] as const
export type DivisionState = (typeof divisionStates)[number]

/** What lists show of a division. */
export type DivisionLine = {
  id: string
  planId: string
  number: number
  state: DivisionState
  askedBy: string
  startedAt: Date
  headline: Headline | null
}

export type Division = {
  id: string
  coopId: string
  planId: string
  planName: string
  number: number
  state: DivisionState
  /** The plan's version that was asked, and what it is by now. */
  planVersion: number
  planVersionNow: number
  question: Question
  answer: Answer | null
  /** Best so far and bound, minor units; null until the solver has told one. */
  objective: number | null
  bound: number | null
  stopAsked: boolean
  failure: string | null
  askedBy: string
  startedAt: Date
  finishedAt: Date | null
}

/** Notes what is asked, as the plan's next division. Refuses with `conflict` when the plan has moved since it was read. */
export async function addDivision(
  writing: Writing,
  plan: Plan,
  question: Question,
): Promise<{ id: string; number: number }> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  // Writing the version as it is takes the row's lock: two that ask at the same moment get two numbers.
  const { count } = await transaction.plan.updateMany({
    where: { coopId, id: plan.id, version: plan.version },
    data: { version: plan.version },
  })
  if (count === 0) throw changedMeanwhile('this plan')
  const { _max } = await transaction.division.aggregate({ where: { coopId, planId: plan.id }, _max: { number: true } })
  const number = (_max.number ?? 0) + 1
  const id = newId()
  await transaction.division.create({
    data: {
      coopId,
      id,
      planId: plan.id,
      number,
      planVersion: plan.version,
      state: 'waiting',
      question: asJson(question),
      askedBy: asking.name,
      startedAt: now,
    },
  })
  await noteChange(writing, 'plan', plan.id, `${plan.name}: division ${number} asked for`)
  return { id, number }
}

/** A plan's own page has the sentence of so many of its newest divisions. */
export const HEADLINES_OF_A_PLAN = 10

/**
 * The divisions of some plans, newest first.
 *
 * @param headlines for so many of the newest answers of each plan the headline is read too; the others have null. An
 *   answer is a document of some size, of which a list wants one line.
 */
export async function listDivisions(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  planIds: readonly string[],
  headlines: number,
): Promise<DivisionLine[]> {
  const rows = await prisma.division.findMany({
    where: { coopId, planId: { in: [...planIds] } },
    orderBy: [{ number: 'desc' }, { id: 'asc' }],
    select: { id: true, planId: true, number: true, state: true, askedBy: true, startedAt: true },
  })
  const told = planIds.flatMap((planId) =>
    rows
      .filter((row) => row.planId === planId && row.state === 'done')
      .slice(0, headlines)
      .map(({ id }) => id),
  )
  const answers = await prisma.division.findMany({
    where: { coopId, id: { in: told } },
    select: { id: true, answer: true },
  })
  const byId = new Map(answers.map(({ id, answer }) => [id, headlineOf(answer)]))
  return rows.map(({ state, ...row }) => ({
    ...row,
    state: storedAs(divisionStates, state),
    headline: byId.get(row.id) ?? null,
  }))
}

export async function findDivision(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  planId: string,
  number: number,
): Promise<Division> {
  const row = await prisma.division.findUnique({
    where: { coopId_planId_number: { coopId, planId, number } },
    include: { plan: true },
  })
  if (row === null) throw notFound('such division')
  return fromRow(row)
}

/** A division of any plan of the co-op. */
export async function findDivisionById(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<Division> {
  const row = await prisma.division.findUnique({ where: { coopId_id: { coopId, id } }, include: { plan: true } })
  if (row === null) throw notFound('such division')
  return fromRow(row)
}

/** Divisions of all co-ops that nobody has answered, oldest first. */
export async function unansweredDivisions(prisma: TransactionClient): Promise<Key[]> {
  return prisma.division.findMany({
    where: open,
    select: { coopId: true, id: true },
    orderBy: [{ startedAt: 'asc' }, { id: 'asc' }],
  })
}

/** What a division asks, and whether somebody wants it to stop; null where it is answered, or gone. */
export async function askedOf(
  prisma: TransactionClient,
  key: Key,
): Promise<{ question: Question; stopAsked: boolean } | null> {
  const row = await prisma.division.findFirst({
    where: { ...key, ...open },
    select: { question: true, stopAsked: true },
  })
  return row === null ? null : { question: readQuestion(row.question), stopAsked: row.stopAsked }
}

/** Somebody wants no better answer than the best so far. */
export async function stopIsAsked(prisma: TransactionClient, key: Key): Promise<boolean> {
  return (await prisma.division.count({ where: { ...key, stopAsked: true } })) > 0
}

type Key = { coopId: string; id: string }
const open = { state: { in: ['waiting', 'solving'] } }

/** Keeps how far it is; nothing when it has been answered meanwhile. A bound that is not finite is not known. */
export async function saveProgress(
  prisma: TransactionClient,
  key: Key,
  progress: { objective: number; bound: number },
): Promise<void> {
  await prisma.division.updateMany({
    where: { ...key, ...open },
    data: { state: 'solving', objective: finite(progress.objective), bound: finite(progress.bound) },
  })
}

/**
 * Saves an answer that was checked, once, and notes whether the plan has moved since it was asked; false where it was
 * answered meanwhile, which stands. Belongs in one transaction.
 */
export async function saveAnswer(
  transaction: TransactionClient,
  key: Key,
  answer: Pick<Answer, 'result' | 'headline'>,
  now: Date,
): Promise<boolean> {
  const { planVersion, plan } = await transaction.division.findUniqueOrThrow({
    where: { coopId_id: key },
    select: { planVersion: true, plan: { select: { version: true } } },
  })
  const whole: Answer = { ...answer, steps: null, planMoved: plan.version !== planVersion }
  const { count } = await transaction.division.updateMany({
    where: { ...key, ...open },
    data: {
      state: 'done',
      answer: asJson(whole),
      objective: finite(answer.result.objective),
      bound: finite(answer.result.bound),
      finishedAt: now,
    },
  })
  return count > 0
}

/**
 * Notes the plan's next division, with its answer: what a timetable made of another division that the clock did not hold.
 * The id of the new one. Belongs in one transaction.
 *
 * @param of the division that it was made of
 */
export async function addFittedDivision(
  transaction: TransactionClient,
  of: Key,
  { question, result, headline }: { question: Question } & Pick<Answer, 'result' | 'headline'>,
  { now, newId }: { now: Date; newId: () => string },
): Promise<string> {
  const { coopId } = of
  const {
    planId,
    number: fittedFrom,
    planVersion,
    askedBy,
  } = await transaction.division.findUniqueOrThrow({
    where: { coopId_id: of },
  })
  // Adding nothing takes the plan's lock and puts back no older version: numbers stay apart.
  await transaction.plan.updateMany({ where: { coopId, id: planId }, data: { version: { increment: 0 } } })
  const { version } = await transaction.plan.findUniqueOrThrow({ where: { coopId_id: { coopId, id: planId } } })
  const { _max } = await transaction.division.aggregate({ where: { coopId, planId }, _max: { number: true } })
  const id = newId()
  const answer: Answer = { result, headline, steps: [], planMoved: version !== planVersion }
  await transaction.division.create({
    data: {
      coopId,
      id,
      planId,
      number: (_max.number ?? 0) + 1,
      planVersion,
      state: 'done',
      question: asJson(question),
      answer: asJson(answer),
      objective: finite(result.objective),
      bound: finite(result.bound),
      askedBy,
      startedAt: now,
      finishedAt: now,
      fittedFrom,
    },
  })
  return id
}

/** Adds what one more of a limit would be worth to an answer that was saved. Belongs in one transaction. */
export async function saveSteps(transaction: TransactionClient, key: Key, steps: StepWorth[]): Promise<void> {
  const row = await transaction.division.findUnique({ where: { coopId_id: key }, select: { answer: true } })
  if (row === null || row.answer === null) return
  const answer: Answer = { ...readAnswer(row.answer), steps }
  await transaction.division.update({ where: { coopId_id: key }, data: { answer: asJson(answer) } })
}

/** @param failure one or two plain sentences: what happened, and what to do */
export async function saveFailure(prisma: TransactionClient, key: Key, failure: string, now: Date): Promise<void> {
  await prisma.division.updateMany({
    where: { ...key, ...open },
    data: { state: 'failed', failure, finishedAt: now },
  })
}

/** Notes that somebody wants no better answer than the best so far; says whether there was anything to stop. */
export async function saveStop(
  writing: Writing,
  planId: string,
  number: number,
): Promise<{ id: string; open: boolean }> {
  const { transaction, asking } = writing
  const { id, planName, state } = await findDivision(transaction, asking, planId, number)
  const open = state === 'waiting' || state === 'solving'
  if (open) {
    await transaction.division.update({
      where: { coopId_id: { coopId: asking.coopId, id } },
      data: { stopAsked: true },
    })
    await noteChange(writing, 'plan', planId, `${planName}: division ${number} stopped`)
  }
  return { id, open }
}

type Row = Omit<Division, 'planName' | 'planVersionNow' | 'state' | 'question' | 'answer'> & {
  state: string
  question: unknown
  answer: unknown
  plan: { name: string; version: number }
}

function fromRow({ plan, state, question, answer, ...row }: Row): Division {
  return {
    ...row,
    planName: plan.name,
    planVersionNow: plan.version,
    state: storedAs(divisionStates, state),
    question: readQuestion(question),
    answer: answer === null ? null : readAnswer(answer),
  }
}

function headlineOf(answer: Prisma.JsonValue | null): Headline | null {
  if (typeof answer !== 'object' || answer === null || Array.isArray(answer)) return null
  return headlineDocument.parse(answer['headline'])
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null
}

/** As the database keeps it: what is undefined is left out, what is not finite becomes null. */
function asJson(value: object): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(value))
}
