import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { coopPage } from './pages.ts'
import { coopPath } from './paths.ts'

export const coopRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(coopPath(), async (request, reply) => reply.page('coop/home', coopPage(request.asking.coop)))
}
