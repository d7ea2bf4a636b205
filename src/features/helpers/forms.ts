import { z } from 'zod'
import { ageBands, stations, workKinds } from '../../core/produce/vocabulary.ts'
import { fieldReader } from '../../web/field-reader.ts'
import {
  choice,
  many,
  neededText,
  optionalWholeNumber,
  type ReadForm,
  read,
  type Typed,
  wholeNumber,
} from '../../web/forms.ts'
import { readSpan, type Span, typedSpan } from '../work-days/index.ts'
import type { ComingDay, DaySpans, Helper, HelperValues } from './queries.ts'

/** A helper who takes four times as long as usual, and one who takes two fifths of the time. */
export const LEAST_SPEED = 25
export const MOST_SPEED = 300
/** Less is no stretch of work, more is longer than a day in a kitchen. */
export const LEAST_STRETCH = 15
export const MOST_STRETCH = 600

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
    speedPercent: wholeNumber(
      `Enter how fast in percent, from ${LEAST_SPEED} to ${MOST_SPEED}; 100 is usual`,
      LEAST_SPEED,
      MOST_SPEED,
    ),
    stretchMinutes: optionalWholeNumber(
      `Enter minutes from ${LEAST_STRETCH} to ${MOST_STRETCH}, or leave it empty`,
      LEAST_STRETCH,
      MOST_STRETCH,
    ),
    likes: many(stations, 'Choose stations from the list'),
    dislikes: many(stations, 'Choose stations from the list'),
  })
}

/** What is wrong between the fields, in words by field. */
export function helperProblems({ likes, dislikes }: Pick<HelperValues, 'likes' | 'dislikes'>): Record<string, string> {
  return likes.some((station) => dislikes.includes(station))
    ? { dislikes: 'Choose a station as liked or as not liked, not as both' }
    : {}
}

/** What an empty form begins with. */
export function newHelperTyped(): Typed {
  return { speedPercent: '100' }
}

/** The form's fields as they would be typed for this helper. */
export function helperTyped({ name, ageBand, skills, likes, dislikes, ...helper }: Helper): Typed {
  return {
    name,
    ageBand,
    skills,
    householdId: helper.householdId ?? '',
    speedPercent: String(helper.speedPercent),
    stretchMinutes: helper.stretchMinutes === null ? '' : String(helper.stretchMinutes),
    likes,
    dislikes,
    version: String(helper.version),
  }
}

/**
 * Reads `hours.<dayId>.from` and `.to` of these days, both empty: not there; and one break in them, `break.<dayId>.from`
 * and `.to`, both empty: none. Refused where a break does not lie within the hours.
 */
export function readHelperHoursForm(typed: Typed, days: readonly ComingDay[]): ReadForm<DaySpans[]> {
  const reader = fieldReader(typed)
  const values = days
    .filter(({ id }) => typed[`hours.${id}.from`] !== undefined)
    .map(({ id }) => {
      const span = readSpan(reader, `hours.${id}`)
      const rest = readSpan(reader, `break.${id}`)
      const problem = breakProblem(span, rest)
      // what was wrong with the times themselves is said first
      const wrong = [`hours.${id}.`, `break.${id}.`].some((at) =>
        Object.keys(reader.errors).some((name) => name.startsWith(at)),
      )
      if (problem !== null && !wrong) reader.errors[`break.${id}.from`] = problem
      return { dayId: id, span, breaks: rest === null ? [] : [rest] }
    })
  const { errors } = reader
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}

/** Why a break does not fit the hours of its day, in words; null: it fits, or there is none. */
export function breakProblem(span: Span | null, rest: Span | null): string | null {
  if (rest === null) return null
  if (span === null) return 'Leave the break empty, or enter the hours of that day'
  return rest.fromMinute >= span.fromMinute && rest.toMinute <= span.toMinute
    ? null
    : 'Enter a break that lies within the hours'
}

/** The fields of the hours form as they would be typed for this helper: of several breaks of a day the first. */
export function helperHoursTyped({ hours, breaks }: Helper): Typed {
  return Object.assign(
    {},
    ...hours.map((span) => typedSpan(`hours.${span.dayId}`, span)),
    ...breaks.toReversed().map((rest) => typedSpan(`break.${rest.dayId}`, rest)),
  )
}
