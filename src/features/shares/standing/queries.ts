import { dateColumn, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { type Counted, countedDocument, shareQuestion } from '../documents.ts'

/** The days whose produce and work count, both included; `from` null: from the beginning. */
export type Period = {
  from: string | null
  until: string
  /** Of the first day, what the last hand-out has counted already. */
  without: Counted
}

export type BroughtLot = {
  id: string
  crop: string
  variety: string | null
  arrivedOn: string
  grams: number
  /** What the household paid; then the lot counts by that, and not by its weight too. */
  priceMinor: number | null
}

export type BroughtBy = { lots: BroughtLot[]; grams: number; minutes: number; moneyMinor: number }
export type Brought = {
  by: ReadonlyMap<string, BroughtBy>
  /** What was counted on the last day. */
  counted: Counted
}

export const nothingBrought: BroughtBy = { lots: [], grams: 0, minutes: 0, moneyMinor: 0 }
const nothingCounted: Counted = { lotIds: [], batchIds: [], dayIds: [] }

/** From `since` on where it is given, else from the last hand-out on; until today. */
export async function findPeriod(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  today: string,
  since?: string,
): Promise<Period> {
  if (since !== undefined) return { from: since, until: today, without: nothingCounted }
  const last = await prisma.shareOut.findFirst({
    where: { coopId, state: 'handed-out' },
    orderBy: [{ handedOutAt: 'desc' }, { number: 'desc' }],
    select: { question: true },
  })
  if (last === null) return { from: null, until: today, without: nothingCounted }
  const { until, counted } = shareQuestion.pick({ until: true, counted: true }).parse(last.question)
  return { from: until, until: today, without: countedDocument.parse(counted) }
}

/**
 * What each household brought in a period. Produce: lots that came from it, by weight, or by what it paid for them.
 * Work: the minutes noted at batches for its helpers; where none are noted for a helper on a day, the hours of that work
 * day without the breaks. The number of queries does not depend on how much there is.
 */
export async function broughtIn(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  { from, until, without }: Period,
): Promise<Brought> {
  const days = { ...(from === null ? {} : { gte: dateColumn(from) }), lte: dateColumn(until) }
  const lots = await prisma.lot.findMany({
    where: { coopId, householdId: { not: null }, arrivedOn: days, id: { notIn: without.lotIds } },
    orderBy: [{ arrivedOn: 'asc' }, { id: 'asc' }],
    select: {
      id: true,
      householdId: true,
      crop: true,
      variety: true,
      arrivedOn: true,
      weightGrams: true,
      priceMinor: true,
    },
  })
  const atBatches = await prisma.batchHelper.findMany({
    where: {
      coopId,
      minutes: { not: null },
      helper: { is: { householdId: { not: null } } },
      batch: { is: { madeOn: days, id: { notIn: without.batchIds } } },
    },
    select: {
      minutes: true,
      helperId: true,
      batchId: true,
      batch: { select: { madeOn: true } },
      helper: { select: { householdId: true } },
    },
  })
  const atDays = await prisma.helperHours.findMany({
    where: {
      coopId,
      helper: { is: { householdId: { not: null } } },
      workDay: { is: { date: days, id: { notIn: without.dayIds } } },
    },
    select: {
      helperId: true,
      workDayId: true,
      fromMinute: true,
      toMinute: true,
      workDay: { select: { date: true } },
      helper: { select: { householdId: true } },
    },
  })
  const breaks = await prisma.helperBreak.groupBy({
    by: ['helperId', 'workDayId'],
    where: { coopId, workDay: { is: { date: days } } },
    _sum: { fromMinute: true, toMinute: true },
  })

  const by = new Map<string, BroughtBy>()
  const of = (householdId: string): BroughtBy => {
    const known = by.get(householdId) ?? { ...nothingBrought, lots: [] }
    by.set(householdId, known)
    return known
  }
  for (const { householdId, arrivedOn, weightGrams, ...lot } of lots) {
    if (householdId === null) continue
    const brought = of(householdId)
    brought.lots.push({ ...lot, arrivedOn: storedDate(arrivedOn), grams: weightGrams })
    if (lot.priceMinor === null) brought.grams += weightGrams
    else brought.moneyMinor += lot.priceMinor
  }
  const noted = new Set<string>()
  for (const { minutes, helperId, helper, batch } of atBatches) {
    if (minutes === null || helperId === null || helper === null || helper.householdId === null) continue
    noted.add(`${helperId} ${storedDate(batch.madeOn)}`)
    of(helper.householdId).minutes += minutes
  }
  const rested = new Map(
    breaks.map(({ helperId, workDayId, _sum }) => [
      `${helperId} ${workDayId}`,
      (_sum.toMinute ?? 0) - (_sum.fromMinute ?? 0),
    ]),
  )
  for (const { helperId, workDayId, fromMinute, toMinute, workDay, helper } of atDays) {
    if (helper.householdId === null || noted.has(`${helperId} ${storedDate(workDay.date)}`)) continue
    const minutes = toMinute - fromMinute - (rested.get(`${helperId} ${workDayId}`) ?? 0)
    of(helper.householdId).minutes += Math.max(0, minutes)
  }
  return {
    by,
    counted: {
      lotIds: lots.filter(({ arrivedOn }) => storedDate(arrivedOn) === until).map(({ id }) => id),
      batchIds: [
        ...new Set(atBatches.filter(({ batch }) => storedDate(batch.madeOn) === until).map(({ batchId }) => batchId)),
      ],
      dayIds: [
        ...new Set(
          atDays.filter(({ workDay }) => storedDate(workDay.date) === until).map(({ workDayId }) => workDayId),
        ),
      ],
    },
  }
}

/** What each household is owed now, in minor units; below 0 where it had more than its part. None: 0. */
export async function owedNow(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<Map<string, number>> {
  const sums = await prisma.owedEntry.groupBy({ by: ['householdId'], where: { coopId }, _sum: { worthMinor: true } })
  return new Map(sums.map(({ householdId, _sum }) => [householdId, _sum.worthMinor ?? 0]))
}
