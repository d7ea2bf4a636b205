import { crops } from '../../core/produce/index.ts'
import { trimKinds } from '../../core/produce/vocabulary.ts'
import {
  type AnyField,
  type ChoiceField,
  checkboxField,
  formModel,
  numberField,
  type Option,
  radiosField,
  selectField,
  type TextField,
  textareaField,
  textField,
} from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { claimRows, ingredientRow, jarOfPack, stepRow } from './form-making.ts'
import { formRows } from './forms.ts'
import { recipePath, recipesPath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { capital, materialName, methodOptions, trimWords } from './words.ts'

/** What the form's lists offer beside what the recipe names already. */
export type Choices = {
  materials: { key: string; name: string }[]
  supplies: { key: string; name: string; unit: string }[]
  /** Products of the tested tables, by name. */
  products: string[]
  /** Processes that the stewards noted, as options by id. */
  local: Option[]
}

/** The form for a new recipe (`of` null) and for a change. Rows beyond the first are folded while they are empty. */
export function recipeFormPage(form: TypedForm, of: KeptRecipe | null, version: number, choices: Choices) {
  const fields: Record<string, AnyField> = {}
  const keep = <F extends AnyField>(field: F): F => {
    fields[field.name] = field
    return field
  }
  const name = keep(textField(form, { name: 'name', label: 'Name', hint: 'As it is called on the jar: Damson jam' }))
  const method = keep(radiosField(form, { name: 'method', label: 'Kept how', options: methodOptions }))
  const inputs = rowsOf(form, 'inputs', formRows.inputs).map((row) => inputRow(form, row, choices, keep))
  const ingredients = rowsOf(form, 'ingredients', formRows.ingredients).map((row) =>
    ingredientRow(form, `ingredients.${row}`, row, choices, keep),
  )
  const claim = claimRows(form, choices, keep)
  const steps = rowsOf(form, 'steps', formRows.steps).map((row) => ({
    open: isTouched(form, `steps.${row}`),
    legend: `Step ${row + 1}`,
    ...stepRow(form, `steps.${row}`, row, keep),
  }))
  const workPerKg = keep(
    textField(form, {
      name: 'workPerKg',
      label: 'Minutes of hands for each kilogram',
      hint: 'Of wash, cut, stove, fill, pack: “wash 1, cut 5”',
      optional: true,
    }),
  )
  const packs = rowsOf(form, 'packs', formRows.packs).map((row) => packRow(form, row, choices, keep))
  const cautions = keep(
    textareaField(form, {
      name: 'cautions',
      label: 'Cautions',
      hint: 'One on each line: boiling sugar, sharp knives, what children stay away from',
      optional: true,
    }),
  )
  const source = keep(
    textareaField(form, {
      name: 'source',
      label: 'Where the figures come from',
      hint: 'Document and page, or “our own”',
      rows: 2,
    }),
  )
  return {
    title: of === null ? 'Add a recipe' : `Change ${of.name}`,
    place: 'coop' as const,
    action: of === null ? recipesPath() : recipePath(of.id),
    button: of === null ? 'Add the recipe' : 'Save',
    version: String(version),
    back: of === null ? recipesPath() : recipePath(of.id),
    form: formModel(fields, form),
    name,
    method,
    inputs,
    ingredients,
    claim,
    steps,
    workPerKg,
    packs,
    cautions,
    source,
  }
}

export type Keep = <F extends AnyField>(field: F) => F

function inputRow(form: TypedForm, row: number, choices: Choices, keep: Keep) {
  const at = `inputs.${row}`
  const typed = form.typed[`${at}.from`]
  return {
    legend: row === 0 ? 'What goes in' : `What goes in, number ${row + 1}`,
    open: row === 0 || isTouched(form, at),
    first: row === 0,
    from: keep(selectField(form, { name: `${at}.from`, label: 'Crop or material', options: sources(choices, typed) })),
    suits: keep(
      textField(form, {
        name: `${at}.suits`,
        label: 'Classes and how well each suits, in percent',
        hint: 'Of firm, ripe, soft, damaged: “firm 80, ripe 100”. Empty for peels or juice',
        optional: true,
      }),
    ),
    share: keep(
      numberField(form, {
        name: `${at}.share`,
        label: 'Share of the raw weight',
        hint: '“50 to 80” leaves it open; empty: all of it',
        optional: true,
        suffix: '%',
      }),
    ),
    trim: rowsOf(form, `${at}.trim`, formRows.trim).map((part) => trimRow(form, `${at}.trim.${part}`, part, keep)),
  }
}

function trimRow(form: TypedForm, at: string, row: number, keep: Keep) {
  const kinds = trimKinds.map((value) => ({ value, text: trimWords[value] }))
  const which = row === 0 ? 'Trim' : 'More trim'
  return {
    kind: keep(
      selectField(form, { name: `${at}.kind`, label: which, options: [nothing('none'), ...kinds], optional: true }),
    ),
    share: keep(
      numberField(form, { name: `${at}.share`, label: `${which}: how much leaves`, optional: true, suffix: '%' }),
    ),
    byClass: keep(
      textField(form, {
        name: `${at}.byClass`,
        label: `${which}: where a class differs`,
        hint: '“damaged 38”',
        optional: true,
      }),
    ),
  }
}

function packRow(form: TypedForm, row: number, choices: Choices, keep: Keep) {
  const at = `packs.${row}`
  const text = (name: string, label: string, hint = '', optional = true): TextField =>
    keep(textField(form, { name: `${at}.${name}`, label, hint, optional }))
  const number = (name: string, label: string, hint = '', optional = false): TextField =>
    keep(numberField(form, { name: `${at}.${name}`, label, hint, optional }))
  return {
    legend: row === 0 ? 'Put up in' : `Put up in, number ${row + 1}`,
    open: row === 0 || isTouched(form, at),
    first: row === 0,
    unit: text('unit', 'What one is called', 'quart, one-kilo bag', false),
    units: text('units', 'More than one', 'Empty: with an s'),
    jar: jarOfPack(form, at, keep),
    key: text('key', 'Short name', 'Plans know it by this; empty: made from what one is called'),
    gramsPerUnit: number('gramsPerUnit', 'Raw weight for one', 'Everything that goes in: “1.134 kg”, “2 1/2 lb”'),
    worthMinor: number('worthMinor', 'What one is worth to us', 'Like 4.50'),
    freezerMl: number('freezerMl', 'Room of one in the freezer', 'Like “1.9 l”', true),
    workPerUnit: text('workPerUnit', 'Minutes of hands for one', '“fill 2, pack 0.5”'),
    machineMinutesPerUnit: text(
      'machineMinutesPerUnit',
      'Minutes of machines for one',
      '“press 5”; not what a whole load takes',
    ),
    supplies: rowsOf(form, `${at}.supplies`, formRows.supplies).map((part) =>
      supplyRow(form, `${at}.supplies.${part}`, part, choices, keep),
    ),
    runs: rowsOf(form, `${at}.runs`, formRows.runs).map((run) => ({
      legend: run === 0 ? 'Made in loads or pots' : 'And before or after it',
      name: text(`runs.${run}.name`, run === 0 ? 'Load' : 'Second load', 'canner load, pot; empty: made one by one'),
      unitsPerRun: number(`runs.${run}.unitsPerRun`, 'How many are full', '', true),
      fillAtLeast: number(`runs.${run}.fillAtLeast`, 'How full the last one must be, percent', '', true),
      machineMinutes: text(`runs.${run}.machineMinutes`, 'Minutes of machines for a load', '“canner 60, burner 60”'),
      work: text(`runs.${run}.work`, 'Minutes of hands for a load', '“stove 8”'),
      process: keep(
        checkboxField(form, {
          name: `${at}.runs.${run}.process`,
          label: 'The tested minutes come on top',
          hint: 'For a canner load: its machine minutes are then heating up and cooling only',
        }),
      ),
    })),
    makes: {
      open: isTouched(form, `${at}.makes`),
      name: text('makes.name', 'Gives a material for other recipes', 'apple juice; empty for most'),
      gramsPerUnit: number('makes.gramsPerUnit', 'How much of it one gives', '', true),
      readyAfterDays: number('makes.readyAfterDays', 'Days before it can be used', '', true),
      keepsDays: number('makes.keepsDays', 'Days that it keeps', '', true),
    },
  }
}

function supplyRow(
  form: TypedForm,
  at: string,
  row: number,
  { supplies }: Choices,
  keep: Keep,
): { supply: ChoiceField; amount: TextField } {
  const typed = form.typed[`${at}.key`]
  const known = supplies.map(({ key, name, unit }) => ({
    value: key,
    text: unit === 'g' || unit === 'ml' ? `${name}, ${unit}` : name,
  }))
  return {
    supply: keep(
      selectField(form, {
        name: `${at}.key`,
        label: `Supply ${row + 1}`,
        options: withTyped([nothing('none'), ...known], typed),
        optional: true,
      }),
    ),
    amount: keep(
      numberField(form, { name: `${at}.amount`, label: `Amount of supply ${row + 1} for one`, optional: true }),
    ),
  }
}

function sources({ materials }: Choices, typed: string | readonly string[] | undefined): Option[] {
  const ofCrops = crops.map(({ key, plural }) => ({ value: `crop:${key}`, text: plural }))
  const ofTrim = trimKinds.map((key) => ({ value: `material:${key}`, text: trimWords[key] }))
  const made = materials.map(({ key, name }) => ({ value: `material:${key}`, text: name }))
  const sorted = ofCrops
    .sort((a, b) => a.text.localeCompare(b.text))
    .map(({ value, text }) => ({ value, text: capital(text) }))
  return withTyped([nothing('nothing'), ...sorted, ...ofTrim, ...made], typed)
}

/** What the recipe names already stays on offer, though no other recipe makes it and no supply is called so any more. */
function withTyped(options: Option[], typed: string | readonly string[] | undefined): Option[] {
  if (typeof typed !== 'string' || typed === '' || options.some(({ value }) => value === typed)) return options
  return [...options, { value: typed, text: materialName(typed.replace(/^\w+:/, '')) }]
}

function nothing(text: string): Option {
  return { value: '', text }
}

/** Numbers of the rows to show: so many at least, and one more than are filled in. */
function rowsOf(form: TypedForm, name: string, least: number): number[] {
  const filled = Object.entries(form.typed).flatMap(([field, value]) => {
    const row =
      field.startsWith(`${name}.`) && value !== '' ? Number(field.slice(name.length + 1).split('.')[0]) : Number.NaN
    return Number.isSafeInteger(row) && row >= 0 ? [row] : []
  })
  const many = Math.min(30, Math.max(least, ...filled.map((row) => row + 1)))
  return Array.from({ length: many }, (_, row) => row)
}

/** Something is filled in or wrong here. */
function isTouched(form: TypedForm, at: string): boolean {
  const filled = Object.entries(form.typed).some(([field, value]) => field.startsWith(`${at}.`) && value !== '')
  return filled || Object.keys(form.errors).some((field) => field.startsWith(`${at}.`))
}
