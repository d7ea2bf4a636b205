import { dateColumn, storedDate } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking } from '../../web/asking.ts'

/** A work day and who is in it; minutes count from midnight, in the order in which people come. */
export type NextWorkDay = {
  id: string
  date: string
  opensMinute: number
  closesMinute: number
  note: string | null
  helpers: { name: string; fromMinute: number; toMinute: number }[]
}

/** The first work day from a date on; null when none is set. */
export async function nextWorkDay(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  today: string,
): Promise<NextWorkDay | null> {
  const day = await prisma.workDay.findFirst({
    where: { coopId, date: { gte: dateColumn(today) } },
    include: { hours: { include: { helper: true } } },
    orderBy: { date: 'asc' },
  })
  if (day === null) return null
  const { id, date, opensMinute, closesMinute, note, hours } = day
  return {
    id,
    date: storedDate(date),
    opensMinute,
    closesMinute,
    note,
    helpers: hours
      .map(({ helper, fromMinute, toMinute }) => ({ name: helper.name, fromMinute, toMinute }))
      .sort((a, b) => a.fromMinute - b.fromMinute || a.name.localeCompare(b.name)),
  }
}

/** So many plans are shown. */
const plansShown = 3

/** A plan whose days are not over, and the state of its newest division; null: not worked out yet. */
export type OpenPlan = { id: string; name: string; state: string | null }

/** Plans with a work day from a date on, or with none yet; the newest first. */
export async function openPlans(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  today: string,
): Promise<OpenPlan[]> {
  const rows = await prisma.plan.findMany({
    where: {
      coopId,
      OR: [{ days: { some: { workDay: { date: { gte: dateColumn(today) } } } } }, { days: { none: {} } }],
    },
    include: { divisions: { orderBy: { number: 'desc' }, take: 1, select: { state: true } } },
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
    take: plansShown,
  })
  return rows.map(({ id, name, divisions }) => ({ id, name, state: divisions[0]?.state ?? null }))
}
