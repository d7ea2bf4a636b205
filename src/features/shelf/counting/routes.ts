import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { conflict, Failure } from '../../../errors.ts'
import { idParams } from '../../../ids.ts'
import { answerForm, only } from '../../../web/answers.ts'
import { blankForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { writingOf } from '../../changes/index.ts'
import { mayUseShelf } from '../access.ts'
import { countLine } from '../jars/actions.ts'
import { countLines, listLines } from '../jars/queries.ts'
import { placesPath, stockTakePath } from '../paths.ts'
import { findPlace } from '../places/queries.ts'
import { pageNumber, ROWS_PER_PAGE } from '../stock/filter.ts'
import { movedMeanwhile, readStockTake, stockTakeTyped } from './forms.ts'
import { stockTakePage } from './pages.ts'

export const countingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const use = only(mayUseShelf)
  const paged = { params: idParams, querystring: z.object({ page: pageNumber }) }

  const factsOf = async ({ asking }: FastifyRequest, placeId: string, page: number) => ({
    place: await findPlace(app.prisma, asking, placeId),
    lines: await listLines(app.prisma, asking, { placeId }, { take: ROWS_PER_PAGE, skip: (page - 1) * ROWS_PER_PAGE }),
    count: await countLines(app.prisma, asking, placeId),
    page,
  })

  app.get(stockTakePath(':id'), { ...use, schema: paged }, async (request, reply) => {
    const facts = await factsOf(request, request.params.id, request.query.page)
    const form = blankForm(stockTakeTyped(facts.lines))
    return reply.page('shelf/count', stockTakePage(form, facts, request.asking.coop))
  })

  app.post(stockTakePath(':id'), { ...use, schema: { ...paged, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    const { page } = request.query
    await findPlace(app.prisma, request.asking, id)
    return answerForm(reply, readStockTake(request.body), {
      show: async (sent: TypedForm, status) => {
        const facts = await factsOf(request, id, page)
        // what is there now is shown anew, beside what was typed
        const moved = status === 409 ? movedMeanwhile(sent.typed, facts.lines) : {}
        const errors = Object.keys(moved).length > 0 ? moved : sent.errors
        const typed = { ...stockTakeTyped(facts.lines), ...sent.typed }
        return reply.page('shelf/count', stockTakePage({ typed, errors }, facts, request.asking.coop), { status })
      },
      act: async (transaction, counts) => {
        const writing = writingOf(request, transaction)
        for (const { id: line, ...count } of counts) await goneIsConflict(() => countLine(writing, line, count))
        return placesPath()
      },
    })
  })
}

async function goneIsConflict(count: () => Promise<void>): Promise<void> {
  try {
    await count()
  } catch (error) {
    if (error instanceof Failure && error.meaning === 'not-found')
      throw conflict('Some of these jars are not on the shelf of this co-op. Open the page again.')
    throw error
  }
}
