import { keepsIn } from '../../../core/shelf/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel, numberField, selectField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { batchPath } from '../../batches/paths.ts'
import { labelsPath } from '../../labels/paths.ts'
import { recallPath, traceBatchPath } from '../../recalls/paths.ts'
import { entryRow } from '../entries/pages.ts'
import type { Entry } from '../entries/queries.ts'
import { jarBatchPath, jarEntryPath, newPlacePath, shelfPath, shelfProductPath } from '../paths.ts'
import type { Place } from '../places/queries.ts'
import { bestByWords, keepingWords, unitsText } from '../words.ts'
import { SHARED } from './forms.ts'
import type { JarLine, RecallNotice } from './queries.ts'

/** So many entries stand on one page of a line. */
export const LINE_ENTRIES = 50

/** What can be done to a line. */
export type LineDoing = 'take' | 'give' | 'move' | 'break' | 'count'

export type LineFacts = {
  line: JarLine
  recalls: RecallNotice[]
  /** The other lines of the same batch that are in stock. */
  others: JarLine[]
  /** May hold one more than a page. */
  entries: Entry[]
  before: number | undefined
  households: { id: string; name: string }[]
  places: Place[]
  /** The household for whom one is taken by one press. */
  taker: string | null
  today: string
}

/** What the forms of a line begin with. */
export function lineTyped({ line, taker }: Pick<LineFacts, 'line' | 'taker'>) {
  const typed: Record<string, string> = {
    'take.units': '1',
    'take.householdId': line.household?.id ?? taker ?? '',
    'give.units': '1',
    'break.units': '1',
    'move.units': String(line.stock),
    'move.placeId': line.place.id,
    'move.householdId': line.household?.id ?? SHARED,
    'count.counted': '',
    'count.shown': String(line.stock),
  }
  return typed
}

export function linePage(facts: LineFacts, form: TypedForm, coop: CoopWays) {
  const { line, recalls, others, entries, before, households, places, today } = facts
  const format = formatFor(coop)
  const shown = entries.slice(0, LINE_ENTRIES)
  const last = shown.at(-1)
  const here = jarBatchPath(line.id)
  const taker = households.find(({ id }) => id === (line.household?.id ?? facts.taker))
  const wrong = new Set(Object.keys(form.errors).map((name) => name.split('.')[0]))
  return {
    title: `${line.product} ${line.code}`,
    place: 'shelf' as const,
    notices: recalls.map(({ id, reason, todo }) => ({ reason, todo, href: recallPath(id) })),
    recalled: line.recalled,
    stock: format.number(line.stock),
    unitsName: unitsName(line.stock, line, format.count(line.stock, line.unit, line.unitsName)),
    where: `${line.place.name}, ${line.household === null ? 'shared' : `of ${line.household.name}`}`,
    bestBy: bestByWords(line.bestBy, today, format),
    empty: line.stock === 0,
    mayTake: line.stock > 0 && !line.recalled,
    takeOne: taker === undefined ? null : { householdId: taker.id, text: `Take one for ${taker.name}` },
    paths: each((does) => jarEntryPath(line.id, does)),
    open: each((does) => wrong.has(does)),
    shown: form.typed['count.shown'] ?? '',
    form: formModel(fieldsOf(form, line, households, places), form),
    addPlace: newPlacePath(),
    rows: shown.map((entry) => entryRow(entry, format)),
    newest: before === undefined ? '' : here,
    older: last === undefined || entries.length <= LINE_ENTRIES ? '' : `${here}?before=${last.order}`,
    others: others.map((other) => ({
      href: jarBatchPath(other.id),
      text: `${other.place.name}, ${other.household === null ? 'shared' : `of ${other.household.name}`}`,
      stock: unitsText(other.stock, other, format),
    })),
    facts: [
      { name: 'Made on', says: format.date(line.madeOn) },
      ...(line.variety === null ? [] : [{ name: 'Variety', says: line.variety }]),
      { name: 'Kept', says: keepingWords[line.keeping] },
    ],
    links: [
      { href: batchPath(line.batchId), text: 'The batch: what went in, how it was processed' },
      { href: traceBatchPath(line.batchId), text: 'Where it came from and where it went' },
      { href: labelsPath(line.batchId), text: 'Print labels' },
      { href: shelfProductPath(line.recipeId, line.pack), text: `All batches of ${line.product}` },
      { href: shelfPath(), text: 'The whole shelf' },
    ],
  }
}

function each<T>(of: (does: LineDoing) => T): Record<LineDoing, T> {
  return { take: of('take'), give: of('give'), move: of('move'), break: of('break'), count: of('count') }
}

function fieldsOf(form: TypedForm, line: JarLine, households: { id: string; name: string }[], places: Place[]) {
  const people = households.map(({ id, name }) => ({ value: id, text: name }))
  return {
    takeUnits: numberField(form, { name: 'take.units', label: 'How many' }),
    takeHousehold: selectField(form, {
      name: 'take.householdId',
      label: 'Who takes them',
      options: [{ value: '', text: 'Choose' }, ...people],
    }),
    giveUnits: numberField(form, { name: 'give.units', label: 'How many to give away' }),
    giveNote: textField(form, { name: 'give.note', label: 'To whom', optional: true }),
    moveUnits: numberField(form, { name: 'move.units', label: 'How many to move' }),
    movePlace: selectField(form, {
      name: 'move.placeId',
      label: 'Where to',
      options: places
        .filter(({ id, kind }) => id === line.place.id || keepsIn(line.keeping, kind))
        .map(({ id, name }) => ({ value: id, text: name })),
    }),
    moveHousehold: selectField(form, {
      name: 'move.householdId',
      label: 'Whose they are then',
      options: [{ value: SHARED, text: 'shared' }, ...people],
    }),
    breakUnits: numberField(form, { name: 'break.units', label: 'How many are lost' }),
    breakNote: textField(form, {
      name: 'break.note',
      label: 'What happened',
      hint: 'Broken, lid had lifted, mould',
      optional: true,
    }),
    countCounted: numberField(form, { name: 'count.counted', label: 'How many are really there' }),
  }
}

/** "half-pint jars" out of "17 half-pint jars", so that the number can stand by itself. */
function unitsName(units: number, { unit, unitsName: more }: JarLine, counted: string): string {
  return counted.endsWith(more) || units === 0 ? more : unit
}

/** Several places have jars of a batch: which of them? */
export function codePage(
  batch: { id: string; code: string; product: string; variety: string | null },
  lines: JarLine[],
  recalls: RecallNotice[],
  coop: CoopWays,
) {
  const format = formatFor(coop)
  return {
    title: `${batch.product} ${batch.code}`,
    place: 'shelf' as const,
    notices: recalls.map(({ id, reason, todo }) => ({ reason, todo, href: recallPath(id) })),
    rows: lines.map((line) => ({
      href: jarBatchPath(line.id),
      where: `${line.place.name}, ${line.household === null ? 'shared' : `of ${line.household.name}`}`,
      stock: unitsText(line.stock, line, format),
    })),
    batch: batchPath(batch.id),
    back: shelfPath(),
  }
}
