import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { lotSources } from '../../../core/produce/index.ts'
import { idParams } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { traceBatch, traceLot, type Whereabouts } from './load.ts'
import { lotsOf } from './pages.ts'
import { leavings, type TracedBatch } from './queries.ts'

const lotAnswer = z.object({
  id: z.string(),
  crop: z.string(),
  variety: z.string().nullable(),
  source: z.enum(lotSources),
  broughtBy: z.string(),
  household: z.string().nullable(),
  arrivedOn: z.string(),
  weightGrams: z.int(),
})

const batchAnswer = z.object({
  id: z.string(),
  code: z.string(),
  product: z.string(),
  variety: z.string().nullable(),
  unit: z.string(),
  unitsName: z.string(),
  madeOn: z.string(),
  units: z.int().describe('As many were put on the shelf'),
  inGrams: z.int(),
  recalled: z.boolean(),
  inputs: z
    .array(z.object({ lotId: z.string().nullable(), batchId: z.string().nullable(), units: z.int(), grams: z.int() }))
    .describe('Of a lot or of another batch’s jars'),
})

export const whereaboutsAnswer = {
  standing: z.array(
    z.object({
      batchId: z.string(),
      jarBatchId: z.string(),
      place: z.string(),
      householdId: z.string().nullable(),
      household: z.string().nullable(),
      units: z.int(),
    }),
  ),
  gone: z
    .array(
      z.object({
        batchId: z.string(),
        kind: z.enum(leavings),
        householdId: z.string().nullable(),
        household: z.string().nullable(),
        note: z.string().nullable(),
        units: z.int().describe('Below 0: a stock-take found more'),
        first: z.string(),
        last: z.string(),
      }),
    )
    .describe('What left the shelf, by batch, way and household; what was taken back is left out'),
}

/** The same as the pages, for programs. */
export const traceApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['trace']

  app.get(
    '/api/trace/lots/:id',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'From a lot to every batch and jar of it',
        params: idParams,
        response: { 200: z.object({ lot: lotAnswer, batches: z.array(batchAnswer), ...whereaboutsAnswer }) },
      },
    },
    async (request) => {
      const { lot, batches, ...where } = await traceLot(app.prisma, request.asking, request.params.id)
      return { lot, batches: batches.map(answerOf), ...whereaboutsOf(where) }
    },
  )

  app.get(
    '/api/trace/batches/:id',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'From a batch back to its lots, and forward to every jar',
        params: idParams,
        response: {
          200: z.object({
            batch: batchAnswer,
            behind: z.array(batchAnswer).describe('Batches whose jars went into it, to any depth'),
            ahead: z.array(batchAnswer).describe('Batches made of its jars, to any depth'),
            lots: z.array(lotAnswer),
            ...whereaboutsAnswer,
          }),
        },
      },
    },
    async (request) => {
      const { batch, behind, ahead, ...where } = await traceBatch(app.prisma, request.asking, request.params.id)
      return {
        batch: answerOf(batch),
        behind: behind.map(answerOf),
        ahead: ahead.map(answerOf),
        lots: lotsOf([batch, ...behind]),
        ...whereaboutsOf(where),
      }
    },
  )
}

export function whereaboutsOf({ standing, gone }: Whereabouts) {
  return {
    standing,
    gone: gone.map((row) => ({ ...row, first: row.first.toISOString(), last: row.last.toISOString() })),
  }
}

function answerOf({ inputs, ...batch }: TracedBatch) {
  return {
    ...batch,
    inputs: inputs.map((input) =>
      input.kind === 'lot'
        ? { lotId: input.lot.id, batchId: null, units: 0, grams: input.grams }
        : { lotId: null, batchId: input.batchId, units: input.units, grams: input.grams },
    ),
  }
}
