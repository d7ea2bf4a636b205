import type { CalendarTime, CalendarWords } from '../../core/calendar/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'

/** One piece of work in a calendar, times on the co-op's wall clock. */
export type CalendarEntry = CalendarTime &
  CalendarWords & {
    /** The same for as long as it is the same piece of work; no other of the co-op has it. */
    id: string
  }

/**
 * What stands in a calendar: a helper's work, or the slow jobs where `helperId` is null. Two entries never share an id.
 */
export type CalendarEntries = (
  prisma: TransactionClient,
  coopId: string,
  helperId: string | null,
) => Promise<CalendarEntry[]>

/** No entries: of a co-op that has nothing on the clock. */
export const noEntries: CalendarEntries = async () => []

/** The entries of several sources, one source after another. */
export function joinedEntries(...sources: readonly CalendarEntries[]): CalendarEntries {
  return async (prisma, coopId, helperId) => {
    const joined: CalendarEntry[] = []
    for (const entriesOf of sources) joined.push(...(await entriesOf(prisma, coopId, helperId)))
    return joined
  }
}
