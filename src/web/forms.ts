/**
 * The one way from typed text to values, and from a refusal back to the page with everything that was typed.
 *
 *     // features/helpers/forms.ts
 *     export const helperForm = z.object({
 *       name: neededText('Enter the helper’s name', 80),
 *       ageBand: choice(ageBands, 'Choose an age band'),
 *       weight: read((typed) => { ...parseMass(typed)...; return ok ? { value } : { problem: 'Enter a weight, like 12.5 kg' } }),
 *       note: optionalText(500),
 *     })
 *
 *     // features/helpers/routes.ts
 *     app.get('/helpers/new', async (request, reply) => reply.page('helpers/new', newHelperPage(blankForm())))
 *     app.post('/helpers', { schema: { body: typedBody } }, async (request, reply) => {
 *       const form = readForm(helperForm, request.body)
 *       if (!form.ok) return reply.page('helpers/new', newHelperPage(form), { status: 422 })
 *       return reply.once(async (transaction) => helperPath(await addHelper(transaction, request.asking, form.values)))
 *     })
 *
 *     // features/helpers/pages.ts
 *     export function newHelperPage(form: TypedForm) {
 *       return { title: 'Add a helper', place: 'coop' as const, form: formModel({
 *         name: textField(form, { name: 'name', label: 'Name', autocomplete: 'off' }),
 *         ageBand: radiosField(form, { name: 'ageBand', label: 'Age', options: [{ value: 'adult', text: 'Adult' }, ...] }),
 *       }, form) }
 *     }
 *
 *     {{!-- views/helpers/new.hbs --}}
 *     {{> form-refused form=form}}
 *     <h1>{{title}}</h1>
 *     <form method="post" action="/helpers" novalidate>
 *       {{> form-hidden}}
 *       {{> field-text field=form.fields.name}}
 *       {{> field-radios field=form.fields.ageBand}}
 *       <button type="submit">Add the helper</button>
 *     </form>
 *
 * A rule that only the action can check (a name that is taken) goes back the same way: `refusedForm(form, { name: '...' })`.
 * Rows of fields are plain names with a number: `packs.0.units`.
 */
import { z } from 'zod'

/** Text by field name, as typed. A field that may be given more than once has a list. */
export type Typed = Readonly<Record<string, string | readonly string[]>>

/** A form as it stands: what was typed, and what is wrong, in words by field name. `''` is the form as a whole. */
export type TypedForm = { typed: Typed; errors: Readonly<Record<string, string>> }
export type ReadForm<V> = (TypedForm & { ok: true; values: V }) | (TypedForm & { ok: false })

/** No field of a form may hold more characters than this, whatever it is for. */
export const FIELD_LENGTH_LIMIT = 4000

/** The schema of a form's body in a route: texts only, none beyond the limit. Readers of fields do the rest. */
export const typedBody = z.record(
  z.string().max(100),
  z.union([z.string().max(FIELD_LENGTH_LIMIT), z.array(z.string().max(FIELD_LENGTH_LIMIT)).max(200)]),
)

/** A form that nobody has sent yet; `typed` fills fields in beforehand. */
export function blankForm(typed: Typed = {}): TypedForm {
  return { typed, errors: {} }
}

/** Reads what was sent. Fields that the schema does not name are dropped; the first problem of each field is kept. */
export function readForm<S extends z.ZodObject>(schema: S, typed: Typed): ReadForm<z.output<S>> {
  const read = schema.safeParse(typed)
  if (read.success) return { ok: true, typed, errors: {}, values: read.data }
  const errors: Record<string, string> = {}
  for (const issue of read.error.issues) errors[issue.path.join('.')] ??= issue.message
  return { ok: false, typed, errors }
}

/** The same form refused for reasons found later, in words by field name. */
export function refusedForm(form: TypedForm, errors: Record<string, string>): TypedForm & { ok: false } {
  return { ok: false, typed: form.typed, errors: { ...form.errors, ...errors } }
}

/** What the reading of one field comes to. */
export type FieldReading<T> = { value: T } | { problem: string }

/** A field read by a function; spaces around are dropped, a missing field reads as ''. Longer than `most` is refused. */
export function read<T>(reading: (typed: string) => FieldReading<T>, most = 200) {
  return typedText(most).transform((typed, context): T => {
    const got = reading(typed)
    if ('value' in got) return got.value
    context.addIssue({ code: 'custom', message: got.problem })
    return z.NEVER
  })
}

/** Any text but none. `problem` says what to enter. */
export function neededText(problem: string, most = 200) {
  return read((typed) => (typed === '' ? { problem } : { value: typed }), most)
}

/** Names of fields that hold a secret: never shown again, never offered to be sent again. */
const SECRET_FIELDS: ReadonlySet<string> = new Set(['password', 'newPassword', 'currentPassword', 'setUpCode'])

/** Whether a field's value must not leave the request again. */
export function isSecretField(name: string): boolean {
  return SECRET_FIELDS.has(name)
}

/** A password: as it was typed, spaces and all, save that accents are written one way (NFC). `problem` for none. */
export function passwordText(problem: string, most = 200) {
  return z
    .string('Enter one password only')
    .default('')
    .transform((typed) => typed.normalize('NFC'))
    .pipe(z.string().min(1, problem).max(most, `Use ${most} characters or fewer`))
    .pipe(z.string().refine((typed) => !/\p{Cc}/u.test(typed), 'Leave out characters that cannot be seen'))
}

/** Any text; null for none. */
export function optionalText(most = 200) {
  return read((typed) => ({ value: typed === '' ? null : typed }), most)
}

/** A whole number within bounds, both included. */
export function wholeNumber(problem: string, least: number, most: number) {
  return read((typed) => inBounds(wholeOf(typed), least, most, problem), 20)
}

/** As `wholeNumber`; null for an empty field. */
export function optionalWholeNumber(problem: string, least: number, most: number) {
  return read<number | null>(
    (typed) => (typed === '' ? { value: null } : inBounds(wholeOf(typed), least, most, problem)),
    20,
  )
}

/** An amount of money as minor units (hundredths): "12", "12.50" and "12,50" are understood; not below 0. */
export function money(problem: string, most = 10_000_000) {
  return read((typed) => inBounds(minorOf(typed), 0, most, problem), 20)
}

/** As `money`; null for an empty field. */
export function optionalMoney(problem: string, most = 10_000_000) {
  return read<number | null>(
    (typed) => (typed === '' ? { value: null } : inBounds(minorOf(typed), 0, most, problem)),
    20,
  )
}

/** One of a closed set. */
export function choice<const T extends string>(set: readonly T[], problem: string) {
  return read<T>((typed) => {
    const chosen = set.find((one) => one === typed)
    return chosen === undefined ? { problem } : { value: chosen }
  })
}

/** Any number of a closed set, in the order of the set; none is an empty list. */
export function many<const T extends string>(set: readonly T[], problem: string) {
  return z
    .union([z.string().transform((one) => [one]), z.array(z.string())])
    .default([])
    .transform((typed, context): T[] => {
      if (typed.every((one) => set.some((known) => known === one))) return set.filter((one) => typed.includes(one))
      context.addIssue({ code: 'custom', message: problem })
      return z.NEVER
    })
}

/** A box that is ticked or not. */
export function checkbox() {
  return read((typed) => ({ value: typed !== '' }))
}

/** A date that exists, as YYYY-MM-DD: as a date field gives it or typed that way. */
export function date(problem: string) {
  return read((typed) => (isDate(typed) ? { value: typed } : { problem }), 20)
}

function typedText(most: number) {
  return z
    .string('Enter one value only')
    .default('')
    .transform((typed) => typed.normalize('NFC').replaceAll('\r\n', '\n').trim())
    .pipe(z.string().max(most, `Use ${most} characters or fewer`))
    .pipe(z.string().refine((typed) => !CONTROL.test(typed), 'Leave out characters that cannot be seen'))
}

/** Control characters save tab and line feed; the database takes no NUL. */
const CONTROL = /[^\P{Cc}\t\n]/u

function wholeOf(typed: string): number {
  return /^-?\d{1,9}$/.test(typed) ? Number(typed) : Number.NaN
}

function minorOf(typed: string): number {
  const parts = /^(\d{1,8})(?:[.,](\d{1,2}))?$/.exec(typed)
  return parts === null ? Number.NaN : Number(parts[1]) * 100 + Number((parts[2] ?? '').padEnd(2, '0'))
}

function inBounds(value: number, least: number, most: number, problem: string): FieldReading<number> {
  return value >= least && value <= most ? { value } : { problem }
}

function isDate(typed: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(typed)) return false
  const at = new Date(`${typed}T00:00:00Z`)
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(typed)
}
