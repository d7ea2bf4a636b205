import type { KitchenDay } from '../../core/division/question.ts'
import { isUniqueViolation } from '../../db/errors.ts'
import { dateColumn, storedDate } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'

export type WorkDay = KitchenDay & { note: string | null; version: number }
export type WorkDayValues = Omit<WorkDay, 'id' | 'version'>
export type HelperHours = { helperId: string; fromMinute: number; toMinute: number }
/** A day with who is there, what is out, and the names of the plans that use it. */
export type FullWorkDay = WorkDay & { hours: HelperHours[]; equipmentOut: string[]; plans: string[] }

/** All work days, the earliest first. */
export async function listWorkDays(prisma: TransactionClient, asking: Asking): Promise<FullWorkDay[]> {
  const rows = await prisma.workDay.findMany({
    where: { coopId: asking.coopId },
    orderBy: { date: 'asc' },
    include: withAll,
  })
  return rows.map(fromRow)
}

export async function findWorkDay(prisma: TransactionClient, asking: Asking, id: string): Promise<FullWorkDay> {
  const row = await prisma.workDay.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id } },
    include: withAll,
  })
  if (row === null) throw notFound('such work day')
  return fromRow(row)
}

/** Refuses a date that has a work day already. */
export async function addWorkDay(writing: Writing, values: WorkDayValues): Promise<FullWorkDay> {
  const { transaction, asking, newId } = writing
  const id = newId()
  const data = { ...values, date: dateColumn(values.date) }
  await orDateTaken(transaction.workDay.create({ data: { coopId: asking.coopId, id, ...data } }))
  await noteChange(writing, 'work-days', id, `work day ${values.date} added`)
  return findWorkDay(transaction, asking, id)
}

export async function changeWorkDay(
  writing: Writing,
  id: string,
  version: number,
  values: WorkDayValues,
): Promise<FullWorkDay> {
  const { transaction, asking } = writing
  const data = { ...values, date: dateColumn(values.date), version: { increment: 1 } }
  const where = { coopId: asking.coopId, id, version }
  const { count } = await orDateTaken(transaction.workDay.updateMany({ where, data }))
  const now = await findWorkDay(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this work day')
  await noteChange(writing, 'work-days', id, `work day ${values.date} changed`)
  return now
}

/** Refuses with `conflict` while a plan uses the day. */
export async function removeWorkDay(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { date, plans } = await findWorkDay(transaction, asking, id)
  if (plans.length > 0) throw conflict(usedBy(plans))
  await transaction.workDay.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
  await noteChange(writing, 'work-days', id, `work day ${date} removed`)
}

/** Why a day cannot go. */
export function usedBy(plans: readonly string[]): string {
  const names = plans.map((name) => `“${name}”`).join(', ')
  return `The day cannot be removed while a plan uses it: ${names}. Take it out of the plan first.`
}

/**
 * Writes who is there on a day, in place of all hours of that day; helpers that are not named are not there. Breaks are
 * cut to the new hours, those outside are dropped, and the note of the change says whose.
 */
export async function setHours(
  writing: Writing,
  id: string,
  version: number,
  hours: readonly HelperHours[],
): Promise<FullWorkDay> {
  const { transaction, asking } = writing
  const { coopId } = asking
  await raiseVersion(writing, id, version)
  const known = await transaction.helper.findMany({ where: { coopId }, select: { id: true } })
  if (hours.some(({ helperId }) => !known.some((helper) => helper.id === helperId))) throw notFound('such helper')
  await transaction.helperHours.deleteMany({ where: { coopId, workDayId: id } })
  await transaction.helperHours.createMany({ data: hours.map((span) => ({ coopId, workDayId: id, ...span })) })
  const day = await findWorkDay(transaction, asking, id)
  const cut = await cutBreaks(writing, id, hours)
  await noteChange(writing, 'work-days', id, [`hours of ${day.date} set`, ...cut].join('; '))
  return day
}

/** Cuts a day's breaks to these hours; tells what became of which, "break of Ana dropped". */
async function cutBreaks(
  { transaction, asking: { coopId } }: Writing,
  workDayId: string,
  hours: readonly HelperHours[],
): Promise<string[]> {
  const breaks = await transaction.helperBreak.findMany({
    where: { coopId, workDayId },
    include: { helper: { select: { name: true } } },
    orderBy: [{ helper: { name: 'asc' } }, { fromMinute: 'asc' }],
  })
  const told: string[] = []
  for (const { helper, helperId, fromMinute, toMinute } of breaks) {
    const span = hours.find((one) => one.helperId === helperId)
    const from = Math.max(fromMinute, span?.fromMinute ?? toMinute)
    const to = Math.min(toMinute, span?.toMinute ?? toMinute)
    if (from === fromMinute && to === toMinute) continue
    const where = { coopId, workDayId, helperId, fromMinute }
    if (from >= to) await transaction.helperBreak.deleteMany({ where })
    else await transaction.helperBreak.updateMany({ where, data: { fromMinute: from, toMinute: to } })
    told.push(`break of ${helper.name} ${from >= to ? 'dropped' : 'shortened'}`)
  }
  return told
}

/** Writes what cannot be used on a day, in place of what was out before. */
export async function setEquipmentOut(
  writing: Writing,
  id: string,
  version: number,
  equipmentIds: readonly string[],
): Promise<FullWorkDay> {
  const { transaction, asking } = writing
  const { coopId } = asking
  await raiseVersion(writing, id, version)
  const known = await transaction.equipment.findMany({ where: { coopId }, select: { id: true } })
  if (equipmentIds.some((one) => !known.some((equipment) => equipment.id === one))) throw notFound('such equipment')
  await transaction.equipmentOut.deleteMany({ where: { coopId, workDayId: id } })
  const data = [...new Set(equipmentIds)].map((equipmentId) => ({ coopId, workDayId: id, equipmentId }))
  await transaction.equipmentOut.createMany({ data })
  const day = await findWorkDay(transaction, asking, id)
  await noteChange(writing, 'work-days', id, `what is out on ${day.date} set`)
  return day
}

/** Throws not-found for an unknown day and `conflict` for an older version. */
async function raiseVersion({ transaction, asking }: Writing, id: string, version: number): Promise<void> {
  const { count } = await transaction.workDay.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { version: { increment: 1 } },
  })
  if (count > 0) return
  await findWorkDay(transaction, asking, id)
  throw changedMeanwhile('this work day')
}

async function orDateTaken<T>(write: Promise<T>): Promise<T> {
  try {
    return await write
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = 'There is a work day on this date already: choose another, or change that one'
    throw refused(words, { date: words })
  }
}

const withAll = {
  hours: { orderBy: { helperId: 'asc' } },
  equipmentOut: true,
  plans: { include: { plan: { select: { name: true } } } },
} as const

type Row = {
  id: string
  date: Date
  opensMinute: number
  closesMinute: number
  note: string | null
  version: number
  hours: (HelperHours & { coopId: string; workDayId: string })[]
  equipmentOut: { equipmentId: string }[]
  plans: { plan: { name: string } }[]
}

function fromRow(row: Row): FullWorkDay {
  return {
    id: row.id,
    date: storedDate(row.date),
    opensMinute: row.opensMinute,
    closesMinute: row.closesMinute,
    note: row.note,
    version: row.version,
    hours: row.hours.map(({ helperId, fromMinute, toMinute }) => ({ helperId, fromMinute, toMinute })),
    equipmentOut: row.equipmentOut.map(({ equipmentId }) => equipmentId),
    plans: row.plans.map(({ plan }) => plan.name).sort(),
  }
}
