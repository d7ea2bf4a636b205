import { z } from 'zod'
import { ageBands, workKinds } from '../../core/produce/vocabulary.ts'
import { fieldReader } from '../../web/field-reader.ts'
import { choice, many, neededText, type ReadForm, read, type Typed } from '../../web/forms.ts'
import { readSpan, type Span, typedSpan } from '../work-days/index.ts'
import type { ComingDay, Helper } from './queries.ts'

/** The form, for a co-op with these households. */
export function helperForm(householdIds: readonly string[]) {
  return z.object({
    name: neededText('Enter the helper’s name', 80),
    ageBand: choice(ageBands, 'Choose an age band'),
    skills: many(workKinds, 'Choose work from the list'),
    householdId: read<string | null>((typed) => {
      if (typed === '') return { value: null }
      return householdIds.includes(typed) ? { value: typed } : { problem: 'Choose a household from the list' }
    }),
  })
}

/** The form's fields as they would be typed for this helper. */
export function helperTyped({ name, ageBand, skills, householdId, version }: Helper): Typed {
  return { name, ageBand, skills, householdId: householdId ?? '', version: String(version) }
}

/** Reads `hours.<dayId>.from` and `.to` of these days; both empty: not there. */
export function readHelperHoursForm(
  typed: Typed,
  days: readonly ComingDay[],
): ReadForm<{ dayId: string; span: Span | null }[]> {
  const reader = fieldReader(typed)
  const values = days
    .filter(({ id }) => typed[`hours.${id}.from`] !== undefined)
    .map(({ id }) => ({ dayId: id, span: readSpan(reader, `hours.${id}`) }))
  const { errors } = reader
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}

/** The fields of the hours form as they would be typed for this helper. */
export function helperHoursTyped({ hours }: Helper): Typed {
  return Object.assign({}, ...hours.map((span) => typedSpan(`hours.${span.dayId}`, span)))
}
