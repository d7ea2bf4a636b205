import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import type { WorkedOut } from '../../jobs/timetable.ts'
import type { Asking } from '../../web/asking.ts'
import { readTimetableQuestion, readWorkedOut } from '../plans/timetables/index.ts'

/** The timetable that a day is worked by. */
export type DayTimetable = { id: string; planId: string; planName: string; number: number; worked: WorkedOut }
/** What was ticked: an entry's key, by whom and when. */
export type Tick = { task: string; by: string; doneAt: Date }

const newestPlan = [{ createdAt: 'desc' }, { id: 'desc' }] as const

/**
 * The timetable of a date (YYYY-MM-DD): of the newest plan that works on it and has one, its newest that was worked out.
 * null where there is none.
 */
export async function timetableOn(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  date: string,
): Promise<DayTimetable | null> {
  const plans = await prisma.plan.findMany({
    where: { coopId, days: { some: { workDay: { date: dateOf(date) } } }, timetables: { some: { state: 'done' } } },
    orderBy: [...newestPlan],
    select: {
      id: true,
      name: true,
      timetables: { where: { state: 'done' }, orderBy: { number: 'desc' }, take: 1, select: { id: true } },
    },
  })
  for (const { timetables } of plans) {
    const [newest] = timetables
    if (newest === undefined) continue
    const found = await findDayTimetable(prisma, { coopId }, newest.id)
    // a day may have been put into the plan after its timetable was made
    if (found.worked.plan.kitchen.days.some((day) => day.date === date)) return found
  }
  return null
}

/** One timetable that was worked out, by its id. */
export async function findDayTimetable(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<DayTimetable> {
  const row = await prisma.timetable.findFirst({
    where: { coopId, id, state: 'done' },
    select: { id: true, planId: true, number: true, answer: true, plan: { select: { name: true } } },
  })
  if (row === null) throw notFound('such timetable')
  const { answer, plan, ...rest } = row
  return { ...rest, planName: plan.name, worked: readWorkedOut(answer) }
}

/** Dates from this one on that have a timetable, in order, at most so many. */
export async function datesWithTimetable(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  from: string,
  most: number,
): Promise<string[]> {
  const rows = await prisma.workDay.findMany({
    where: {
      coopId,
      date: { gte: dateOf(from) },
      plans: { some: { plan: { timetables: { some: { state: 'done' } } } } },
    },
    orderBy: { date: 'asc' },
    take: most,
    select: { date: true },
  })
  return rows.map(({ date }) => date.toISOString().slice(0, 10))
}

/**
 * Everything that was ticked in this timetable and in those that it goes back to: a day that is replanned while it is
 * worked keeps its ticks.
 */
export async function ticksOf(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  timetable: Pick<DayTimetable, 'planId' | 'number'>,
): Promise<Tick[]> {
  const timetableId = { in: await chainOf(prisma, coopId, timetable) }
  return prisma.taskTick.findMany({
    where: { coopId, timetableId },
    orderBy: { doneAt: 'asc' },
    select: { task: true, by: true, doneAt: true },
  })
}

/** Ticks entries off. What is ticked already stays as it was ticked. */
export async function addTicks(
  transaction: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  timetable: DayTimetable,
  { tasks, by, doneAt }: { tasks: readonly string[]; by: string; doneAt: Date },
): Promise<void> {
  const before = new Set((await ticksOf(transaction, { coopId }, timetable)).map(({ task }) => task))
  const data = tasks
    .filter((task) => !before.has(task))
    .map((task) => ({ coopId, timetableId: timetable.id, task, by, doneAt }))
  // two who press at the same moment: the second one's is left out
  await transaction.taskTick.createMany({ data, skipDuplicates: true })
}

/** Takes ticks back, wherever in the timetable's history they were made. */
export async function removeTicks(
  transaction: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  timetable: DayTimetable,
  tasks: readonly string[],
): Promise<void> {
  const timetableId = { in: await chainOf(transaction, coopId, timetable) }
  await transaction.taskTick.deleteMany({ where: { coopId, timetableId, task: { in: [...tasks] } } })
}

/** Ids of the timetable and of those that it went on from, back to the one made from a division. */
async function chainOf(
  prisma: TransactionClient,
  coopId: string,
  { planId, number }: Pick<DayTimetable, 'planId' | 'number'>,
): Promise<string[]> {
  const rows = await prisma.timetable.findMany({
    where: { coopId, planId, number: { lte: number } },
    select: { id: true, number: true, question: true },
  })
  const byNumber = new Map(rows.map((row) => [row.number, row]))
  const chain: string[] = []
  let row = byNumber.get(number)
  while (row !== undefined) {
    chain.push(row.id)
    const { from } = readTimetableQuestion(row.question)
    row = from === null || from >= row.number ? undefined : byNumber.get(from)
  }
  return chain
}

function dateOf(date: string): Date {
  return new Date(`${date}T00:00:00Z`)
}
