import { placeKinds } from '../../../core/shelf/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel, radiosField, selectField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { newPlacePath, placeClosingPath, placePath, placesPath, shelfPath, stockTakePath } from '../paths.ts'
import { placeKindWords } from '../words.ts'
import type { Place } from './queries.ts'

export function placesPage(places: Place[], units: ReadonlyMap<string, number>, coop: CoopWays) {
  const format = formatFor(coop)
  const rows = places.map(({ id, name, kind, household, closed }) => ({
    name,
    change: placePath(id),
    kind: placeKindWords[kind],
    whose: household ?? 'shared',
    units: format.number(units.get(id) ?? 0),
    stock: `${shelfPath()}?place=${id}`,
    count: stockTakePath(id),
    closed,
  }))
  return {
    title: 'Places',
    place: 'shelf' as const,
    open: rows.filter(({ closed }) => !closed),
    closed: rows.filter(({ closed }) => closed),
    add: newPlacePath(),
    back: shelfPath(),
  }
}

/** The form for a new place (`of` null) and for a change. */
export function placePage(
  form: TypedForm,
  { of, version, households }: { of: Place | null; version: number; households: { id: string; name: string }[] },
) {
  return {
    title: of === null ? 'Add a place' : `Change ${of.name}`,
    place: 'shelf' as const,
    action: of === null ? placesPath() : placePath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
    closing: of === null ? '' : placeClosingPath(of.id),
    closed: of?.closed ?? false,
    back: placesPath(),
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Name', hint: 'As people call it: cellar at the Pikes’' }),
        kind: radiosField(form, {
          name: 'kind',
          label: 'What it is',
          options: placeKinds.map((value) => ({ value, text: placeKindWords[value] })),
        }),
        householdId: selectField(form, {
          name: 'householdId',
          label: 'In whose house',
          options: [{ value: '', text: 'shared' }, ...households.map(({ id, name }) => ({ value: id, text: name }))],
        }),
      },
      form,
    ),
  }
}
