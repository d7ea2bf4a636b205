import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import { blankForm, typedBody } from '../../web/forms.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listSupplies } from '../supplies/queries.ts'
import { mayKeepRecipes } from './access.ts'
import { recipesApi } from './api.ts'
import { type Choices, recipeFormPage } from './form-page.ts'
import { readRecipeForm } from './forms.ts'
import { type Names, recipePage, recipesPage } from './pages.ts'
import { editRecipePath, newRecipePath, recipePath, recipeRetirementPath, recipesPath } from './paths.ts'
import { addRecipe, changeRecipe, findRecipe, listMaterials, listRecipes, retireRecipe } from './queries.ts'
import { recipeTyped } from './typed.ts'

export const recipesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = { preHandler: only(mayKeepRecipes) }
  await app.register(recipesApi)

  const choicesFor = async ({ asking }: FastifyRequest): Promise<Choices> => ({
    materials: await listMaterials(app.prisma, asking),
    supplies: await listSupplies(app.prisma, asking),
  })
  const namesFor = async (request: FastifyRequest): Promise<Names> => {
    const { materials, supplies } = await choicesFor(request)
    return {
      materials: new Map(materials.map(({ key, name }) => [key, name])),
      supplies: new Map(supplies.map(({ key, name, unit }) => [key, { name, unit }])),
    }
  }

  app.get(recipesPath(), async (request, reply) => {
    const recipes = await listRecipes(app.prisma, request.asking)
    return reply.page('recipes/list', { ...recipesPage(recipes), ...(await lastChange(request, 'recipes')) })
  })

  app.get(newRecipePath(), keep, async (request, reply) =>
    reply.page('recipes/form', recipeFormPage(blankForm(), null, 0, await choicesFor(request))),
  )

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

  app.get(recipePath(':id'), { schema: { params: idParams } }, async (request, reply) => {
    const recipe = await findRecipe(app.prisma, request.asking, request.params.id)
    const page = recipePage(recipe, await namesFor(request), request.asking.coop)
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
