import { z } from 'zod'
import { processMethods } from '../../core/process/index.ts'
import { unsealedJarsWent } from '../../core/process/record.ts'
import { ripenessClasses, trimKinds } from '../../core/produce/index.ts'
import { keepings } from '../../core/shelf/index.ts'
import { largestLotGrams } from '../../core/units/index.ts'
import { idText } from '../../ids.ts'
import { callText, versionNumber } from '../../web/answers.ts'
import { MOST_ALLERGENS, MOST_HAND_MINUTES, MOST_UNITS } from './batch.ts'
import { processDocument } from './process-document.ts'

// What the calls about batches take and answer. Weights are whole grams, dates ISO dates, instants ISO 8601 with a zone.

const isoDate = z.iso.date()
const instant = z
  .string()
  .max(40)
  .regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/)
const grams = z.int().min(0).max(largestLotGrams)
const units = z.int().min(0).max(MOST_UNITS)
const minutes = z.int().min(0).max(600)

const processBody = z.strictObject({
  method: z.enum(processMethods),
  canner: callText(80, 0).default(''),
  reachedAt: instant.nullable().describe('Full boil, steam or pressure reached: the time counts from here'),
  endedAt: instant.nullable().describe('Heat off'),
  interruptions: z
    .array(z.strictObject({ lostAt: instant, reachedAgainAt: instant.nullable() }))
    .max(20)
    .default([]),
  ventedMinutes: minutes.nullable().default(null),
  lowestKPa: z.number().min(0).max(200).nullable().default(null),
  headspaceMm: z.number().min(0).max(100).nullable().default(null),
  acidAdded: z.boolean().default(false),
  by: z.array(callText(80)).max(MOST_ALLERGENS).default([]),
  sealsCheckedAt: instant.nullable().default(null).describe('null: the seals were not tried yet'),
})

export const finishBody = z.strictObject({
  recipeId: idText,
  pack: callText(40),
  plan: z
    .strictObject({ planId: idText, planned: callText(100).describe('"recipe:pack@day" of the newest division') })
    .nullable()
    .default(null),
  madeOn: isoDate,
  lots: z
    .array(z.strictObject({ lotId: idText, class: z.enum(ripenessClasses), grams }))
    .max(200)
    .default([]),
  jars: z
    .array(
      z.strictObject({
        jarBatchId: idText,
        units,
        grams: grams.nullable().default(null).describe('null: as much as their recipe says'),
      }),
    )
    .max(200)
    .default([])
    .describe('What other batches made that went in'),
  otherGrams: grams.default(0).describe('Trim of other batches that went in'),
  units: units.describe('Kept; jars that were processed again and sealed then are among them'),
  unsealed: units.default(0).describe('Jars that did not seal at first'),
  unsealedWent: z.enum(unsealedJarsWent).nullable().default(null),
  trim: z
    .array(z.strictObject({ kind: z.enum(trimKinds), grams, outletId: idText.nullable().default(null) }))
    .max(20)
    .default([]),
  helperIds: z.array(idText).max(100).default([]),
  handMinutes: z.int().min(0).max(MOST_HAND_MINUTES).nullable().default(null),
  placeId: idText,
  householdId: idText.nullable().default(null).describe('null: shared'),
  note: callText(500).nullable().default(null),
  allergens: z.array(callText(40)).max(MOST_ALLERGENS).default([]),
  bestBy: isoDate.nullable().default(null).describe('null: by the published storage life, where there is one'),
  supplies: z
    .record(z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/), z.int().min(0).max(10_000_000))
    .default({})
    .describe('Used, by key; what is missing was used as the recipe says'),
  process: processBody.nullable().default(null).describe('For canned food: what was noted at the canner'),
  sure: z.boolean().default(false).describe('That more was taken of a lot than should be there'),
})

export const changeBody = z.strictObject({
  version: versionNumber,
  note: callText(500).nullable(),
  bestBy: isoDate.nullable(),
  handMinutes: z.int().min(0).max(MOST_HAND_MINUTES).nullable(),
  helperIds: z.array(idText).max(100),
})

export const batchLine = z.object({
  id: z.string(),
  number: z.int(),
  code: z.string(),
  product: z.string(),
  variety: z.string().nullable(),
  unit: z.string(),
  unitsName: z.string(),
  keeping: z.enum(keepings),
  madeOn: z.string(),
  bestBy: z.string().nullable(),
  units: z.int(),
  recalled: z.boolean(),
})

export const batchAnswer = batchLine.extend({
  recipeId: z.string(),
  recipeVersion: z.int(),
  pack: z.string(),
  method: z.string(),
  planId: z.string().nullable(),
  plan: z.string().nullable(),
  planned: z.string().nullable(),
  inGrams: z.int(),
  unsealed: z.int(),
  handMinutes: z.int().nullable(),
  expectedUnits: z.number().nullable(),
  expectedHandMinutes: z.number().nullable(),
  process: processDocument.nullable(),
  allergens: z.array(z.string()),
  note: z.string().nullable(),
  finishedBy: z.string(),
  finishedAt: z.string(),
  version: z.int(),
  inputs: z.array(
    z.discriminatedUnion('kind', [
      z.object({
        kind: z.literal('lot'),
        lotId: z.string(),
        crop: z.string(),
        variety: z.string().nullable(),
        broughtBy: z.string(),
        class: z.enum(ripenessClasses).nullable(),
        grams: z.int(),
      }),
      z.object({
        kind: z.literal('jars'),
        jarBatchId: z.string(),
        batchId: z.string(),
        code: z.string(),
        product: z.string(),
        units: z.int(),
        grams: z.int(),
      }),
    ]),
  ),
  trim: z.array(
    z.object({
      kind: z.enum(trimKinds),
      grams: z.int(),
      outletId: z.string().nullable(),
      outlet: z.string().nullable(),
    }),
  ),
  helpers: z.array(z.object({ name: z.string(), helperId: z.string().nullable() })),
  jars: z
    .array(z.object({ id: z.string(), stock: z.int(), place: z.string(), household: z.string().nullable() }))
    .describe('Where they stand now'),
  notes: z.array(z.object({ at: z.string(), who: z.string(), what: z.string() })).describe('What was noted of it'),
})
