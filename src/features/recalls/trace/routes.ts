import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { findBatch } from '../../batches/queries.ts'
import { traceBatchPath, traceLotPath } from '../paths.ts'
import { traceApi } from './api.ts'
import { traceBatch, traceLot } from './load.ts'
import { batchTracePage, lotTracePage } from './pages.ts'

export const traceRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(traceLotPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { asking, params } = request
    return reply.page('recalls/trace-lot', lotTracePage(await traceLot(app.prisma, asking, params.id), asking.coop))
  })

  app.get(traceBatchPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { asking, params } = request
    const trace = await traceBatch(app.prisma, asking, params.id)
    const made = await findBatch(app.prisma, asking, params.id)
    return reply.page('recalls/trace-batch', batchTracePage(trace, made, asking.coop))
  })

  await app.register(traceApi)
}
