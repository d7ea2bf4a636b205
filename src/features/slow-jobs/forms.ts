import { z } from 'zod'
import { dateAfter } from '../../core/produce/dates.ts'
import { foundOf, type SlowMeasure, slowMeasures, ways } from '../../core/slow/index.ts'
import { parseTemperature } from '../../core/units/index.ts'
import { idParams, idText } from '../../ids.ts'
import { date, neededText, optionalText, read } from '../../web/forms.ts'

/** Jobs and stages lie within so many days of today: ten years either way. */
export const FARTHEST_DAYS = 3653
export const NAME_LENGTH = 80
export const LINE_LENGTH = 400

/** A date that is not so far off that it must be a slip. */
const nearDate = (today: string, latest = dateAfter(today, FARTHEST_DAYS)) =>
  date('Enter a date, like 2026-09-18').refine(
    (typed) => typed >= dateAfter(today, -FARTHEST_DAYS) && typed <= latest,
    latest === today ? 'Enter a day that is not in the future' : 'Enter a date within ten years',
  )

export const newJobForm = (today: string) =>
  z.object({
    way: read<string>((typed) =>
      ways.some(({ id }) => id === typed) ? { value: typed } : { problem: 'Choose what it is' },
    ),
    name: optionalText(NAME_LENGTH).transform((name) => name ?? ''),
    place: optionalText(NAME_LENGTH),
    startedOn: nearDate(today),
    temperatureC: read<number | null>((typed) => {
      if (typed === '') return { value: null }
      const reading = parseTemperature(typed)
      return reading.ok
        ? { value: reading.celsius }
        : { problem: 'Enter a temperature with its unit, like “21 °C” or “70 °F”' }
    }),
    batchId: read<string | null>((typed) => {
      if (typed === '') return { value: null }
      return idText.safeParse(typed).success ? { value: typed } : { problem: 'Open the page again from the batch' }
    }),
    note: optionalText(LINE_LENGTH),
  })

/** What was found may be a figure, which must be possible, or words. */
export const doneForm = (today: string, measure: SlowMeasure | null) =>
  z.object({
    doneOn: nearDate(today, today),
    found: read<string | null>((typed) => {
      const problem = foundProblem(measure, typed)
      if (problem !== null) return { problem }
      return { value: typed === '' ? null : typed }
    }),
    note: optionalText(LINE_LENGTH),
  })

/** Why what was found cannot be so; null where it can. */
export function foundProblem(measure: SlowMeasure | null, typed: string): string | null {
  const found = foundOf(measure ?? 'taste', typed)
  return found.kind === 'wrong' ? found.problem : null
}

export const dateForm = (today: string) => z.object({ dueOn: nearDate(today) })

export const ownStageForm = (today: string) =>
  z.object({
    says: neededText('Enter what to do, in a line', 200),
    dueOn: nearDate(today),
    measure: read<SlowMeasure | null>((typed) => {
      const measure = slowMeasures.find((one) => one === typed)
      if (measure === undefined && typed !== '') return { problem: 'Choose what is measured, or nothing' }
      return { value: measure ?? null }
    }),
  })

export const endForm = (today: string) =>
  z.object({
    endedOn: nearDate(today, today),
    ended: neededText('Enter how it ended, in a line: “6 bottles, sour and clear”', LINE_LENGTH),
  })

/** Params of a stage's routes. */
export const stageParams = idParams.extend({
  number: z
    .string()
    .regex(/^[1-9]\d{0,5}$/)
    .transform(Number),
})
