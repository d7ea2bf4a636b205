import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { conflict, Failure } from '../../errors.ts'
import { idParams, idText } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayRecall } from './access.ts'
import { liftRecall, recallBatches } from './actions.ts'
import { recallsApi } from './api.ts'
import { type Offered, recallFormPage, recallTyped } from './form-page.ts'
import { recallForm } from './forms.ts'
import { fromTyped, namedBatches, offered } from './offered.ts'
import { noticePage, recallPage, recallsPage } from './pages.ts'
import { liftRecallPath, newRecallPath, recallNoticePath, recallPath, recallsPath } from './paths.ts'
import { listRecalls } from './queries.ts'
import { todoOf } from './texts.ts'
import { traceRoutes } from './trace/routes.ts'
import { viewRecall } from './view.ts'

const listQuery = z.object({ page: z.coerce.number().int().min(1).max(10_000).default(1) })
const newQuery = z.object({ batch: idText.optional(), lot: idText.optional() })
const bodyWithFrom = typedBody.refine(({ batch, lot }) =>
  [batch, lot].every((id) => !id || idText.safeParse(id).success),
)

/** Tracing a lot or a batch, and recalling what must not be eaten. */
export const recallsRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const mayDo = only(mayRecall)

  app.get(recallsPath(), { ...only(mayLook), schema: { querystring: listQuery } }, async (request, reply) => {
    const { asking, query } = request
    const page = recallsPage(await listRecalls(app.prisma, asking, query.page), query.page, asking.coop)
    return reply.page('recalls/list', { ...page, ...(await lastChange(request, 'recall')) })
  })

  app.get(newRecallPath(), { ...mayDo, schema: { querystring: newQuery } }, async (request, reply) => {
    const { batch, lot } = request.query
    const facts = await offered(app.prisma, request.asking, fromTyped({ batch: batch ?? '', lot: lot ?? '' }))
    return showForm(request, reply, facts, blankForm(recallTyped(facts)), 200)
  })

  app.post(recallsPath(), { ...mayDo, schema: { body: bodyWithFrom } }, async (request, reply) => {
    const { asking, body } = request
    return answerForm(reply, readForm(recallForm, body), {
      show: async (form, status) =>
        showForm(request, reply, await offered(app.prisma, asking, fromTyped(body)), form, status),
      act: async (transaction, values) => {
        const batchIds = await namedBatches(transaction, asking, values)
        const { reason } = values
        const todo = todoOf(values, asking.name)
        return recallPath((await recallBatches(writingOf(request, transaction), { batchIds, reason, todo })).id)
      },
    })
  })

  app.get(recallPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { asking, params } = request
    const page = recallPage(await viewRecall(app.prisma, asking, params.id), asking.coop)
    return reply.page('recalls/recall', { ...page, ...(await lastChange(request, 'recall', params.id)) })
  })

  app.get(recallNoticePath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { asking, params } = request
    return reply.page('recalls/notice', noticePage(await viewRecall(app.prisma, asking, params.id), asking.coop))
  })

  app.post(liftRecallPath(':id'), { ...mayDo, schema: { params: idParams } }, async (request, reply) => {
    const { id } = request.params
    try {
      return await reply.once(async (transaction) => {
        await liftRecall(writingOf(request, transaction), id)
        return recallPath(id)
      })
    } catch (error) {
      if (!(error instanceof Failure) || error.meaning !== 'conflict' || error.onward !== undefined) throw error
      throw conflict(error.message, { href: recallPath(id), text: 'See the recall' })
    }
  })

  await app.register(traceRoutes)
  await app.register(recallsApi)
}

function showForm(request: FastifyRequest, reply: FastifyReply, facts: Offered, form: TypedForm, status: number) {
  return reply.page('recalls/new', recallFormPage(form, facts, request.asking), { status })
}
