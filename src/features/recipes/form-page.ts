import { crops } from '../../core/produce/index.ts'
import { trimKinds } from '../../core/produce/vocabulary.ts'
import {
  type AnyField,
  formModel,
  numberField,
  type Option,
  radiosField,
  selectField,
  textareaField,
  textField,
} from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { claimRows, ingredientRow, stepRow } from './form-making.ts'
import { packRow } from './form-packs.ts'
import { type Choices, isTouched, type Keep, nothing, rowsOf, withTyped } from './form-rows.ts'
import { formRows } from './forms.ts'
import { recipePath, recipesPath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { capital, methodOptions, trimWords } from './words.ts'

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

function sources({ materials }: Choices, typed: string | readonly string[] | undefined): Option[] {
  const ofCrops = crops.map(({ key, plural }) => ({ value: `crop:${key}`, text: plural }))
  const ofTrim = trimKinds.map((key) => ({ value: `material:${key}`, text: trimWords[key] }))
  const made = materials.map(({ key, name }) => ({ value: `material:${key}`, text: name }))
  const sorted = ofCrops
    .sort((a, b) => a.text.localeCompare(b.text))
    .map(({ value, text }) => ({ value, text: capital(text) }))
  return withTyped([nothing('nothing'), ...sorted, ...ofTrim, ...made], typed)
}
