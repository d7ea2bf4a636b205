import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { scaleRecipe, unitsOfALoad, verdictOn } from '../../core/recipes/index.ts'
import { notFound } from '../../errors.ts'
import { idParams } from '../../ids.ts'
import { blankForm, readForm, refusedForm, type Typed } from '../../web/forms.ts'
import { readPlace } from '../processes/index.ts'
import { listSupplies } from '../supplies/queries.ts'
import { amountsForm, amountsQuery, scaleOf } from './amounts.ts'
import { amountsPage } from './amounts-page.ts'
import { cardPage } from './card-page.ts'
import { recipeAmountsPath, recipeCardPath } from './paths.ts'
import { findRecipe } from './queries.ts'

/** How much of everything, and the card for the wall. */
export const makingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    recipeAmountsPath(':id'),
    { schema: { params: idParams, querystring: amountsQuery } },
    async (request, reply) => {
      const { asking, query } = request
      const recipe = await findRecipe(app.prisma, asking, request.params.id)
      const [first] = recipe.definition.packs
      if (first === undefined) throw notFound('such size')
      const verdict = verdictOn(recipe, await readPlace(app.prisma, asking))
      const setting = { supplies: await listSupplies(app.prisma, asking), verdict, coop: asking.coop }
      const typed: Typed = {
        pack: query.pack ?? first.key,
        by: query.by ?? 'loads',
        much: query.much ?? (query.by === undefined ? '1' : ''),
      }
      const form = readForm(amountsForm(recipe.definition.packs), typed)
      if (!form.ok) return reply.page('recipes/amounts', amountsPage(recipe, form, null, setting), { status: 422 })
      const scale = scaleOf(form.values.by, form.values.much)
      if ('problem' in scale) {
        const refused = refusedForm(form, { much: scale.problem })
        return reply.page('recipes/amounts', amountsPage(recipe, refused, null, setting), { status: 422 })
      }
      const pack = recipe.definition.packs.find(({ key }) => key === form.values.pack) ?? first
      const scaled = scaleRecipe(recipe.definition, pack, scale.by, asking.coop.units)
      return reply.page('recipes/amounts', amountsPage(recipe, blankForm(typed), scaled, setting))
    },
  )

  app.get(recipeCardPath(':id'), { schema: { params: idParams, querystring: cardQuery } }, async (request, reply) => {
    const { asking, query } = request
    const recipe = await findRecipe(app.prisma, asking, request.params.id)
    const pack =
      query.pack === undefined
        ? recipe.definition.packs[0]
        : recipe.definition.packs.find(({ key }) => key === query.pack)
    if (pack === undefined) throw notFound('such size')
    const verdict = verdictOn(recipe, await readPlace(app.prisma, asking))
    return reply.page('recipes/card', cardPage(recipe, pack, query.units ?? unitsOfALoad(pack), verdict, asking.coop))
  })
}

const cardQuery = z.object({
  pack: z.string().max(40).optional(),
  units: z.coerce.number().int().min(1).max(10_000).optional(),
})
