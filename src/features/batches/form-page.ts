import { keepingIn } from '../../core/batches/index.ts'
import { ripenessClasses } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import {
  type AnyField,
  checkboxesField,
  checkboxField,
  dateField,
  formModel,
  numberField,
  selectField,
  textareaField,
  textField,
} from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { Typed, TypedForm } from '../../web/forms.ts'
import { ALONE_IN } from '../../web/lengths.ts'
import { typedMass } from '../../web/typed.ts'
import { classWords, lotTitle, usedField } from '../lots/index.ts'
import { trimWords } from '../recipes/index.ts'
import { placeKindWords } from '../shelf/index.ts'
import { newPlacePath } from '../shelf/paths.ts'
import { SHARED } from './form.ts'
import type { FormFacts } from './load.ts'
import { handMinutesFor, type Making, materialsOf, suppliesFor, trimOf } from './making.ts'
import { batchesPath, newBatchPath } from './paths.ts'
import { processPart, processTyped } from './process-part.ts'
import { wentWords } from './words.ts'

/** What a fresh form begins with: what was planned, else what so many units take. */
export function startTyped(facts: FormFacts, units: number, coop: CoopWays): Typed {
  const { making, planned, planId, today } = facts
  const typed: Record<string, string> = {
    recipe: making.recipe.id,
    pack: making.pack.key,
    plan: planId ?? '',
    planned: planned?.id ?? '',
    [ALONE_IN]: coop.units,
    madeOn: today,
    units: String(units),
    unsealed: '',
    handMinutes: planned === null ? '' : String(Math.round(handMinutesFor(making, units))),
    placeId: firstPlace(facts),
    householdId: SHARED,
    ...processTyped(making),
  }
  for (const { lotId, class: name, grams } of planned?.lots ?? []) typed[usedField(lotId, name)] = typedMass(grams)
  for (const { kind, grams, outletId } of planned?.trim ?? []) {
    typed[`trim.${kind}.grams`] = typedMass(grams)
    typed[`trim.${kind}.outlet`] = outletId ?? ''
  }
  for (const [key, amount] of Object.entries(suppliesFor(making, units))) typed[`supply.${key}`] = String(amount)
  return typed
}

/** The first open place that keeps it, a shelf rather than the cold; else the first there is, which is refused in words. */
function firstPlace({ making, places }: FormFacts): string {
  const { recipe, verdict } = making
  const keeping = places.filter(({ kind }) => keepingIn(recipe.method, verdict.shelfStable, kind) !== null)
  const shelf = keeping.find(({ kind }) => kind === 'pantry' || kind === 'cellar')
  return (shelf ?? keeping[0] ?? places[0])?.id ?? ''
}

/** The form of a batch that is finished. */
export function finishPage(form: TypedForm, facts: FormFacts, coop: CoopWays) {
  const { making, planned, planId, places } = facts
  const format = formatFor(coop)
  const { recipe, pack } = making
  const fields: Record<string, AnyField> = {}
  const keep = <F extends AnyField>(field: F): F => {
    fields[field.name] = field
    return field
  }
  const process = processPart(form, making, facts.canners, coop, keep)
  const rows = {
    madeOn: keep(dateField(form, { name: 'madeOn', label: 'Made on' })),
    lots: lotRows(form, facts, format, keep),
    sure: keep(
      checkboxField(form, {
        name: 'sure',
        label: 'Yes, so much was taken',
        hint: 'Needed when more was taken of a lot than should be there',
      }),
    ),
    other: otherField(form, making, keep),
    jars: jarRows(form, facts, format, keep),
    units: keep({
      ...numberField(form, { name: 'units', label: `How many ${pack.units} are kept`, hint: unitsHint(making) }),
      inputmode: 'numeric',
    }),
    unsealed: making.canned ? unsealedFields(form, keep) : null,
    trim: trimRows(form, facts, keep),
    helpers: keep(
      checkboxesField(form, {
        name: 'helpers',
        label: 'Who helped',
        optional: true,
        options: facts.helpers.map(({ id, name }) => ({ value: id, text: name })),
      }),
    ),
    handMinutes: keep(
      numberField(form, { name: 'handMinutes', label: 'Minutes of all hands together', suffix: 'min', optional: true }),
    ),
    supplies: supplyRows(form, facts, keep),
    placeId: keep(
      selectField(form, {
        name: 'placeId',
        label: 'Where it stands',
        options: places.map(({ id, name, kind }) => ({ value: id, text: `${name} (${placeKindWords[kind]})` })),
      }),
    ),
    householdId: keep(
      selectField(form, {
        name: 'householdId',
        label: 'Whose it is',
        options: [
          { value: SHARED, text: 'shared' },
          ...facts.households.map(({ id, name }) => ({ value: id, text: name })),
        ],
      }),
    ),
    allergens: keep(
      textField(form, {
        name: 'allergens',
        label: 'Allergens in it',
        hint: 'Like “mustard, celery”. They stand on the label.',
        optional: true,
      }),
    ),
    bestBy: keep(
      dateField(form, {
        name: 'bestBy',
        label: 'Best by',
        hint: 'Left empty, it follows from published storage lives where there is one.',
        optional: true,
      }),
    ),
    note: keep(textareaField(form, { name: 'note', label: 'Note', rows: 2, optional: true })),
  }
  return {
    title: `Finish a batch: ${recipe.name}, ${pack.units}`,
    place: 'shelf' as const,
    action: batchesPath(),
    hidden: ['recipe', 'pack', 'plan', 'planned', ALONE_IN].map((name) => ({
      name,
      value: String(form.typed[name] ?? ''),
    })),
    lead: leadOf(facts, format),
    cautions: recipe.definition.cautions,
    noLots: facts.lots.length === 0 && recipe.definition.inputs.some(({ from }) => 'crop' in from),
    noPlaces: places.length === 0,
    addPlace: newPlacePath(),
    process,
    rows,
    back: planId === null ? newBatchPath() : newBatchPath(planId),
    form: formModel(fields, form),
    planned: planned !== null,
  }
}

type Keep = <F extends AnyField>(field: F) => F

function leadOf({ planned }: FormFacts, format: Formatter): string {
  if (planned === null) return ''
  const { units, unit, unitsName, grams, date } = planned
  return `Planned for ${format.day(date)}: ${format.count(units, unit, unitsName)} of ${format.weight(grams)}. The form is filled in with that: change what was different.`
}

function unitsHint({ canned, pack }: Making): string {
  return canned && pack.jar !== null
    ? 'Jars that sealed; those that were processed again and sealed then are among them.'
    : ''
}

function lotRows(form: TypedForm, { lots }: FormFacts, format: Formatter, keep: Keep) {
  return lots.map(({ lot, standing }) => {
    const shown = ripenessClasses.filter(
      (name) => standing.grams[name] > 0 || (form.typed[usedField(lot.id, name)] ?? '') !== '',
    )
    const there = shown.map((name) => `${format.weight(standing.grams[name])} ${classWords[name].name}`)
    return {
      legend: `${lotTitle(lot)}, from ${lot.broughtBy}`,
      hint: there.length === 0 ? 'nothing should be left' : `should be there: ${there.join(', ')}`,
      fields: (shown.length === 0 ? (['ripe'] as const) : shown).map((name) =>
        keep(textField(form, { name: usedField(lot.id, name), label: `Taken, ${classWords[name].name}` })),
      ),
    }
  })
}

function otherField(form: TypedForm, making: Making, keep: Keep) {
  const { trim } = materialsOf(making)
  if (trim.length === 0) return null
  const names = trim.map((kind) => trimWords[kind]).join(', ')
  return keep(textField(form, { name: 'other', label: `Weight of ${names} that went in` }))
}

function jarRows(form: TypedForm, { jars }: FormFacts, format: Formatter, keep: Keep) {
  return jars.map(({ jarBatchId, product, code, unit, unitsName, stock, place, household, gramsPerUnit }) => ({
    legend: `${product} ${code}`,
    hint: `${format.count(stock, unit, unitsName)} in ${place}${household === null ? '' : `, of ${household}`}; about ${format.weight(gramsPerUnit)} each`,
    fields: [
      keep({
        ...numberField(form, { name: `jars.${jarBatchId}.units`, label: `How many ${unitsName} were used` }),
        inputmode: 'numeric',
      }),
      keep(textField(form, { name: `jars.${jarBatchId}.grams`, label: 'Weight, if you weighed it', optional: true })),
    ],
  }))
}

function unsealedFields(form: TypedForm, keep: Keep) {
  const went = (['refrigerated', 'reprocessed', 'frozen', 'eaten', 'discarded'] as const).map((value) => ({
    value,
    text: wentWords[value],
  }))
  return {
    count: keep({ ...numberField(form, { name: 'unsealed', label: 'Jars that did not seal' }), inputmode: 'numeric' }),
    went: keep(
      selectField(form, {
        name: 'unsealedWent',
        label: 'What became of them',
        options: [{ value: '', text: 'all sealed' }, ...went],
      }),
    ),
  }
}

function trimRows(form: TypedForm, { making, outlets }: FormFacts, keep: Keep) {
  const options = [{ value: '', text: 'not said' }, ...outlets.map(({ id, name }) => ({ value: id, text: name }))]
  return trimOf(making).map((kind) => ({
    legend: `Trim: ${trimWords[kind]}`,
    weight: keep(textField(form, { name: `trim.${kind}.grams`, label: 'Weight', optional: true })),
    outlet: keep(selectField(form, { name: `trim.${kind}.outlet`, label: 'Where it went', options })),
  }))
}

/** Supplies that the kitchen counts, each with what is on hand. */
function supplyRows(form: TypedForm, { making, supplies }: FormFacts, keep: Keep) {
  const keys = Object.keys(suppliesFor(making, 1))
  return supplies
    .filter(({ key }) => keys.includes(key))
    .map(({ key, name, unit, onHand }) =>
      keep({
        ...numberField(form, {
          name: `supply.${key}`,
          label: `${name} used`,
          hint: `${onHand} ${unit} noted`,
          suffix: unit,
        }),
        inputmode: 'numeric',
      }),
    )
}
