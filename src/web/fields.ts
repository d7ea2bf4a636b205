import type { TypedForm } from './forms.ts'

/** What every field partial is given. `id` is the field's anchor, which the summary of problems links to. */
export type Field = {
  name: string
  id: string
  label: string
  hint: string
  value: string
  error: string
  optional: boolean
  /** ids of hint and message, for aria-describedby; '' for none */
  describedBy: string
}

export type TextField = Field & {
  inputmode: string
  autocomplete: string
  enterkeyhint: string
  suffix: string
  type: string
}
export type Option = { value: string; text: string; hint?: string }
export type OptionModel = { value: string; text: string; hint: string; id: string; chosen: boolean }
export type ChoiceField = Field & { options: OptionModel[] }
export type CheckboxField = Field & { checked: boolean }
export type TextareaField = Field & { rows: number }
export type AnyField = TextField | ChoiceField | CheckboxField | TextareaField

/** The model of a form for a template: its fields by name, and the problems for `{{> form-refused form=form}}`. */
export type FormModel<F> = { fields: F; problems: { href: string; text: string }[] }

type Basics = { name: string; label: string; hint?: string; optional?: boolean }

/** Gathers the fields of a form, and what is wrong in their order. */
export function formModel<F extends Record<string, AnyField>>(fields: F, form: TypedForm): FormModel<F> {
  const shown = Object.values(fields)
  const problems = shown.filter(({ error }) => error !== '').map(({ id, error }) => ({ href: `#${id}`, text: error }))
  const placed = new Set(shown.map(({ name }) => name))
  for (const [name, text] of Object.entries(form.errors)) {
    if (!placed.has(name)) problems.push({ href: shown[0] ? `#${shown[0].id}` : '#page', text })
  }
  return { fields, problems }
}

/** One line of text. */
export function textField(
  form: TypedForm,
  field: Basics & { inputmode?: string; autocomplete?: string; enterkeyhint?: string; suffix?: string },
): TextField {
  return {
    ...basics(form, field),
    type: 'text',
    inputmode: field.inputmode ?? 'text',
    autocomplete: field.autocomplete ?? 'off',
    enterkeyhint: field.enterkeyhint ?? 'next',
    suffix: field.suffix ?? '',
  }
}

/**
 * A password, which is never shown again. `autocomplete` tells password managers which one: the one there is, or a new
 * one. Where a form comes back for something else, it says that a new one has to be typed again.
 */
export function passwordField(
  form: TypedForm,
  field: Basics & { autocomplete: 'current-password' | 'new-password' },
): TextField {
  const isGone = Object.keys(form.errors).length > 0 && form.errors[field.name] === undefined
  const again = isGone && field.autocomplete === 'new-password' ? 'Type it again: it is never shown here. ' : ''
  return { ...textField(form, { ...field, hint: `${again}${field.hint ?? ''}`.trim() }), type: 'password', value: '' }
}

/** A number or an amount with its unit: a text field with a keyboard of digits, so that "1 1/2" can be typed too. */
export function numberField(form: TypedForm, field: Basics & { suffix?: string }): TextField {
  return { ...textField(form, field), inputmode: 'decimal' }
}

/** A date; what was typed and is no date is kept as text by browsers without a calendar. */
export function dateField(form: TypedForm, field: Basics): TextField {
  return { ...textField(form, field), type: 'date' }
}

/** Several lines of text. */
export function textareaField(form: TypedForm, field: Basics & { rows?: number }): TextareaField {
  return { ...basics(form, field), rows: field.rows ?? 4 }
}

/** One of many, folded. */
export function selectField(form: TypedForm, field: Basics & { options: readonly Option[] }): ChoiceField {
  return choices(form, field)
}

/** One of a few, all in sight. */
export function radiosField(form: TypedForm, field: Basics & { options: readonly Option[] }): ChoiceField {
  return choices(form, field)
}

/** Any number of a few, all in sight (partial field-checkboxes). */
export function checkboxesField(form: TypedForm, field: Basics & { options: readonly Option[] }): ChoiceField {
  return choices(form, field)
}

/** A box that is ticked or not. */
export function checkboxField(form: TypedForm, field: Basics): CheckboxField {
  const basic = basics(form, field)
  return { ...basic, checked: basic.value !== '' }
}

function choices(form: TypedForm, field: Basics & { options: readonly Option[] }): ChoiceField {
  const basic = basics(form, field)
  const typed = form.typed[field.name]
  const chosen = typeof typed === 'string' ? [typed] : (typed ?? [])
  const options = field.options.map(({ value, text, hint = '' }, i) => {
    // the first carries the field's own anchor, so that the summary leads to something that takes the focus
    return { value, text, hint, id: i === 0 ? basic.id : `${basic.id}-${i}`, chosen: chosen.includes(value) }
  })
  return { ...basic, options }
}

function basics(form: TypedForm, { name, label, hint = '', optional = false }: Basics): Field {
  const typed = form.typed[name]
  const error = form.errors[name] ?? ''
  const id = `field-${name.replace(/[^A-Za-z0-9_-]/g, '-')}`
  const describedBy = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ')
  return {
    name,
    id,
    label,
    hint,
    optional,
    value: typeof typed === 'string' ? typed : (typed?.[0] ?? ''),
    error,
    describedBy,
  }
}
