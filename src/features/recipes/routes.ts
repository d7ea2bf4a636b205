import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { verdictOn } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import { blankForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { readPlace } from '../processes/index.ts'
import { mayKeepRecipes } from './access.ts'
import { recipesApi } from './api.ts'
import { readChoices, readNames } from './choices.ts'
import { recipeFormPage } from './form-page.ts'
import { readRecipeForm } from './forms.ts'
import { makingRoutes } from './making-routes.ts'
import { keptOtherwise, methodNamed } from './otherwise.ts'
import { recipePage, recipesPage } from './pages.ts'
import { editRecipePath, newRecipePath, recipePath, recipeRetirementPath, recipesPath } from './paths.ts'
import { addRecipe, changeRecipe, findRecipe, listRecipes, retireRecipe } from './queries.ts'
import { starterApi } from './starter-api.ts'
import { starterRoutes } from './starter-routes.ts'
import { recipeTyped } from './typed.ts'
import { verdictApi } from './verdict-api.ts'
import { versionRoutes } from './version-routes.ts'

/** A new recipe may begin as another one, kept another way. */
const beginQuery = z.object({ from: idParams.shape.id.optional(), as: z.string().max(40).optional() })

export const recipesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepRecipes)
  await app.register(recipesApi)
  await app.register(makingRoutes)
  await app.register(versionRoutes)
  await app.register(starterRoutes)
  await app.register(verdictApi)
  await app.register(starterApi)

  const choicesFor = (request: FastifyRequest) => readChoices(app, request.asking)

  app.get(recipesPath(), only(mayLook), async (request, reply) => {
    const recipes = await listRecipes(app.prisma, request.asking)
    const place = await readPlace(app.prisma, request.asking)
    return reply.page('recipes/list', { ...recipesPage(recipes, place), ...(await lastChange(request, 'recipes')) })
  })

  app.get(newRecipePath(), { ...keep, schema: { querystring: beginQuery } }, async (request, reply) => {
    const { from, as } = request.query
    const method = methodNamed(as)
    const begin =
      from === undefined || method === null
        ? {}
        : recipeTyped(keptOtherwise(await findRecipe(app.prisma, request.asking, from), method))
    return reply.page('recipes/form', recipeFormPage(blankForm(begin), null, 0, await choicesFor(request)))
  })

  app.post(recipesPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readRecipeForm(request.body), {
      show: async (form, status) =>
        reply.page('recipes/form', recipeFormPage(form, null, 0, await choicesFor(request)), { status }),
      act: async (transaction, values) => {
        const { id } = await addRecipe(writingOf(request, transaction), values)
        return recipePath(id)
      },
    }),
  )

  app.get(recipePath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const recipe = await findRecipe(app.prisma, request.asking, request.params.id)
    const verdict = verdictOn(recipe, await readPlace(app.prisma, request.asking))
    const page = recipePage(recipe, await readNames(app, request.asking), verdict, request.asking.coop)
    return reply.page('recipes/show', { ...page, ...(await lastChange(request, 'recipes', recipe.id)) })
  })

  app.get(editRecipePath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const recipe = await findRecipe(app.prisma, request.asking, request.params.id)
    const page = recipeFormPage(blankForm(recipeTyped(recipe)), recipe, recipe.version, await choicesFor(request))
    return reply.page('recipes/form', { ...page, ...(await lastChange(request, 'recipes', recipe.id)) })
  })

  app.post(recipePath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    await findRecipe(app.prisma, request.asking, id)
    const form = readRecipeForm(request.body)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findRecipe(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        return reply.page('recipes/form', recipeFormPage(form, newest, version, await choicesFor(request)), { status })
      },
      act: async (transaction, values) => {
        await changeRecipe(writingOf(request, transaction), id, versionOf(form), values)
        return recipePath(id)
      },
    })
  })

  app.post(
    recipeRetirementPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) =>
      reply.once(async (transaction) => {
        const { id } = request.params
        await retireRecipe(writingOf(request, transaction), id, request.body['retired'] === 'yes')
        return recipePath(id)
      }),
  )
}
