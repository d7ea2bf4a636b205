import { z } from 'zod'
import { keepings, placeKinds } from '../../core/shelf/index.ts'
import { idText } from '../../ids.ts'
import { callText, versionNumber } from '../../web/answers.ts'
import { MOST_PACKS } from './buying/actions.ts'
import type { Entry } from './entries/queries.ts'
import { MOST_UNITS } from './jars/forms.ts'
import type { JarLine } from './jars/queries.ts'
import { entryKinds } from './ledger.ts'

const isoDate = z.string().describe('YYYY-MM-DD')
const units = z.int().min(1).max(MOST_UNITS).describe('Whole jars, bags or crocks')
const note = callText(200, 0)
  .transform((text) => (text === '' ? null : text))
  .nullable()
  .default(null)
const household = idText.nullable().describe('Id of a household; null: shared')

const placeNamed = z.object({ id: z.string(), name: z.string(), kind: z.enum(placeKinds) })

/** Jars of one batch in one place. */
export const lineAnswer = z.object({
  id: z.string(),
  stock: z.int(),
  batchId: z.string(),
  code: z.string().describe('The batch’s code, as on its labels'),
  recipeId: z.string(),
  pack: z.string(),
  product: z.string(),
  variety: z.string().nullable(),
  unit: z.string(),
  jar: z.string().nullable().describe('Jar size; null: no jar'),
  keeping: z.enum(keepings),
  madeOn: isoDate,
  bestBy: isoDate.nullable(),
  recalled: z.boolean().describe('Nothing of it can be taken'),
  place: placeNamed,
  household: z.object({ id: z.string(), name: z.string() }).nullable().describe('Whose it is; null: shared'),
})
export const lineBody = ({ unitsName: _, ...line }: JarLine): z.input<typeof lineAnswer> => line

/** One entry of the ledger. */
export const entryAnswer = z.object({
  id: z.string(),
  order: z.int().describe('The order in which entries were written: for `before`'),
  at: z.string().describe('ISO instant'),
  kind: z.enum(entryKinds),
  units: z.int().describe('Signed: what it added'),
  stockAfter: z.int(),
  by: z.string(),
  note: z.string().nullable(),
  household: z.string().nullable().describe('Who took, got or returned it'),
  undone: z.boolean(),
  jarBatchId: z.string().nullable(),
  supplyId: z.string().nullable(),
  what: z.string(),
})

export function entryBody({ at, of, ...rest }: Entry): z.input<typeof entryAnswer> {
  return {
    ...rest,
    at: at.toISOString(),
    ...('supplyId' in of
      ? { jarBatchId: null, supplyId: of.supplyId, what: of.name }
      : { jarBatchId: of.jarBatchId, supplyId: null, what: `${of.product} ${of.code}` }),
  }
}

export const takeBody = z.strictObject({ units, householdId: idText.describe('The household that takes them') })
export const outBody = z.strictObject({ units, note })
export const moveBody = z.strictObject({ units, placeId: idText, householdId: household })
export const countBody = z.strictObject({
  shown: z.int().min(0).max(1_000_000_000).describe('The stock that was read before counting'),
  counted: z.int().min(0).max(MOST_UNITS),
})

/** Jars of one size at one household. */
export const emptiesAnswer = z.object({
  household: z.object({ id: z.string(), name: z.string() }),
  jar: z.string().describe('Jar size'),
  got: z.int().describe('With something in them'),
  returned: z.int().describe('Empty'),
  owed: z.int().describe('Still to bring back'),
})
/** Jars among the supplies: those that can come back. */
export const jarSupplyAnswer = z.object({ jar: z.string(), supplyId: z.string(), name: z.string(), onHand: z.int() })
export const returnBody = z.strictObject({
  householdId: idText.describe('The household that brings them back'),
  jar: callText(80).describe('Jar size, one of those among the supplies'),
  units,
})
export const buyBody = z.strictObject({ packs: z.int().min(1).max(MOST_PACKS), note })

export const placeBody = z.strictObject({
  name: callText(80),
  kind: z.enum(placeKinds),
  householdId: household.describe('In whose house; null: shared'),
})
export const placeChange = placeBody.extend({ version: versionNumber })
export const placeAnswer = z.object({
  id: z.string(),
  name: z.string(),
  kind: z.enum(placeKinds),
  householdId: z.string().nullable(),
  household: z.string().nullable(),
  closed: z.boolean(),
  version: z.int(),
})
