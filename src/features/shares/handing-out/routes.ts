import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { Failure } from '../../../errors.ts'
import { idParams, idText } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { type Writing, writingOf } from '../../changes/index.ts'
import { mayShareOut } from '../access.ts'
import { dropShareOutPath, handOutPath, pickingListPath, shareOutPath, undoHandOutPath } from '../paths.ts'
import { dropShareOut, findShareOut, type ShareOut } from '../proposals/queries.ts'
import { shareOutPage } from '../proposals/share-page.ts'
import { handOut, undoHandOut } from './actions.ts'
import { pickingPage } from './picking-page.ts'

export const handingOutRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const share = { ...only(mayShareOut, { bulk: true }), schema: { params: idParams } }

  /** Does it once and leads to the page; what stands in the way is told on the page itself, with 409. */
  const answer = async (
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    act: (writing: Writing, id: string) => Promise<ShareOut>,
  ): Promise<FastifyReply> => {
    const { id } = request.params
    try {
      return await reply.once(async (transaction) => shareOutPath((await act(writingOf(request, transaction), id)).id))
    } catch (error) {
      if (!(error instanceof Failure) || error.meaning !== 'conflict' || error.onward !== undefined) throw error
      const shareOut = await findShareOut(app.prisma, request.asking, id)
      const page = shareOutPage(shareOut, error.message, request.asking.coop)
      return reply.page('shares/share-out', page, { status: 409 })
    }
  }

  app.post(handOutPath(':id'), share, async (request, reply) => answer(request, reply, handOut))
  app.post(undoHandOutPath(':id'), share, async (request, reply) => answer(request, reply, undoHandOut))
  app.post(dropShareOutPath(':id'), share, async (request, reply) => answer(request, reply, dropShareOut))

  app.get(
    pickingListPath(':id'),
    {
      ...only(mayLook),
      schema: { params: idParams, querystring: z.object({ household: z.union([z.literal(''), idText]).default('') }) },
    },
    async (request, reply) => {
      const shareOut = await findShareOut(app.prisma, request.asking, request.params.id)
      return reply.page('shares/picking', pickingPage(shareOut, request.query.household, request.asking.coop))
    },
  )
}
