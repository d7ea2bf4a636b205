import { z } from 'zod'
import { idText } from '../../ids.ts'

/** A date of the calendar, YYYY-MM-DD. */
const day = z.iso.date()

/** What the page is asked with. A helper who is not in the day is as good as none. */
export const kitchenQuery = z.object({ day: day.optional(), helper: idText.optional() })

/** Buttons rather than something typed: what they send is right, or was tampered with. */
export const tickForm = z.object({
  // what each form brings along
  _csrf: z.string().optional(),
  _submission: z.string().optional(),
  timetable: idText,
  task: z.string().min(1).max(300),
  day: z.union([z.literal(''), day]).default(''),
  helper: z.union([z.literal(''), idText]).default(''),
})

export const tickBody = z.strictObject({
  timetableId: idText,
  task: z
    .string()
    .min(1)
    .max(300)
    .describe('`id` of a task in the answer of GET /api/kitchen, asked with the same helper'),
  helperId: idText.optional().describe('The helper whose tasks were asked for'),
})
