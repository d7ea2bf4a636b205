import type { ChoiceField, TextField } from '../../web/fields.ts'
import { numberField, selectField } from '../../web/fields.ts'
import type { Formatter } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { type WishRow, wishField } from './forms.ts'

/** One row of the wish form: `{{> plan-wish row=row}}`. */
export type WishRowModel = {
  legend: string
  says: string
  numbers: TextField[]
  matters: ChoiceField
}

/** The rows' fields, by name for `formModel` and by row for the template. */
export function wishRowModels(
  form: TypedForm,
  rows: readonly WishRow[],
  format: Formatter,
): { rows: WishRowModel[]; fields: Record<string, TextField | ChoiceField> } {
  const fields: Record<string, TextField | ChoiceField> = {}
  const models = rows.map((row) => {
    const numbers = (['atLeast', 'about', 'atMost'] as const).map((part) => {
      const name = wishField(row, part)
      const field = numberField(form, { name, label: labels[part] })
      fields[name] = { ...field, inputmode: 'numeric' }
      return { ...field, inputmode: 'numeric' }
    })
    const name = wishField(row, 'matters')
    const matters = selectField(form, { name, label: 'Matters', options: mattersOptions })
    fields[name] = matters
    const { recipe, pack } = row
    return {
      legend: `${recipe.name}, ${pack.units}`,
      says: `${format.weight(pack.gramsPerUnit)} of raw weight each`,
      numbers,
      matters,
    }
  })
  return { rows: models, fields }
}

const labels = { atLeast: 'At least', about: 'About', atMost: 'At most' } as const

const mattersOptions = [
  { value: '1', text: 'a little' },
  { value: '2', text: 'fairly' },
  { value: '3', text: 'very much' },
]
