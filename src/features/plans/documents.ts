import { z } from 'zod'
import type { AllocationResult, StepWorth } from '../../core/allocation/index.ts'
import type { Question, WishFor } from '../../core/division/index.ts'
import {
  ageBands,
  equipmentKinds,
  methods,
  outletKinds,
  ripenessClasses,
  stations,
  storages,
  workKinds,
} from '../../core/produce/vocabulary.ts'
import { holdsDocument } from '../equipment/index.ts'
import { recipeDocumentTold } from '../recipes/index.ts'

/** What a division that was saved holds beside the answer itself. */
export type Answer = {
  result: AllocationResult
  /** null until they are worked out, which comes after the answer. */
  steps: StepWorth[] | null
  /** The plan was changed between the asking and the saving. */
  planMoved: boolean
  headline: Headline
}

/** What a list says of a division, so that lists need not add it up again. */
export type Headline = {
  cameInGrams: number
  /** Jars, bags, trays: what is counted together, most first. */
  counts: { unit: string; units: string; many: number }[]
  /** Whole produce that no product took and that does not keep. */
  leftOverGrams: number
}

const id = z.string().min(1)
const grams = z.int().min(0)
const minutes = z.number().min(0)
const days = z.array(z.int().min(0))
const text = z.string()
const isoDate = z.string().regex(/^\d{4}-\d{2}-\d{2}$/)

export const wishDocument = z.strictObject({
  recipeId: id,
  pack: id,
  atLeast: z.int().min(0),
  about: z.int().min(0),
  atMost: z.int().min(0),
  matters: z.union([z.literal(1), z.literal(2), z.literal(3)]),
}) satisfies z.ZodType<WishFor>

const spanOfDay = z.object({ dayId: id, fromMinute: z.int(), toMinute: z.int() })

/** A question as it is stored with its division. What was not asked for in older ones may be absent. */
export const questionDocument = z.object({
  askedOn: isoDate,
  lots: z.array(
    z.object({
      id,
      name: text,
      crop: id,
      storage: z.enum(storages),
      arrivedOn: isoDate,
      sortedOn: isoDate,
      grams: z.record(z.enum(ripenessClasses), grams),
      setAsideGrams: grams,
      lostGrams: grams,
    }),
  ),
  days: z.array(z.object({ id, date: isoDate, opensMinute: z.int(), closesMinute: z.int() })),
  equipment: z.array(
    z.object({
      id,
      kind: z.enum(equipmentKinds),
      name: text,
      count: z.int(),
      roomMl: z.int().nullable(),
      aroundTheClock: z.boolean(),
      outOn: z.array(id),
      holds: holdsDocument.exactOptional(),
      comeUpMinutes: minutes.exactOptional(),
      coolDownMinutes: minutes.exactOptional(),
      burners: z.int().min(0).exactOptional(),
      fromMinute: z.int().exactOptional(),
      toMinute: z.int().exactOptional(),
    }),
  ),
  helpers: z.array(
    z.object({
      id,
      name: text,
      ageBand: z.enum(ageBands),
      skills: z.array(z.enum(workKinds)),
      hours: z.array(spanOfDay),
      breaks: z.array(spanOfDay).exactOptional(),
      speed: z.number().positive().exactOptional(),
      stretchMinutes: minutes.exactOptional(),
      likes: z.array(z.enum(stations)).exactOptional(),
      dislikes: z.array(z.enum(stations)).exactOptional(),
    }),
  ),
  supplies: z.array(
    z.object({
      key: id,
      name: text,
      unit: text,
      onHand: z.number(),
      packSize: z.number(),
      packPriceMinor: z.number(),
      packsAtMost: z.int(),
    }),
  ),
  outlets: z.array(
    z.object({
      id,
      kind: z.enum(outletKinds),
      name: text,
      capacityGrams: grams.nullable(),
      worthPerKgMinor: z.number(),
      takesProduce: z.boolean(),
      crops: z.array(id),
      classes: z.array(z.enum(ripenessClasses)),
      materials: z.array(id),
    }),
  ),
  recipes: z.array(z.object({ id, name: text, method: z.enum(methods), definition: recipeDocumentTold })),
  wishes: z.array(wishDocument),
  budgetMinor: z.number().nullable(),
  clock: z
    .array(
      z.discriminatedUnion('kind', [
        z.object({ kind: z.literal('units'), productId: id, dayId: id, atMost: z.number().min(0) }),
        z.object({ kind: z.literal('machine'), machine: z.enum(equipmentKinds), dayId: id, minutes }),
      ]),
    )
    .exactOptional(),
}) satisfies z.ZodType<Question>

const destination = z.union([z.object({ outletId: id }), z.literal('kept'), z.literal('lost')])
const limit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('wish') }),
  z.object({ kind: z.literal('produce'), crops: z.array(id) }),
  z.object({ kind: z.literal('material'), materialId: id }),
  z.object({ kind: z.literal('machine'), machineId: id, days }),
  z.object({ kind: z.literal('work'), skills: z.array(id), days }),
  z.object({ kind: z.literal('room'), roomId: id }),
  z.object({ kind: z.literal('supply'), supplyId: id }),
  z.object({ kind: z.literal('budget') }),
  z.object({ kind: z.literal('run-fill'), days }),
  z.object({ kind: z.literal('worth') }),
])
/** JSON has no infinity: where nothing was proved the bound and the gap are null. */
const provedNumber = z.number().nullable()

export const resultDocument = z.object({
  status: z
    .enum(['proved', 'limit', 'stopped', 'fallback'])
    .describe('proved: no better division exists; limit: the best within the time; stopped; fallback: the plain rule'),
  objective: z.number().describe('Worth less cost less spoilage, minor units'),
  bound: provedNumber.describe('No division can be worth more; null where nothing was proved'),
  gap: provedNumber.describe('(bound - objective) / max(1, |objective|)'),
  allocations: z.array(z.object({ itemId: id, productId: id, day: z.int(), grams })),
  materialUses: z.array(z.object({ materialId: id, madeOn: z.int(), productId: id, day: z.int(), grams })),
  batches: z.array(z.object({ productId: id, day: z.int(), units: z.int(), grams, runs: z.array(z.int()) })),
  materialsMade: z.array(z.object({ productId: id, day: z.int(), materialId: id, grams })),
  leftovers: z.array(
    z.object({
      from: z.union([z.object({ itemId: id }), z.object({ materialId: id, madeOn: z.int() })]),
      grams,
      to: destination,
      actBy: isoDate,
    }),
  ),
  purchases: z.array(z.object({ supplyId: id, packs: z.int(), cost: z.number() })),
  shortfalls: z.array(z.object({ productId: id, units: z.int() })),
  reasons: z.array(z.object({ productId: id, units: z.int(), limits: z.array(limit) })),
  elapsedMs: z.number(),
  trouble: z.string().exactOptional(),
})

export const stepDocument = z.object({
  step: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('machine'), machineId: id, day: z.int(), minutes }),
    z.object({ kind: z.literal('work'), skill: id, day: z.int(), minutes }),
    z.object({ kind: z.literal('room'), roomId: id, ml: z.number() }),
    z.object({ kind: z.literal('supply'), supplyId: id, packs: z.int() }),
  ]),
  gain: z.number(),
  unitsChanged: z.array(z.object({ productId: id, units: z.int() })),
}) satisfies z.ZodType<StepWorth>

export const headlineDocument = z.object({
  cameInGrams: grams,
  counts: z.array(z.object({ unit: text, units: text, many: z.int() })),
  leftOverGrams: grams,
}) satisfies z.ZodType<Headline>

const answerDocument = z.object({
  result: resultDocument,
  steps: z.array(stepDocument).nullable(),
  planMoved: z.boolean(),
  headline: headlineDocument,
})

/** Reads a stored answer; throws where it is not of the form that this program writes. */
export function readAnswer(stored: unknown): Answer {
  const { result, ...rest } = answerDocument.parse(stored)
  const { bound, gap } = result
  return {
    ...rest,
    result: { ...result, bound: bound ?? Number.POSITIVE_INFINITY, gap: gap ?? Number.POSITIVE_INFINITY },
  }
}

/** Reads a stored question; throws where it is not of the form that this program writes. */
export function readQuestion(stored: unknown): Question {
  return questionDocument.parse(stored)
}
