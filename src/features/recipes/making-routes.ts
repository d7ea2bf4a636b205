import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { scaleRecipe, unitsOfALoad, verdictOn } from '../../core/recipes/index.ts'
import { notFound } from '../../errors.ts'
import { idParams } from '../../ids.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { readPlace } from '../processes/index.ts'
import { listSupplies } from '../supplies/queries.ts'
import { amountsQuery, readAmountsAsked } from './amounts.ts'
import { amountsPage } from './amounts-page.ts'
import { cardPage } from './card-page.ts'
import { readNames } from './choices.ts'
import { recipeAmountsPath, recipeCardPath } from './paths.ts'
import { findRecipe } from './queries.ts'

/** How much of everything, and the card for the wall. */
export const makingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    recipeAmountsPath(':id'),
    { ...only(mayLook), schema: { params: idParams, querystring: amountsQuery } },
    async (request, reply) => {
      const { asking, query } = request
      const recipe = await findRecipe(app.prisma, asking, request.params.id)
      const verdict = verdictOn(recipe, await readPlace(app.prisma, asking))
      const setting = { supplies: await listSupplies(app.prisma, asking), verdict, coop: asking.coop }
      const asked = readAmountsAsked(recipe.definition, query)
      if (!asked.ok) {
        return reply.page('recipes/amounts', amountsPage(recipe, asked.form, null, setting), { status: 422 })
      }
      const scaled = scaleRecipe(recipe.definition, asked.pack, asked.by, asking.coop.units)
      return reply.page('recipes/amounts', amountsPage(recipe, asked.form, scaled, setting))
    },
  )

  app.get(
    recipeCardPath(':id'),
    { ...only(mayLook), schema: { params: idParams, querystring: cardQuery } },
    async (request, reply) => {
      const { asking, query } = request
      const recipe = await findRecipe(app.prisma, asking, request.params.id)
      const pack =
        query.pack === undefined
          ? recipe.definition.packs[0]
          : recipe.definition.packs.find(({ key }) => key === query.pack)
      if (pack === undefined) throw notFound('such size')
      const verdict = verdictOn(recipe, await readPlace(app.prisma, asking))
      const batch = { pack, units: query.units ?? unitsOfALoad(pack) }
      const names = await readNames(app, asking)
      return reply.page('recipes/card', cardPage(recipe, batch, { names, verdict, coop: asking.coop }))
    },
  )
}

const cardQuery = z.object({
  pack: z.string().max(40).optional(),
  units: z.coerce.number().int().min(1).max(10_000).optional(),
})
