import { z } from 'zod'
import { idText } from '../../ids.ts'
import { callText, versionNumber } from '../../web/answers.ts'
import { divisionStates } from './divisions/queries.ts'
import { headlineDocument, questionDocument, resultDocument, stepDocument } from './documents.ts'
import { MOST_BUDGET_MINOR, MOST_UNITS } from './forms.ts'

// What the calls for plans take and answer.

const ids = z.array(idText).max(200)
const units = z.int().min(0).max(MOST_UNITS)

const wish = z
  .strictObject({
    recipeId: idText,
    pack: callText(40),
    atLeast: units,
    about: units,
    atMost: units,
    matters: z.union([z.literal(1), z.literal(2), z.literal(3)]).describe('1 a little, 2 fairly, 3 very much'),
  })
  .refine((one) => one.atLeast <= one.atMost && one.about <= one.atMost, {
    error: 'At least and about must not be above at most',
  })

const planBody = {
  name: callText(80),
  lotIds: ids.describe('Lots that are divided; each must have been sorted to count'),
  dayIds: ids.describe('Work days'),
  wishes: z.array(wish).max(500),
  budgetMinor: z.int().min(0).max(MOST_BUDGET_MINOR).nullable().describe('Minor units; null: no limit'),
  closedOutletIds: ids.describe('Outlets that this plan may not use'),
}

export const newPlanBody = z.strictObject({
  name: planBody.name,
  lotIds: planBody.lotIds.default([]),
  dayIds: planBody.dayIds.default([]),
  wishes: planBody.wishes.default([]),
  budgetMinor: planBody.budgetMinor.default(null),
  closedOutletIds: planBody.closedOutletIds.default([]),
})

export const changeBody = z.strictObject({
  version: versionNumber,
  name: planBody.name.exactOptional(),
  lotIds: planBody.lotIds.exactOptional(),
  dayIds: planBody.dayIds.exactOptional(),
  wishes: planBody.wishes.exactOptional(),
  budgetMinor: planBody.budgetMinor.exactOptional(),
  closedOutletIds: planBody.closedOutletIds.exactOptional(),
})

export const planAnswer = z.object({
  id: z.string(),
  name: z.string(),
  lotIds: z.array(z.string()),
  dayIds: z.array(z.string()),
  wishes: z.array(
    z.object({
      recipeId: z.string(),
      pack: z.string(),
      atLeast: z.int(),
      about: z.int(),
      atMost: z.int(),
      matters: z.int(),
    }),
  ),
  budgetMinor: z.int().nullable(),
  closedOutletIds: z.array(z.string()),
  version: z.int(),
})

export const divisionLine = z.object({
  id: z.string(),
  planId: z.string(),
  number: z.int(),
  state: z.enum(divisionStates),
  askedBy: z.string(),
  startedAt: z.string().describe('UTC'),
  headline: headlineDocument.nullable().describe('For the ten newest that were worked out; null otherwise'),
})

export const divisionAnswer = z.object({
  id: z.string(),
  planId: z.string(),
  number: z.int(),
  state: z.enum(divisionStates),
  planVersion: z.int().describe('The plan’s version that was asked'),
  planMoved: z.boolean().describe('The plan has been changed since'),
  progress: z.object({
    objective: z.number().nullable().describe('Worth of the best so far, minor units'),
    bound: z.number().nullable().describe('No division can be worth more'),
  }),
  stopAsked: z.boolean(),
  failure: z.string().nullable(),
  askedBy: z.string(),
  startedAt: z.string(),
  finishedAt: z.string().nullable(),
  question: questionDocument,
  answer: z
    .object({ headline: headlineDocument, result: resultDocument, steps: z.array(stepDocument).nullable() })
    .nullable(),
})

const difference = { a: z.number(), b: z.number(), difference: z.number() }
export const compareAnswer = z.object({
  sentence: z.string(),
  products: z.array(z.object({ productId: z.string(), ...difference })).describe('Units'),
  ends: z
    .array(z.object({ to: z.union([z.object({ outletId: z.string() }), z.enum(['kept', 'lost'])]), ...difference }))
    .describe('Grams'),
  purchases: z.array(z.object({ supplyId: z.string(), ...difference })).describe('Packs'),
  spent: z.object(difference),
  objective: z.object(difference),
})
