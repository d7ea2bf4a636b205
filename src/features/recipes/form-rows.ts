import type { AnyField, Option } from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { MOST_ROWS } from './forms.ts'
import { materialName } from './words.ts'

/** What the form's lists offer beside what the recipe names already. */
export type Choices = {
  materials: { key: string; name: string }[]
  supplies: { key: string; name: string; unit: string }[]
  /** Products of the tested tables, by name. */
  products: string[]
  /** Processes that the stewards noted, as options by id. */
  local: Option[]
}

/** Puts a field among those of the page, so that its problem is listed. */
export type Keep = <F extends AnyField>(field: F) => F

/** What the recipe names already stays on offer, though no other recipe makes it and no supply is called so any more. */
export function withTyped(options: Option[], typed: string | readonly string[] | undefined): Option[] {
  if (typeof typed !== 'string' || typed === '' || options.some(({ value }) => value === typed)) return options
  return [...options, { value: typed, text: materialName(typed.replace(/^\w+:/, '')) }]
}

/** The choice of none. */
export function nothing(text: string): Option {
  return { value: '', text }
}

/** Numbers of the rows to show: so many at least, and one more than are filled in. */
export function rowsOf(form: TypedForm, name: string, least: number): number[] {
  const filled = Object.entries(form.typed).flatMap(([field, value]) => {
    const row =
      field.startsWith(`${name}.`) && value !== '' ? Number(field.slice(name.length + 1).split('.')[0]) : Number.NaN
    return Number.isSafeInteger(row) && row >= 0 ? [row] : []
  })
  const many = Math.min(MOST_ROWS, Math.max(least, ...filled.map((row) => row + 2)))
  return Array.from({ length: many }, (_, row) => row)
}

/** Something is filled in or wrong here. */
export function isTouched(form: TypedForm, at: string): boolean {
  const filled = Object.entries(form.typed).some(([field, value]) => field.startsWith(`${at}.`) && value !== '')
  return filled || Object.keys(form.errors).some((field) => field.startsWith(`${at}.`))
}
