import { parseTimeOfDay } from '../../core/day/time-of-day.ts'
import type { FieldReader } from '../../web/field-reader.ts'
import { read } from '../../web/forms.ts'
import { typedTime } from '../../web/typed.ts'

/** From and to in minutes from midnight. */
export type Span = { fromMinute: number; toMinute: number }

/** A time of day as minutes from midnight. */
export function timeOfDay(problem: string) {
  return read((typed) => {
    const minute = parseTimeOfDay(typed)
    return minute === null ? { problem } : { value: minute }
  }, 20)
}

/**
 * Reads the fields `<at>.from` and `<at>.to`. Both empty: null, not there. One alone is refused, and so is an end that
 * does not come after the beginning.
 */
export function readSpan(reader: FieldReader, at: string): Span | null {
  if (reader.isBlank(`${at}.`)) return null
  const fromMinute = reader.get(`${at}.from`, timeOfDay('Enter from when, like 9:30 or 9 am'), 0)
  const toMinute = reader.get(`${at}.to`, timeOfDay('Enter until when, like 16:00 or 4 pm'), 1440)
  if (fromMinute >= toMinute) reader.errors[`${at}.to`] ??= 'Enter an end that is later than the beginning'
  return { fromMinute, toMinute }
}

/** The two fields as they would be typed. */
export function typedSpan(at: string, { fromMinute, toMinute }: Span): Record<string, string> {
  return { [`${at}.from`]: typedTime(fromMinute), [`${at}.to`]: typedTime(toMinute) }
}
