import { z } from 'zod'
import { lotSources, ripenessClasses, storages } from '../../core/produce/index.ts'
import { largestLotGrams } from '../../core/units/index.ts'
import { idText } from '../../ids.ts'
import { callText, versionNumber } from '../../web/answers.ts'
import { sortingWays } from './lot.ts'

// Bodies and answers of the calls about lots. Weights of a body that are texts are read as the pages read them.

const weightText = callText(200).describe('In any unit: "12 kg", "12 1/2 lb", "2 bushels", "36 medium"')
const price = z.int().min(0).max(10_000_000)

const changeable = {
  variety: callText(80).nullable(),
  source: z.enum(lotSources),
  broughtBy: callText(80),
  householdId: idText.nullable(),
  priceMinor: price.nullable().describe('Price of all of it, minor units'),
  note: callText(500).nullable(),
}

export const lotBody = z.strictObject({
  weight: weightText,
  crop: callText(40).describe('Key of a crop, see /api/crops'),
  class: z.enum(ripenessClasses).describe('How most of it is'),
  storage: z.enum(storages),
  arrivedOn: callText(20, 0).default('today').describe('ISO date, today or yesterday'),
  source: changeable.source,
  broughtBy: changeable.broughtBy,
  variety: changeable.variety.default(null),
  householdId: changeable.householdId.default(null),
  priceMinor: changeable.priceMinor.default(null),
  note: changeable.note.default(null),
})

export const changeBody = z.strictObject({
  version: versionNumber,
  weight: weightText.optional().describe('Only while the lot has been neither sorted nor moved'),
  variety: changeable.variety.optional(),
  source: changeable.source.optional(),
  broughtBy: changeable.broughtBy.optional(),
  householdId: changeable.householdId.optional(),
  priceMinor: changeable.priceMinor.optional(),
  note: changeable.note.optional(),
})

export const versionBody = z.strictObject({ version: versionNumber })
export const storageBody = z.strictObject({ version: versionNumber, storage: z.enum(storages) })
export const closureBody = z.strictObject({ version: versionNumber, closed: z.boolean() })

export const listQuery = z.strictObject({ closed: z.enum(['yes', 'no']).default('no') })
export const forecastQuery = z.strictObject({ days: z.coerce.number().int().min(1).max(366).default(14) })

const partGrams = z.int().min(0).max(largestLotGrams).default(0)
const partShare = z.number().min(0).max(1).default(0)
const note = callText(500).nullable().default(null)

export const sortingBody = z.discriminatedUnion('how', [
  z.strictObject({
    how: z.literal('weights'),
    version: versionNumber,
    grams: z.strictObject({
      firm: partGrams,
      ripe: partGrams,
      soft: partGrams,
      damaged: partGrams,
      setAside: partGrams,
      lost: partGrams,
    }),
    sure: z.boolean().default(false).describe('That weights more than 15 % off the expected stand'),
    note,
  }),
  z.strictObject({
    how: z.literal('shares'),
    version: versionNumber,
    shares: z.strictObject({
      firm: partShare,
      ripe: partShare,
      soft: partShare,
      damaged: partShare,
      setAside: partShare,
      lost: partShare,
    }),
    note,
  }),
])

const byClass = z.object({ firm: z.int(), ripe: z.int(), soft: z.int(), damaged: z.int() })

export const sortingAnswer = z.object({
  id: z.string(),
  sortedOn: z.string(),
  grams: byClass,
  setAsideGrams: z.int().describe('Kept to eat fresh since it came in'),
  lostGrams: z.int().describe('Thrown out since it came in'),
  usedGrams: z.int().describe('Went into batches since it came in'),
  how: z.enum(sortingWays),
  sortedBy: z.string(),
  note: z.string().nullable(),
  createdAt: z.string(),
})

const firstLoss = z.object({ useBy: z.string(), grams: z.int() }).nullable()

export const lotAnswer = z.object({
  id: z.string(),
  crop: z.string(),
  variety: z.string().nullable(),
  source: z.enum(lotSources),
  broughtBy: z.string(),
  householdId: z.string().nullable(),
  household: z.string().nullable(),
  arrivedOn: z.string(),
  storage: z.enum(storages),
  weightGrams: z.int(),
  weightTyped: z.string(),
  priceMinor: z.int().nullable(),
  note: z.string().nullable(),
  version: z.int(),
  closedOn: z.string().nullable(),
  sorting: sortingAnswer.describe('The one in force'),
  today: z
    .object({
      on: z.string(),
      grams: byClass,
      setAsideGrams: z.int(),
      lostGrams: z.int(),
      usedGrams: z.int().describe('Went into batches since it came in'),
      spoiledGrams: z.int().describe('Past use by the forecast since the last sorting'),
      usableGrams: z.int(),
      wholeGrams: z.int().describe('All that the last sorting accounts for'),
      first: firstLoss.describe('What spoils first: of use up to and with that morning'),
      soon: z.object({ useBy: z.string(), grams: z.int() }).describe('Of use only up to the third morning'),
      lastUseBy: z.string().nullable(),
    })
    .describe('By the forecast from the sorting in force'),
})

export const forecastAnswer = z.object({
  storage: z.enum(storages),
  days: z.array(z.object({ date: z.string(), grams: byClass.extend({ lost: z.int() }) })),
})
