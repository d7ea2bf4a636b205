import { z } from 'zod'
import { type Help, type Standing, type Tried, triesFor } from '../../../../core/agreement/index.ts'
import { equipmentKinds, workKinds } from '../../../../core/produce/vocabulary.ts'
import { resultDocument } from '../../documents.ts'

/** What was tried for a timetable so far, and what there was to try. */
export type WorthAnswer = {
  /** The timetable as it is. */
  before: Standing
  candidates: Help[]
  /** As far as they have been tried, in the order of `triesFor`. */
  tries: Tried[]
}

export const helpDocument = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('machine'), machine: z.enum(equipmentKinds) }),
  z.object({ kind: z.literal('hours'), day: z.int().describe('Number of the work day, from 0'), minutes: z.int() }),
  z.object({ kind: z.literal('hands'), skills: z.array(z.enum(workKinds)), count: z.int() }),
  z.object({ kind: z.literal('freezer'), ml: z.int() }),
]) satisfies z.ZodType<Help>

export const unitsDocument = z.array(z.object({ productId: z.string(), units: z.int() }))

export const standingDocument = z.object({
  worth: z.number().describe('Worth less cost less spoilage, minor units'),
  bound: z.number().nullable().describe('No division within its cuts is worth more; null: not known'),
  batches: resultDocument.shape.batches,
  handsMinutes: z.number().describe('Minutes from opening to the last hands on a batch, over all work days'),
  holds: z.boolean().describe('Everything that is divided is done within its day'),
}) satisfies z.ZodType<Standing>

const worthDocument = z.object({
  before: standingDocument,
  candidates: z.array(helpDocument),
  tries: z.array(z.object({ help: helpDocument.nullable(), reached: standingDocument })),
}) satisfies z.ZodType<WorthAnswer>

/** Reads what is stored; throws where it is not of the form that this program writes. */
export function readWorth(stored: unknown): WorthAnswer {
  return worthDocument.parse(stored)
}

/** How many of the candidates have been tried: the one without any help is not among them. */
export function helpsTried({ tries }: WorthAnswer): number {
  return tries.filter(({ help }) => help !== null).length
}

/** Nothing is left to try. */
export function isWhole({ candidates, tries }: WorthAnswer): boolean {
  return tries.length === triesFor(candidates).length
}
