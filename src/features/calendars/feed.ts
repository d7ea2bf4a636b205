import { writeCalendar } from '../../core/calendar/index.ts'
import type { CalendarEntry } from './entries.ts'
import { whoseWords } from './pages.ts'
import type { FeedOf } from './queries.ts'

/** The calendar that a program is given, as text. The co-op's id in each uid keeps those of two co-ops apart. */
export function feedText({ coop, helperName }: FeedOf, entries: readonly CalendarEntry[]): string {
  return writeCalendar({
    name: `${coop.name}: ${whoseWords(helperName)}`,
    product: '-//Glutworks//Calendar//EN',
    timeZone: coop.timeZone,
    events: entries.map(({ id, ...entry }) => ({ ...entry, uid: `${id}@${coop.id}.glutworks` })),
  })
}
