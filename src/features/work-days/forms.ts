import { z } from 'zod'
import { type FieldReader, fieldReader } from '../../web/field-reader.ts'
import { date, many, optionalText, type ReadForm, type Typed } from '../../web/forms.ts'
import { typedTime } from '../../web/typed.ts'
import { readSpan, timeOfDay, typedSpan } from './hours.ts'
import type { FullWorkDay, HelperHours, WorkDay, WorkDayValues } from './queries.ts'

export const workDayForm = z.object({
  date: date('Enter a date, like 2026-09-18'),
  opensMinute: timeOfDay('Enter when the kitchen opens, like 8:00 or 8 am'),
  closesMinute: timeOfDay('Enter when the kitchen closes, like 18:00 or 6 pm'),
  note: optionalText(400),
})

/** What is wrong between the fields, in words by field. */
export function workDayProblems({ opensMinute, closesMinute }: WorkDayValues): Record<string, string> {
  return closesMinute > opensMinute ? {} : { closesMinute: 'Enter a time after the kitchen opens' }
}

/** The form's fields as they would be typed for this day. */
export function workDayTyped({ date, opensMinute, closesMinute, note, version }: WorkDay): Typed {
  return {
    date,
    opensMinute: typedTime(opensMinute),
    closesMinute: typedTime(closesMinute),
    note: note ?? '',
    version: String(version),
  }
}

/** Reads `hours.<helperId>.from` and `.to` of each helper; both empty: not there. */
export function readHoursForm(typed: Typed, helperIds: readonly string[]): ReadForm<HelperHours[]> {
  const reader: FieldReader = fieldReader(typed)
  const values = helperIds.flatMap((helperId) => {
    const span = readSpan(reader, `hours.${helperId}`)
    return span === null ? [] : [{ helperId, ...span }]
  })
  const { errors } = reader
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}

/** The fields of the hours form as they would be typed for this day. */
export function hoursTyped({ hours }: FullWorkDay): Typed {
  return Object.assign({}, ...hours.map((span) => typedSpan(`hours.${span.helperId}`, span)))
}

/** Boxes of what cannot be used. */
export function equipmentOutForm(equipmentIds: readonly string[]) {
  return z.object({ out: many(equipmentIds, 'Choose equipment from the list') })
}
