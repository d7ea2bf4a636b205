import { z } from 'zod'
import { apportionmentMethods } from '../../../core/shares/index.ts'
import { fieldReader } from '../../../web/field-reader.ts'
import { choice, type ReadForm, read, type Typed, wholeNumber } from '../../../web/forms.ts'
import type { Rule, SharingHousehold } from './queries.ts'

/** No more points than this for one of anything. */
export const MOST_POINTS = 1000
/** No household has more people than this. */
export const MOST_PEOPLE = 50

export const ruleForm = z.object({
  method: choice(apportionmentMethods, 'Choose how jars are rounded'),
  pointsPerKg: points('Enter points for a kilogram, like 1 or 0.5; 0 where it does not count'),
  pointsPerHour: points('Enter points for an hour, like 2; 0 where it does not count'),
  pointsPerMoney: points('Enter points for money, like 1; 0 where it does not count'),
  byNeedPercent: wholeNumber('Enter a whole percentage from 0 to 100', 0, 100),
})

export function ruleTyped({ version, ...values }: Rule): Typed {
  return Object.fromEntries(Object.entries({ ...values, version }).map(([name, value]) => [name, String(value)]))
}

/** Reads `people.<household>` of each household. */
export function readPeopleForm(
  typed: Typed,
  households: readonly SharingHousehold[],
): ReadForm<{ id: string; people: number }[]> {
  const reader = fieldReader(typed)
  const counts = households.map(({ id }) => ({
    id,
    people: reader.get(
      `people.${id}`,
      wholeNumber(`Enter how many people live there, from 0 to ${MOST_PEOPLE}`, 0, MOST_PEOPLE),
      0,
    ),
  }))
  const { errors } = reader
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values: counts } : { ok: false, typed, errors }
}

export function peopleTyped(households: readonly SharingHousehold[]): Typed {
  return Object.fromEntries(households.map(({ id, people }) => [`people.${id}`, String(people)]))
}

function points(problem: string) {
  return read((typed) => {
    const value = /^\d{1,4}([.,]\d{1,3})?$/.test(typed) ? Number(typed.replace(',', '.')) : Number.NaN
    return value <= MOST_POINTS ? { value } : { problem }
  }, 20)
}
