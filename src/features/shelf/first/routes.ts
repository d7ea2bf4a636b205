import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { shelfFirstPath } from '../paths.ts'
import { pageNumber, ROWS_PER_PAGE } from '../stock/filter.ts'
import { firstPage } from './pages.ts'
import { listFirst, listUse } from './queries.ts'

export const firstRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    shelfFirstPath(),
    { ...only(mayLook), schema: { querystring: z.object({ page: pageNumber }) } },
    async (request, reply) => {
      const { asking } = request
      const { page } = request.query
      const today = todayIn(app.clock, asking.coop.timeZone)
      const first = await listFirst(app.prisma, asking, today, { skip: (page - 1) * ROWS_PER_PAGE })
      const use = await listUse(app.prisma, asking, { today, now: app.clock.now() })
      return reply.page('shelf/first', firstPage(first, { use, page, today }, asking.coop))
    },
  )
}
