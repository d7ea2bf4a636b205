import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { unitsOfALoad } from '../../core/recipes/index.ts'
import { idParams, idText } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import { blankForm, readForm, type Typed, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listHelpers } from '../helpers/queries.ts'
import { listPlans } from '../plans/queries.ts'
import { listRecipes } from '../recipes/queries.ts'
import { mayKeepBatches } from './access.ts'
import { changeBatch } from './actions.ts'
import { batchesApi } from './api.ts'
import { MOST_UNITS } from './batch.ts'
import { batchPage, changeTyped, recordPage } from './batch-page.ts'
import { choosePage, plannedPage } from './choose-page.ts'
import { finishBatch } from './finish.ts'
import { changeForm, readFinish } from './form.ts'
import { finishPage, startTyped } from './form-page.ts'
import { batchesPage } from './list-page.ts'
import { loadForm } from './load.ts'
import { readMaking } from './making.ts'
import { batchesPath, batchPath, batchRecordPath, newBatchPath } from './paths.ts'
import { plannedBatches } from './planned.ts'
import { findBatch, listBatchChanges, listBatches } from './queries.ts'

const listQuery = z.object({
  page: z.coerce.number().int().min(1).max(10_000).default(1),
  q: z.string().trim().max(80).default(''),
})
const newQuery = z.object({
  plan: idText.optional(),
  /** "recipe:pack@day" */
  planned: z.string().max(100).optional(),
  /** "recipe:pack" */
  product: z.string().max(100).optional(),
  units: z
    .union([z.literal(''), z.coerce.number().int().min(1).max(MOST_UNITS)])
    .optional()
    .catch(''),
})

export const batchRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepBatches)
  await app.register(batchesApi)

  app.get(batchesPath(), { ...only(mayLook), schema: { querystring: listQuery } }, async (request, reply) => {
    const found = await listBatches(app.prisma, request.asking, request.query)
    const page = batchesPage(found, request.query, request.asking.coop)
    return reply.page('batches/list', { ...page, ...(await lastChange(request, 'batch')) })
  })

  app.get(newBatchPath(), { ...keep, schema: { querystring: newQuery } }, async (request, reply) => {
    const { asking, query } = request
    const { coop } = asking
    if (query.plan !== undefined) {
      const ofPlan = await plannedBatches(app.prisma, asking, query.plan)
      const planned = ofPlan.open.find(({ id }) => id === query.planned)
      // A link of an older division, or of a batch that was finished meanwhile, leads to what there is to do.
      if (planned === undefined) return reply.page('batches/planned', plannedPage(ofPlan, coop))
      const making = await readMaking(app.prisma, asking, planned.recipeId, planned.pack)
      const facts = await loadForm(request, making, { planId: query.plan, planned })
      return reply.page('batches/new', finishPage(blankForm(startTyped(facts, planned.units, coop)), facts, coop))
    }
    if (query.product !== undefined) {
      const [recipeId = '', pack = ''] = query.product.split(':')
      const making = await readMaking(app.prisma, asking, recipeId, pack)
      const facts = await loadForm(request, making, { planId: null, planned: null })
      const units = typeof query.units === 'number' ? query.units : unitsOfALoad(making.pack)
      return reply.page('batches/new', finishPage(blankForm(startTyped(facts, units, coop)), facts, coop))
    }
    const recipes = await listRecipes(app.prisma, asking)
    const { plans } = await listPlans(app.prisma, asking, 1)
    return reply.page('batches/choose', choosePage(blankForm(), recipes, plans))
  })

  app.post(batchesPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const { asking, body } = request
    const { coop } = asking
    const making = await readMaking(app.prisma, asking, textOf(body, 'recipe'), textOf(body, 'pack'))
    const facts = await loadForm(request, making, { planId: textOf(body, 'plan') || null, planned: null })
    const cropOf = (lotId: string) => facts.lots.find(({ lot }) => lot.id === lotId)?.lot.crop
    return answerForm(reply, readFinish(body, { making, coop, cropOf }), {
      show: (form, status) => reply.page('batches/new', finishPage(form, facts, coop), { status }),
      act: async (transaction, finish) => batchPath(await finishBatch(writingOf(request, transaction), finish)),
    })
  })

  app.get(batchPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) =>
    showBatch(request, reply, request.params.id, null, 200),
  )

  app.post(batchPath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    await findBatch(app.prisma, request.asking, id)
    const helpers = await listHelpers(app.prisma, request.asking)
    const form = readForm(changeForm(helpers.map((helper) => helper.id)), request.body)
    return answerForm(reply, form, {
      show: (refused, status) => showBatch(request, reply, id, refused, status),
      act: async (transaction, { helpers: helperIds, ...values }) => {
        await changeBatch(writingOf(request, transaction), id, versionOf(form), { ...values, helperIds })
        return batchPath(id)
      },
    })
  })

  app.get(batchRecordPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const batch = await findBatch(app.prisma, request.asking, request.params.id)
    return reply.page('batches/record', recordPage(batch, request.asking.coop))
  })
}

/** `refused` null: nobody has sent anything. */
async function showBatch(
  request: FastifyRequest,
  reply: FastifyReply,
  id: string,
  refused: TypedForm | null,
  status: number,
) {
  const { prisma } = request.server
  const { asking } = request
  const batch = await findBatch(prisma, asking, id)
  const form = refused ?? blankForm(changeTyped(batch))
  const more = {
    batch,
    helpers: await listHelpers(prisma, asking),
    changes: await listBatchChanges(prisma, asking, id),
    version: status === 422 ? versionOf(form) : batch.version,
  }
  const page = batchPage(form, more, asking.coop)
  return reply.page('batches/batch', { ...page, ...(await lastChange(request, 'batch', id)) }, { status })
}

function textOf(typed: Typed, name: string): string {
  const value = typed[name]
  return typeof value === 'string' ? value : ''
}
