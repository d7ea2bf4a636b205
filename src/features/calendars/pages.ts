import type { CoopWays } from '../../web/asking.ts'
import { formModel, selectField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { helperValue, SLOW_JOBS } from './forms.ts'
import { calendarPath, calendarRemovalPath, calendarsPath } from './paths.ts'
import type { CalendarLink } from './queries.ts'

/** Whose work it shows: the helper's name, or "slow jobs" for null. */
export const whoseWords = (helperName: string | null): string => helperName ?? 'slow jobs'

export function calendarsPage(
  links: readonly CalendarLink[],
  helpers: readonly { id: string; name: string }[],
  form: TypedForm,
  coop: CoopWays,
) {
  return {
    title: 'Calendars',
    place: 'coop' as const,
    action: calendarsPath(),
    rows: links.map((link) => ({
      href: calendarPath(link.id),
      whose: whoseWords(link.helperName),
      ...historyOf(link, coop),
    })),
    form: formModel(
      {
        helperId: selectField(form, {
          name: 'helperId',
          label: 'Whose work it shows',
          options: [
            { value: '', text: 'Choose' },
            ...helpers.map(({ id, name }) => ({ value: helperValue(id), text: name })),
            { value: SLOW_JOBS, text: 'Slow jobs, which are nobody’s alone' },
          ],
        }),
      },
      form,
    ),
  }
}

/** @param address the whole secret address where it may be shown now, else null */
export function calendarPage(link: CalendarLink, address: string | null, coop: CoopWays) {
  return {
    title: `Calendar of ${whoseWords(link.helperName)}`,
    place: 'coop' as const,
    address: address ?? '',
    ...historyOf(link, coop),
    remove: link.revokedAt === null ? calendarRemovalPath(link.id) : '',
    back: calendarsPath(),
  }
}

function historyOf({ madeBy, createdAt, readAt, revokedAt }: CalendarLink, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    made: `${format.instant(createdAt)} by ${madeBy}`,
    read: readAt === null ? 'never' : format.instant(readAt),
    revoked: revokedAt === null ? '' : format.instant(revokedAt),
  }
}
