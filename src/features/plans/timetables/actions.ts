import type { FastifyInstance } from 'fastify'
import { inTransaction } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { addTimetable } from './queries.ts'

/**
 * Notes a division's next timetable and starts it, outside any request: for the demonstration on first start.
 *
 * @param asking whose plan it is, and whose name stands beside the timetable
 */
export async function startTimetable(
  app: FastifyInstance,
  asking: Asking,
  planId: string,
  divisionNumber: number,
): Promise<{ id: string; number: number }> {
  const { clock, newId, prisma } = app
  const noted = await inTransaction(prisma, (transaction) =>
    addTimetable({ transaction, asking, now: clock.now(), newId }, planId, divisionNumber),
  )
  app.timetables.start({ coopId: asking.coopId, id: noted.id })
  return noted
}
