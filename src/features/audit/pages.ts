import type { Asking } from '../../web/asking.ts'
import { eventKinds } from '../../web/events.ts'
import { formatFor } from '../../web/format.ts'
import { coopPath } from '../coop/paths.ts'
import { mayReadEvents } from './access.ts'
import { auditPath } from './paths.ts'
import { CHANGES, type Entry } from './queries.ts'

/** "role changed", "changes of lots" */
export function kindWords(kind: string): string {
  return kind.replaceAll('-', ' ')
}

export function auditPage(
  { entries, more }: { entries: readonly Entry[]; more: boolean },
  asked: { kind: string | null; before: boolean },
  asking: Asking,
) {
  const format = formatFor(asking.coop)
  const whole = mayReadEvents(asking)
  const kind = asked.kind ?? ''
  const last = entries.at(-1)
  return {
    title: whole ? 'Audit' : 'History',
    place: 'coop' as const,
    whole,
    action: auditPath(),
    kinds: [
      { value: '', text: 'everything' },
      { value: CHANGES, text: 'changes of the co-op’s things' },
      ...eventKinds.map((value) => ({ value, text: kindWords(value) })),
    ].map((option) => ({ ...option, chosen: option.value === kind })),
    rows: entries.map((entry) => ({
      at: format.instant(entry.at),
      kind: entry.noun === null ? kindWords(entry.kind) : `changed: ${kindWords(entry.noun)}`,
      who: entry.who === '' ? 'nobody known' : entry.who,
      what: entry.what,
    })),
    newest: asked.before ? auditPath({ kind }) : '',
    older: more && last !== undefined ? auditPath({ kind, before: cursorText(last) }) : '',
    back: coopPath(),
  }
}

/** Where the next page begins, as it stands in an address. */
export function cursorText({ at, id }: Pick<Entry, 'at' | 'id'>): string {
  return `${at.getTime()}-${id}`
}
