import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { notFound } from '../../../errors.ts'
import { idParams, idText } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { formatFor } from '../../../web/format.ts'
import { mayLook } from '../../../web/roles.ts'
import { findDivision, findDivisionById } from '../divisions/queries.ts'
import { type AnsweredView, answeredView } from '../divisions/view.ts'
import { comparePath } from '../paths.ts'
import { comparePage } from './pages.ts'

/** Which two: by number within the plan, or by id for a division of another plan. */
export const compareQuery = z.object({ a: idText, b: idText })

export const compareRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    comparePath(':id'),
    { ...only(mayLook), schema: { params: idParams, querystring: compareQuery } },
    async (request, reply) => {
      const [a, b] = await loadBoth(request, request.params.id, request.query)
      return reply.page('plans/compare', comparePage(a, b, formatFor(request.asking.coop)))
    },
  )
}

/** Both divisions, added up; 404 for one that is not the co-op's or has no answer. */
export async function loadBoth(
  request: FastifyRequest,
  planId: string,
  { a, b }: z.output<typeof compareQuery>,
): Promise<[AnsweredView, AnsweredView]> {
  return [await loadAnswered(request, planId, a), await loadAnswered(request, planId, b)]
}

async function loadAnswered(request: FastifyRequest, planId: string, which: string): Promise<AnsweredView> {
  const { prisma } = request.server
  const division = /^[1-9]\d{0,5}$/.test(which)
    ? await findDivision(prisma, request.asking, planId, Number(which))
    : await findDivisionById(prisma, request.asking, which)
  const view = answeredView(division, request.asking.coop)
  if (view === null) throw notFound('answer of this division yet')
  return view
}
