import { ageOf, type Keeping, type PlaceKind } from '../../core/shelf/index.ts'
import type { Formatter } from '../../web/format.ts'
import type { EntryKind } from './ledger.ts'

export const keepingWords: Record<Keeping, string> = {
  shelf: 'on a shelf',
  refrigerator: 'in the refrigerator',
  freezer: 'in the freezer',
  dry: 'dry and dark',
}

export const placeKindWords: Record<PlaceKind, string> = {
  pantry: 'pantry',
  cellar: 'cellar',
  freezer: 'freezer',
  refrigerator: 'refrigerator',
}

export const entryWords: Record<EntryKind, string> = {
  put: 'put on the shelf',
  take: 'taken',
  move: 'moved',
  give: 'given away',
  share: 'shared out',
  break: 'broken or thrown out',
  use: 'used in another batch',
  buy: 'bought',
  return: 'came back empty',
  count: 'stock-take',
  undo: 'undone',
}

/** "17 half-pint jars" */
export function unitsText(
  units: number,
  { unit, unitsName }: { unit: string; unitsName: string },
  format: Formatter,
): string {
  return format.count(units, unit, unitsName)
}

export type BestBy = { text: string; soon: boolean; past: boolean }

/** What a best-by date says today: "by Mon 3 Nov 2026, in 12 days", "past since Sat 1 Aug 2026". */
export function bestByWords(bestBy: string | null, today: string, format: Formatter): BestBy {
  const age = ageOf(bestBy, today)
  if (bestBy === null || age.state === 'unknown') return { text: 'no date noted', soon: false, past: false }
  const date = format.date(bestBy)
  if (age.state === 'past') return { text: `past its best since ${date}`, soon: false, past: true }
  if (age.state === 'later') return { text: `by ${date}`, soon: false, past: false }
  return {
    text: `by ${age.days === 0 ? 'today' : `${date}, in ${format.count(age.days, 'day')}`}`,
    soon: true,
    past: false,
  }
}

/** "a", "a and b", "a, b and c" */
export function listOf(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
}
