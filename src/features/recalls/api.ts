import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams, idText } from '../../ids.ts'
import { callText, only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayRecall } from './access.ts'
import { liftRecall, MOST_BATCHES, recallBatches } from './actions.ts'
import { listRecalls, RECALLS_PER_PAGE, type Recall } from './queries.ts'
import { standardTodo } from './texts.ts'
import { whereaboutsAnswer, whereaboutsOf } from './trace/api.ts'
import { viewRecall } from './view.ts'

const recallFields = {
  id: z.string(),
  reason: z.string(),
  todo: z.string(),
  by: z.string(),
  at: z.string(),
  liftedAt: z.string().nullable().describe('null: it stands'),
  liftedBy: z.string().nullable(),
  batches: z.array(z.object({ id: z.string(), code: z.string(), product: z.string(), variety: z.string().nullable() })),
}
const recallAnswer = z.object(recallFields)

const recallBody = z.strictObject({
  batchIds: z.array(idText).min(1).max(MOST_BATCHES),
  reason: callText(500),
  todo: callText(2000).default(standardTodo).describe('What people should do, and whom they tell'),
})

/** The same as the pages, for programs. */
export const recallsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const mayDo = only(mayRecall)
  const tags = ['recalls']

  app.get(
    '/api/recalls',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Recalls, those that stand first',
        querystring: z.strictObject({ page: z.coerce.number().int().min(1).max(10_000).default(1) }),
        response: { 200: z.object({ recalls: z.array(recallAnswer), more: z.boolean() }) },
      },
    },
    async (request) => {
      const rows = await listRecalls(app.prisma, request.asking, request.query.page)
      return { recalls: rows.slice(0, RECALLS_PER_PAGE).map(answerOf), more: rows.length > RECALLS_PER_PAGE }
    },
  )

  app.get(
    '/api/recalls/:id',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'One recall: where its jars stand and who took some',
        params: idParams,
        response: {
          200: z.object({
            ...recallFields,
            ...whereaboutsAnswer,
            madeOf: z
              .array(z.object({ id: z.string(), code: z.string(), product: z.string() }))
              .describe('Batches made of the recalled ones’ jars that are not recalled'),
          }),
        },
      },
    },
    async (request) => {
      const { recall, where, madeOf } = await viewRecall(app.prisma, request.asking, request.params.id)
      return {
        ...answerOf(recall),
        ...whereaboutsOf(where),
        madeOf: madeOf.map(({ id, code, product }) => ({ id, code, product })),
      }
    },
  )

  app.post(
    '/api/recalls',
    { ...mayDo, schema: { tags, summary: 'Recall batches', body: recallBody, response: { 201: recallAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 201,
        body: answerOf(await recallBatches(writingOf(request, transaction), request.body)),
      })),
  )

  app.post(
    '/api/recalls/:id/lift',
    {
      ...mayDo,
      schema: {
        tags,
        summary: 'Lift a recall: what no other recall stands for can be taken again',
        params: idParams,
        body: z.strictObject({}),
        response: { 200: recallAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 200,
        body: answerOf(await liftRecall(writingOf(request, transaction), request.params.id)),
      })),
  )
}

function answerOf({ at, liftedAt, batches, ...recall }: Recall) {
  return {
    ...recall,
    at: at.toISOString(),
    liftedAt: liftedAt?.toISOString() ?? null,
    batches: batches.map(({ id, code, product, variety }) => ({ id, code, product, variety })),
  }
}
