import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { writingOf } from '../../changes/index.ts'
import { findSupply } from '../../supplies/queries.ts'
import { mayUseShelf } from '../access.ts'
import { buyBody, entryAnswer, entryBody } from '../api-schemas.ts'
import { findEntry } from '../entries/queries.ts'
import { buyPacks, MOST_PACKS } from './actions.ts'

/** Supplies that were bought, for programs. */
export const buyingApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const use = only(mayUseShelf)
  const tags = ['shelf']

  app.get(
    '/api/shelf/supplies/:id/buy',
    {
      ...use,
      schema: {
        tags,
        summary: 'What is on hand of a supply before some are bought, and what a pack has',
        params: idParams,
        response: {
          200: z.object({
            supplyId: z.string(),
            name: z.string(),
            unit: z.string(),
            onHand: z.int(),
            packSize: z.int().describe('In the supply’s unit'),
            packsAtOnce: z.int().describe('More packs are not bought at once'),
          }),
        },
      },
    },
    async (request) => {
      const { id, name, unit, onHand, packSize } = await findSupply(app.prisma, request.asking, request.params.id)
      return { supplyId: id, name, unit, onHand, packSize, packsAtOnce: MOST_PACKS }
    },
  )

  app.post(
    '/api/shelf/supplies/:id/buy',
    {
      ...use,
      schema: {
        tags,
        summary: 'Packs of a supply were bought: the entry in the ledger, which can be taken back',
        params: idParams,
        body: buyBody,
        response: { 201: entryAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const id = await buyPacks(writingOf(request, transaction), request.params.id, request.body)
        return { status: 201, body: entryBody(await findEntry(transaction, request.asking, id)) }
      }),
  )
}
