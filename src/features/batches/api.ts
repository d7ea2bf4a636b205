import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import type { TransactionClient } from '../../db/transaction.ts'
import { idParams } from '../../ids.ts'
import { only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepBatches } from './access.ts'
import { changeBatch } from './actions.ts'
import { batchAnswer, batchLine, changeBody, finishBody } from './api-schemas.ts'
import { finishBatch } from './finish.ts'
import { findBatch, listBatchChanges, listBatches } from './queries.ts'

/** The same as the pages, for programs. */
export const batchesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepBatches)
  const tags = ['batches']

  app.get(
    '/api/batches',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Batches, newest first',
        querystring: z.object({
          page: z.coerce.number().int().min(1).max(10_000).default(1),
          q: z.string().trim().max(80).default('').describe('Part of a product, a variety or a code'),
        }),
        response: { 200: z.object({ batches: z.array(batchLine), more: z.boolean() }) },
      },
    },
    async (request) => listBatches(app.prisma, request.asking, request.query),
  )

  app.get(
    '/api/batches/:id',
    { ...only(mayLook), schema: { tags, summary: 'One batch', params: idParams, response: { 200: batchAnswer } } },
    async (request) => answerOf(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/batches',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Finish a batch: out of lots and supplies, onto the shelf',
        body: finishBody,
        response: { 201: batchAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const id = await finishBatch(writingOf(request, transaction), request.body)
        return { status: 201, body: await answerOf(transaction, request.asking, id) }
      }),
  )

  app.patch(
    '/api/batches/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Correct note, best by, helpers and minutes of a batch',
        params: idParams,
        body: changeBody,
        response: { 200: batchAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { id } = request.params
        const { version, ...change } = request.body
        await changeBatch(writingOf(request, transaction), id, version, change)
        return { status: 200, body: await answerOf(transaction, request.asking, id) }
      }),
  )
}

async function answerOf(prisma: TransactionClient, asking: Asking, id: string) {
  const { finishedAt, ...batch } = await findBatch(prisma, asking, id)
  const notes = await listBatchChanges(prisma, asking, id)
  return {
    ...batch,
    finishedAt: finishedAt.toISOString(),
    notes: notes.map(({ at, who, what }) => ({ at: at.toISOString(), who, what })),
  }
}
