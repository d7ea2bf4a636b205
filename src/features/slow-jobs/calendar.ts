import { templateOf } from '../../core/slow/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { formatFor } from '../../web/format.ts'
import { coopOf } from '../plans/timetables/queries.ts'
import { calendarStages } from './queries.ts'
import { targetWords } from './words.ts'

/** The open stages of all slow jobs that go on, each all day on the day it is due; nothing in a helper's own calendar. */
export async function slowJobEntries(prisma: TransactionClient, coopId: string, helperId: string | null) {
  if (helperId !== null) return []
  const { coop } = await coopOf(prisma, coopId)
  const format = formatFor(coop)
  const stages = await calendarStages(prisma, coopId)
  return stages.map(({ job, number, says, dueOn, changedAt }) => {
    const target = targetWords(templateOf(job.kind, number)?.target ?? null, format)
    return {
      id: `slow-${job.id}-${number}`,
      day: dueOn,
      summary: `${job.name}: ${says}`,
      description: target === '' ? '' : `It should be: ${target}`,
      location: job.place ?? '',
      stamp: changedAt,
      sequence: job.version - 1,
    }
  })
}
