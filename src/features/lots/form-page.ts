import { crop, crops, lotSources, ripenessClasses, storages } from '../../core/produce/index.ts'
import { parseMass } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel, numberField, radiosField, selectField, textareaField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import type { ReadBack } from './intake.ts'
import type { Lot } from './lot.ts'
import { capital, classWords, lotName, sourceWords, storageWords } from './names.ts'
import { lotChangePath, lotPath, lotsPath } from './paths.ts'
import type { Neighbour } from './queries.ts'

/** The form of a new lot; filled in from a typed line when there was one. */
export function intakePage(
  form: TypedForm,
  more: { coop: CoopWays; neighbours: readonly Neighbour[]; today: string; readBack?: ReadBack },
) {
  const { coop, neighbours, today, readBack } = more
  const line = textIn(form, 'line')
  return {
    title: line === '' ? 'Take in produce' : 'Read back: is this right?',
    place: 'produce' as const,
    action: lotsPath(),
    line,
    doubts: readBack?.doubts ?? [],
    assumed: readBack?.assumed ?? '',
    names: namesOf(neighbours),
    back: lotsPath(),
    form: formModel(
      {
        weight: weightField(form, coop, crop(textIn(form, 'crop'))),
        crop: selectField(form, { name: 'crop', label: 'Crop', options: cropOptions() }),
        class: radiosField(form, {
          name: 'class',
          label: 'Most of it is',
          hint: 'Sorting it later says it more exactly',
          options: ripenessClasses.map((value) => ({
            value,
            text: classWords[value].name,
            hint: classWords[value].says,
          })),
        }),
        storage: storageField(form, 'Where it waits'),
        broughtBy: textField(form, { name: 'broughtBy', label: 'Brought by' }),
        source: sourceField(form),
        variety: textField(form, { name: 'variety', label: 'Variety', optional: true }),
        householdId: householdField(form, neighbours),
        arrivedOn: textField(form, {
          name: 'arrivedOn',
          label: 'Came in on',
          hint: `Like ${today}, today or yesterday`,
        }),
        priceMinor: priceField(form, coop),
        note: noteField(form),
      },
      form,
    ),
  }
}

/** The form of a change; the weight is offered only while the lot is as it came in. */
export function changePage(
  form: TypedForm,
  more: { coop: CoopWays; neighbours: readonly Neighbour[]; lot: Lot; version: number; unsorted: boolean },
) {
  const { coop, neighbours, lot, version, unsorted } = more
  return {
    title: `Change ${lotName(lot)}`,
    place: 'produce' as const,
    action: lotChangePath(lot.id),
    version: String(version),
    names: namesOf(neighbours),
    back: lotPath(lot.id),
    unsorted,
    form: formModel(
      {
        ...(unsorted ? { weight: weightField(form, coop, crop(lot.crop)) } : {}),
        broughtBy: textField(form, { name: 'broughtBy', label: 'Brought by' }),
        source: sourceField(form),
        variety: textField(form, { name: 'variety', label: 'Variety', optional: true }),
        householdId: householdField(form, neighbours),
        priceMinor: priceField(form, coop),
        note: noteField(form),
      },
      form,
    ),
  }
}

/** One of the three places, with its usual temperature beside it. */
export function storageField(form: TypedForm, label: string) {
  return radiosField(form, {
    name: 'storage',
    label,
    options: storages.map((value) => ({ value, text: storageWords[value].name, hint: storageWords[value].says })),
  })
}

function weightField(form: TypedForm, coop: CoopWays, known: ReturnType<typeof crop>) {
  const read = parseMass(textIn(form, 'weight'), known)
  const hint = read.ok
    ? `Read as ${read.reading}: ${formatFor(coop).weight(read.grams)} in all`
    : 'In any unit: 12 kg, 12 1/2 lb, 2 bushels, 36 medium'
  return { ...numberField(form, { name: 'weight', label: 'Weight', hint }), inputmode: 'text' }
}

function sourceField(form: TypedForm) {
  return radiosField(form, {
    name: 'source',
    label: 'How it came',
    options: lotSources.map((value) => ({ value, text: sourceWords[value] })),
  })
}

function householdField(form: TypedForm, neighbours: readonly Neighbour[]) {
  return selectField(form, {
    name: 'householdId',
    label: 'Household it counts for',
    optional: true,
    options: [
      { value: '', text: 'none' },
      ...neighbours.map(({ householdId, household }) => ({ value: householdId, text: household })),
    ],
  })
}

function priceField(form: TypedForm, coop: CoopWays) {
  return numberField(form, {
    name: 'priceMinor',
    label: 'Price of all of it',
    hint: `In ${coop.currency}, like 54.50`,
    optional: true,
  })
}

function noteField(form: TypedForm) {
  return textareaField(form, { name: 'note', label: 'Note', optional: true, rows: 3 })
}

function cropOptions() {
  const byName = [...crops].sort((a, b) => a.plural.localeCompare(b.plural, 'en'))
  return [
    { value: '', text: 'Choose a crop' },
    ...byName.map(({ key, plural }) => ({ value: key, text: capital(plural) })),
  ]
}

/** Names to choose from while typing: members, then households. */
function namesOf(neighbours: readonly Neighbour[]): string[] {
  return [...neighbours.flatMap(({ members }) => members), ...neighbours.map(({ household }) => household)]
}

function textIn(form: TypedForm, name: string): string {
  const value = form.typed[name]
  return typeof value === 'string' ? value.trim() : ''
}
