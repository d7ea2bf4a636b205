import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { idText } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { listEntries } from '../entries/queries.ts'
import { listLines } from '../jars/queries.ts'
import { shelfPath, shelfProductPath } from '../paths.ts'
import { filterOf, pageNumber, ROWS_PER_PAGE, stockQuery } from './filter.ts'
import { productPage, stockPage } from './pages.ts'
import { findProduct, listNames, listProducts } from './queries.ts'

/** So many of the last entries of a product are shown. */
const ENTRIES_SHOWN = 50

const productParams = z.object({ id: idText, pack: z.string().min(1).max(60) })

export const stockRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    shelfPath(),
    { ...only(mayLook, { heavy: true }), schema: { querystring: stockQuery } },
    async (request, reply) => {
      const { asking, query } = request
      const stock = await listProducts(app.prisma, asking, filterOf(query), query.page)
      const facts = { ...(await listNames(app.prisma, asking)), today: todayIn(app.clock, asking.coop.timeZone) }
      return reply.page('shelf/list', stockPage(stock, query, facts, asking.coop))
    },
  )

  app.get(
    shelfProductPath(':id', ':pack'),
    { ...only(mayLook), schema: { params: productParams, querystring: z.object({ page: pageNumber }) } },
    async (request, reply) => {
      const { asking } = request
      const { id: recipeId, pack } = request.params
      const { page } = request.query
      const product = await findProduct(app.prisma, asking, recipeId, pack)
      const facts = {
        lines: await listLines(
          app.prisma,
          asking,
          { recipeId, pack },
          { take: ROWS_PER_PAGE, skip: (page - 1) * ROWS_PER_PAGE },
        ),
        entries: await listEntries(
          app.prisma,
          asking,
          { product: { recipeId, pack }, kinds: ['take', 'give', 'share', 'break', 'use', 'undo'] },
          ENTRIES_SHOWN,
        ),
        page,
        here: shelfProductPath(recipeId, encodeURIComponent(pack)),
        today: todayIn(app.clock, asking.coop.timeZone),
      }
      return reply.page('shelf/product', productPage(product, facts, asking.coop))
    },
  )
}
