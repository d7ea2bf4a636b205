import type { CoopWays } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { supplyPath } from '../../supplies/paths.ts'
import { jarBatchPath, ledgerPath, shelfPath, undoEntryPath } from '../paths.ts'
import { entryWords } from '../words.ts'
import { mayBeUndone } from './actions.ts'
import type { Entry } from './queries.ts'

/** So many entries stand on one page of the ledger. */
export const ENTRIES_PER_PAGE = 100

/** One entry as the partial shelf-entries shows it. */
export function entryRow(entry: Entry, format: Formatter) {
  const what = whatOf(entry)
  return {
    at: format.instant(entry.at),
    ...what,
    kind: entryWords[entry.kind],
    units: signed(entry.units, format),
    left: format.number(entry.stockAfter),
    household: entry.household ?? '',
    by: entry.by,
    note: entry.note ?? '',
    undone: entry.undone,
    undo: mayBeUndone(entry) ? undoEntryPath(entry.id) : '',
    undoes: `${entryWords[entry.kind]}, ${signed(entry.units, format)} of ${what.text}`,
  }
}

function whatOf({ of }: Entry): { href: string; text: string; where: string } {
  if ('supplyId' in of) return { href: supplyPath(of.supplyId), text: of.name, where: 'supplies' }
  const where = of.owner === null ? of.place : `${of.place}, ${of.owner}`
  return { href: jarBatchPath(of.jarBatchId), text: `${of.product} ${of.code}`, where }
}

/** "+3", "−3": with a sign that screen readers and eyes both take for minus */
function signed(units: number, format: Formatter): string {
  return units < 0 ? `−${format.number(-units)}` : `+${format.number(units)}`
}

/** The ledger, newest first. `entries` may hold one more than a page: then there are older ones. */
export function ledgerPage(
  entries: Entry[],
  {
    households,
    householdId,
    before,
  }: { households: { id: string; name: string }[]; householdId: string; before: number | undefined },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const shown = entries.slice(0, ENTRIES_PER_PAGE)
  const last = shown.at(-1)
  const of = households.find(({ id }) => id === householdId)
  const here = ledgerPath(of?.id)
  return {
    title: of === undefined ? 'Ledger of the shelf' : `Ledger of the shelf: ${of.name}`,
    place: 'shelf' as const,
    rows: shown.map((entry) => entryRow(entry, format)),
    action: ledgerPath(),
    households: [
      { value: '', text: 'everybody', chosen: of === undefined },
      ...households.map(({ id, name }) => ({ value: id, text: name, chosen: id === householdId })),
    ],
    newest: before === undefined ? '' : here,
    older:
      last === undefined || entries.length <= ENTRIES_PER_PAGE
        ? ''
        : `${here}${here.includes('?') ? '&' : '?'}before=${last.order}`,
    back: shelfPath(),
  }
}
