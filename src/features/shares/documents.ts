import { z } from 'zod'
import { apportionmentMethods } from '../../core/shares/index.ts'

const id = z.string().min(1)
const text = z.string()
const whole = z.int().min(0)
const isoDate = z.iso.date()

/** The states of a sharing out. */
export const shareOutStates = ['proposed', 'handed-out', 'dropped'] as const
export type ShareOutState = (typeof shareOutStates)[number]

/** What was counted on the last day of a period: of that day the next period leaves it out. */
export const countedDocument = z.object({ lotIds: z.array(id), batchIds: z.array(id), dayIds: z.array(id) })
export type Counted = z.output<typeof countedDocument>

/** A sharing out as it was asked: the rule, the jars, and the households with what they brought. */
export const shareQuestion = z.object({
  rule: z.object({
    method: z.enum(apportionmentMethods),
    pointsPerKg: z.number().min(0),
    pointsPerHour: z.number().min(0),
    pointsPerMoney: z.number().min(0),
    byNeedPercent: z.number().min(0).max(100),
  }),
  /** The days whose work and produce count, both included; from null: from the beginning. */
  from: isoDate.nullable(),
  until: isoDate,
  counted: countedDocument,
  products: z.array(
    z.object({ id, recipeId: id, pack: id, name: text, unit: text, unitsName: text, units: whole, worthMinor: whole }),
  ),
  households: z.array(
    z.object({
      id,
      name: text,
      grams: whole,
      minutes: whole,
      moneyMinor: whole,
      points: z.number().min(0),
      people: whole,
      owedMinor: z.int(),
      declines: z.array(id),
    }),
  ),
})
export type StoredQuestion = z.output<typeof shareQuestion>

/** What came of it: who gets what with the sums, and which jars from where. `upTo` null: no end. */
export const shareAnswer = z.object({
  households: z.array(
    z.object({
      id,
      units: z.record(id, whole),
      partByPoints: z.number(),
      partByNeed: z.number(),
      entitled: z.int(),
      received: z.int(),
      owedBefore: z.int(),
      owed: z.int(),
    }),
  ),
  products: z.array(
    z.object({
      id,
      left: whole,
      apportionment: z
        .object({
          method: z.enum(apportionmentMethods),
          seats: whole,
          shares: z.array(
            z.object({
              id,
              weight: z.number(),
              quota: z.number(),
              seats: whole,
              remainder: z.number().nullable(),
              tie: z.enum(['won', 'lost']).nullable(),
            }),
          ),
          divisor: z.object({ divisor: z.number(), above: z.number(), upTo: z.number().nullable() }).nullable(),
        })
        .nullable(),
    }),
  ),
  picks: z.array(
    z.object({
      householdId: id,
      picks: z.array(
        z.object({
          productId: id,
          jarBatchId: id,
          placeId: id,
          place: text,
          code: text,
          bestBy: isoDate.nullable(),
          units: whole,
        }),
      ),
    }),
  ),
})
export type StoredAnswer = z.output<typeof shareAnswer>
