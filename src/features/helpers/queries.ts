import type { HelperAtHand } from '../../core/division/question.ts'
import { ageBands, type Station, stations, workKinds } from '../../core/produce/vocabulary.ts'
import { dateColumn, storedAs, storedDate, storedList } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'

export type DayHours = { dayId: string; fromMinute: number; toMinute: number }
export type Helper = Pick<HelperAtHand, 'id' | 'name' | 'ageBand' | 'skills' | 'hours'> & {
  householdId: string | null
  /** How fast, in percent of what is usual: 50 takes twice as long. */
  speedPercent: number
  /** Longest at one station without a change; null: does not tire. */
  stretchMinutes: number | null
  likes: Station[]
  dislikes: Station[]
  /** Meals and rests within the hours. */
  breaks: DayHours[]
  version: number
}
export type HelperValues = Omit<Helper, 'id' | 'hours' | 'breaks' | 'version'>
/** When a helper is there on one day, and the breaks in it; `span` null: not there. */
export type DaySpans = {
  dayId: string
  span: Omit<DayHours, 'dayId'> | null
  breaks: readonly Omit<DayHours, 'dayId'>[]
}
/** A day for which hours may be given. */
export type ComingDay = { id: string; date: string; opensMinute: number; closesMinute: number }

/** All helpers by name. */
export async function listHelpers(prisma: TransactionClient, asking: Asking): Promise<Helper[]> {
  const rows = await prisma.helper.findMany({
    where: { coopId: asking.coopId },
    include: { hours: true, breaks: true },
  })
  return rows.map(fromRow).sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findHelper(prisma: TransactionClient, asking: Asking, id: string): Promise<Helper> {
  const row = await prisma.helper.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id } },
    include: { hours: true, breaks: true },
  })
  if (row === null) throw notFound('such helper')
  return fromRow(row)
}

/** The households of the co-op by name. */
export async function listHouseholds(
  prisma: TransactionClient,
  asking: Asking,
): Promise<{ id: string; name: string }[]> {
  const rows = await prisma.household.findMany({ where: { coopId: asking.coopId }, select: { id: true, name: true } })
  return rows.sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

/** The work days from a date (ISO) on. */
export async function listComingDays(prisma: TransactionClient, asking: Asking, today: string): Promise<ComingDay[]> {
  const rows = await prisma.workDay.findMany({
    where: { coopId: asking.coopId, date: { gte: dateColumn(today) } },
    orderBy: { date: 'asc' },
    select: { id: true, date: true, opensMinute: true, closesMinute: true },
  })
  return rows.map((row) => ({ ...row, date: storedDate(row.date) }))
}

export async function addHelper(writing: Writing, values: HelperValues): Promise<Helper> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await refuseUnknownHousehold(writing, values)
  await transaction.helper.create({ data: { coopId: asking.coopId, id, ...values } })
  await noteChange(writing, 'helpers', id, `${values.name} added`)
  return findHelper(transaction, asking, id)
}

export async function changeHelper(
  writing: Writing,
  id: string,
  version: number,
  values: HelperValues,
): Promise<Helper> {
  const { transaction, asking } = writing
  await findHelper(transaction, asking, id)
  await refuseUnknownHousehold(writing, values)
  await raiseVersion(writing, id, version)
  await transaction.helper.update({ where: { coopId_id: { coopId: asking.coopId, id } }, data: values })
  await noteChange(writing, 'helpers', id, `${values.name} changed`)
  return findHelper(transaction, asking, id)
}

/**
 * Writes when a helper is there on these days and rests there; other days stay as they are. The days' own versions
 * rise too, so that a page with all hours of a day that was opened before does not undo this.
 */
export async function setHelperHours(
  writing: Writing,
  id: string,
  version: number,
  days: readonly DaySpans[],
): Promise<Helper> {
  const { transaction, asking } = writing
  const { coopId } = asking
  const before = await findHelper(transaction, asking, id)
  await raiseVersion(writing, id, version)
  for (const { dayId, span, breaks } of days) {
    const data = breaks.map((rest) => ({ coopId, helperId: id, workDayId: dayId, ...rest }))
    const was = before.hours.find((hours) => hours.dayId === dayId)
    const rested = before.breaks.filter((rest) => rest.dayId === dayId)
    if (sameSpan(was, span) && rested.length === breaks.length && rested.every((rest, n) => sameSpan(rest, breaks[n])))
      continue
    const { count } = await transaction.workDay.updateMany({
      where: { coopId, id: dayId },
      data: { version: { increment: 1 } },
    })
    if (count === 0) throw notFound('such work day')
    await transaction.helperHours.deleteMany({ where: { coopId, helperId: id, workDayId: dayId } })
    if (span !== null)
      await transaction.helperHours.create({ data: { coopId, helperId: id, workDayId: dayId, ...span } })
    await transaction.helperBreak.deleteMany({ where: { coopId, helperId: id, workDayId: dayId } })
    await transaction.helperBreak.createMany({ data })
  }
  await noteChange(writing, 'helpers', id, `hours of ${before.name} set`)
  return findHelper(transaction, asking, id)
}

export async function removeHelper(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findHelper(transaction, asking, id)
  await transaction.helper.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
  await noteChange(writing, 'helpers', id, `${name} removed`)
}

async function raiseVersion({ transaction, asking }: Writing, id: string, version: number): Promise<void> {
  const { count } = await transaction.helper.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { version: { increment: 1 } },
  })
  if (count === 0) throw changedMeanwhile('this helper')
}

async function refuseUnknownHousehold({ transaction, asking }: Writing, { householdId }: HelperValues): Promise<void> {
  if (householdId === null) return
  const found = await transaction.household.count({ where: { coopId: asking.coopId, id: householdId } })
  if (found === 0)
    throw refused('There is no such household here.', { householdId: 'Choose a household from the list' })
}

type Span = Omit<DayHours, 'dayId'>
function sameSpan(one: Span | null | undefined, other: Span | null | undefined): boolean {
  return one?.fromMinute === other?.fromMinute && one?.toMinute === other?.toMinute
}

type SpanRow = { workDayId: string; fromMinute: number; toMinute: number }
type Row = {
  id: string
  name: string
  ageBand: string
  skills: string[]
  householdId: string | null
  speedPercent: number
  stretchMinutes: number | null
  likes: string[]
  dislikes: string[]
  version: number
  hours: SpanRow[]
  breaks: SpanRow[]
}

function fromRow({
  id,
  name,
  ageBand,
  skills,
  householdId,
  speedPercent,
  stretchMinutes,
  version,
  ...row
}: Row): Helper {
  return {
    id,
    name,
    ageBand: storedAs(ageBands, ageBand),
    skills: storedList(workKinds, skills),
    householdId,
    speedPercent,
    stretchMinutes,
    likes: storedList(stations, row.likes),
    dislikes: storedList(stations, row.dislikes),
    hours: row.hours.map(spanOf),
    breaks: row.breaks.map(spanOf).sort((a, b) => a.fromMinute - b.fromMinute),
    version,
  }
}

function spanOf({ workDayId, fromMinute, toMinute }: SpanRow): DayHours {
  return { dayId: workDayId, fromMinute, toMinute }
}
