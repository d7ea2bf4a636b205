import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { methods } from '../../core/produce/vocabulary.ts'
import { checkRecipe } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { callText, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepRecipes } from './access.ts'
import { recipeDocument, recipeDocumentTold } from './document.ts'
import { addRecipe, changeRecipe, findRecipe, listRecipes, type RecipeValues, retireRecipe } from './queries.ts'
import { faultWords } from './words.ts'

const recipeBody = z.strictObject({ name: callText(80), method: z.enum(methods), definition: recipeDocument })

/** A recipe as a call answers it. */
export const recipeAnswer = z.object({
  id: z.string(),
  name: z.string(),
  method: z.enum(methods),
  definition: recipeDocumentTold,
  retired: z.boolean(),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const recipesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepRecipes)
  const tags = ['recipes']

  app.get(
    '/api/recipes',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'All recipes, retired ones too',
        response: { 200: z.object({ recipes: z.array(recipeAnswer) }) },
      },
    },
    async (request) => ({ recipes: await listRecipes(app.prisma, request.asking) }),
  )

  app.get(
    '/api/recipes/:id',
    { ...only(mayLook), schema: { tags, summary: 'One recipe', params: idParams, response: { 200: recipeAnswer } } },
    async (request) => findRecipe(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/recipes',
    { ...keep, schema: { tags, summary: 'Add a recipe', body: recipeBody, response: { 201: recipeAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseFaults(request.body)
        return { status: 201, body: await addRecipe(writingOf(request, transaction), request.body) }
      }),
  )

  app.put(
    '/api/recipes/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a recipe',
        params: idParams,
        body: recipeBody.extend({ version: versionNumber }),
        response: { 200: recipeAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        const writing = writingOf(request, transaction)
        await findRecipe(transaction, request.asking, request.params.id)
        refuseFaults(values)
        return { status: 200, body: await changeRecipe(writing, request.params.id, version, values) }
      }),
  )

  app.put(
    '/api/recipes/:id/retirement',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Retire a recipe or take it back into use',
        params: idParams,
        body: z.strictObject({ retired: z.boolean() }),
        response: { 200: recipeAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const writing = writingOf(request, transaction)
        return { status: 200, body: await retireRecipe(writing, request.params.id, request.body.retired) }
      }),
  )
}

function refuseFaults({ method, definition }: RecipeValues): void {
  const words = faultWords(checkRecipe(definition, method))
  refuseProblems(Object.fromEntries(Object.entries(words).map(([at, said]) => [`definition.${at}`, said])))
}
