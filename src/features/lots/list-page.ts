import { dateAfter } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import type { Beam } from '../../web/beam.ts'
import { formModel, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { cropsPath } from '../crops/paths.ts'
import { lotBeam, partsInWords, totalBeam } from './beams.ts'
import type { Lot } from './lot.ts'
import { lotName, lotTitle, storageWords } from './names.ts'
import { closedLotsPath, lotPath, lotsPath, newLotPath } from './paths.ts'
import { CLOSED_LOTS_SHOWN } from './queries.ts'
import { bySpoiling, type Standing, standingOn } from './standing.ts'

/** A lot with what it is today. */
export type LotToday = { lot: Lot; standing: Standing }

/** Lots as they are on a date, in the order in which they spoil. */
export function lotsToday(lots: readonly Lot[], today: string): LotToday[] {
  return lots
    .map((lot) => ({ lot, standing: standingOn(lot, today) }))
    .sort((a, b) => bySpoiling(a.standing, b.standing))
}

/** The page of what there is, with the line for what came in on top. */
export function lotsPage(form: TypedForm, more: { coop: CoopWays; lots: readonly LotToday[]; closed: number }) {
  const { coop, lots, closed } = more
  const format = formatFor(coop)
  return {
    title: 'Produce',
    place: 'produce' as const,
    sentence: lotsSentence(lots, format),
    beam: totalBeam(
      lots.map(({ standing }) => standing),
      format,
    ),
    rows: lots.map(({ lot, standing }) => lotRow(lot, standing, format)),
    add: newLotPath(),
    crops: cropsPath(),
    closed: closed === 0 ? null : { href: closedLotsPath(), text: format.count(closed, 'closed lot') },
    form: formModel(
      {
        line: {
          ...textField(form, {
            name: 'line',
            label: 'What came in?',
            hint: 'In one line, like “2 bushels damsons from Mara’s trees, soft”. It is read back before it is saved.',
          }),
          enterkeyhint: 'go',
        },
      },
      form,
    ),
  }
}

export type LotRow = {
  href: string
  name: string
  drawing: Beam | null
  parts: string
  facts: string
  /** When the first of it spoils */
  due: string
  /** today or tomorrow */
  soon: boolean
}

/** "186 kg in 6 lots. First to go: 1.1 kg of tomatoes, by today." Empty when there is no lot. */
export function lotsSentence(lots: readonly LotToday[], format: Formatter): string {
  if (lots.length === 0) return ''
  const usable = lots.reduce((sum, { standing }) => sum + standing.usableGrams, 0)
  const next = lots.find(({ standing }) => standing.first !== null)
  const first = next === undefined ? 'Nothing of it is of use any more.' : `First to go: ${firstInWords(next, format)}.`
  return `${format.weight(usable)} in ${format.count(lots.length, 'lot')}. ${first}`
}

/** "1.1 kg of the tomatoes, by Sat 12 Sep" */
export function firstInWords({ lot, standing }: LotToday, format: Formatter): string {
  const { first } = standing
  if (first === null) return `nothing of the ${lotName(lot)}`
  return `${format.weight(first.grams)} of the ${lotName(lot)}, by ${dayWords(first.useBy, standing.on, format)}`
}

/** One lot of a list. */
export function lotRow(lot: Lot, standing: Standing, format: Formatter): LotRow {
  const { first } = standing
  return {
    href: lotPath(lot.id),
    name: lotTitle(lot),
    drawing: lotBeam(`lot-${lot.id}`, `Where ${format.weight(standing.wholeGrams)} are`, standing, format),
    parts: partsInWords(standing, format),
    facts: `${format.weight(standing.usableGrams)} of use, from ${lot.broughtBy}, ${storageWords[lot.storage].where}`,
    due: dueWords(standing, format),
    soon: first === null || first.useBy <= nextDay(standing.on),
  }
}

/** "Use 3.5 kg by today (Wed 25 Nov), 14.4 kg by Fri 27 Nov." */
export function dueWords({ first, soon, on }: Standing, format: Formatter): string {
  if (first === null) return 'Nothing of it is of use any more: sort it to throw it out, or close it.'
  const start = `Use ${format.weight(first.grams)} by ${dayWords(first.useBy, on, format)}`
  const more = soon.grams > first.grams ? `, ${format.weight(soon.grams)} in all by ${format.day(soon.useBy)}` : ''
  return `${start}${more}.`
}

/** Closed lots, the last closed first. */
export function closedLotsPage(coop: CoopWays, { lots, count }: { lots: readonly Lot[]; count: number }) {
  const format = formatFor(coop)
  return {
    title: 'Closed lots',
    place: 'produce' as const,
    sentence:
      count === 0
        ? 'No lot was closed yet.'
        : `${format.count(count, 'lot')} of which nothing is left to plan with${count > CLOSED_LOTS_SHOWN ? `; the ${CLOSED_LOTS_SHOWN} closed last are shown` : ''}.`,
    back: lotsPath(),
    rows: lots.map((lot) => ({
      href: lotPath(lot.id),
      name: lotTitle(lot),
      weight: format.weight(lot.weightGrams),
      broughtBy: lot.broughtBy,
      arrived: format.date(lot.arrivedOn),
      closed: lot.closedOn === null ? '' : format.date(lot.closedOn),
    })),
  }
}

/** "today", "tomorrow (Sat 12 Sep)" or "Mon 14 Sep" */
export function dayWords(date: string, today: string, format: Formatter): string {
  if (date === today) return `today (${format.day(date)})`
  if (date === nextDay(today)) return `tomorrow (${format.day(date)})`
  return format.day(date)
}

function nextDay(date: string): string {
  return dateAfter(date, 1)
}
