import { clockOf, type Entry, timetableOf } from '../../../core/day/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { formatFor } from '../../../web/format.ts'
import { coopOf, newestTimetables } from './queries.ts'
import { tableWords } from './words.ts'

/** What runs by itself at least so long is a slow job: somebody has to come back for it. Our choice. */
const slowMinutes = 120
/** How long a calendar shows the coming back. Our choice. */
const comingBackMinutes = 15

/**
 * What a calendar holds of the newest timetable of each plan: the work of one helper, piece by piece, or with `helperId`
 * null the slow jobs, each at the moment at which somebody has to come back (trays out, jars away, strain the juice).
 */
export async function timetableEntries(prisma: TransactionClient, coopId: string, helperId: string | null) {
  const { coop } = await coopOf(prisma, coopId)
  const format = formatFor(coop)
  const timetables = await newestTimetables(prisma, coopId)
  return timetables.flatMap(({ planId, worked: { plan, schedule }, at: stamp }) => {
    const table = timetableOf(plan, schedule)
    const words = tableWords(plan, format)
    const at = (key: string, minute: number, minutes: number, summary: string, description: string) => {
      const start = clockOf(plan.kitchen, minute)
      return start === null ? [] : [{ id: `${planId}-${key}`, start, minutes, summary, description, stamp }]
    }
    const key = ({ activity, phase }: Entry) => `${activity}-${phase}`
    if (helperId !== null) {
      return table.entries
        .filter((entry) => entry.helpers.includes(helperId) && entry.to > entry.from)
        .flatMap((entry) =>
          at(
            key(entry),
            entry.from,
            entry.to - entry.from,
            `${words.what(entry)}: ${words.does(entry)}`,
            words.says(entry),
          ),
        )
    }
    const slow = table.entries.filter(({ helpers, from, to }) => helpers.length === 0 && to - from >= slowMinutes)
    return [
      ...slow.flatMap((entry) =>
        at(
          key(entry),
          entry.to,
          comingBackMinutes,
          `${words.what(entry)}: ${words.machines(entry.machines)} is done`,
          '',
        ),
      ),
      ...table.afterwards.flatMap(({ batch, step, units, fromMinute }) => {
        const says = plan.batches.find((one) => one.batch.id === batch)?.steps[step]?.step.says ?? ''
        return at(`${batch}-after-${step}`, fromMinute, comingBackMinutes, words.what({ batch, units }), says)
      }),
    ]
  })
}
