import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { methods } from '../../core/produce/vocabulary.ts'
import { verdictOn } from '../../core/recipes/index.ts'
import { starters } from '../../core/recipes/starters/index.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { readPlace } from '../processes/index.ts'
import { mayKeepRecipes } from './access.ts'
import { recipeAnswer } from './api.ts'
import { recipeDocumentTold } from './document.ts'
import { listRecipes } from './queries.ts'
import { starterOf, starterParams, takenBy, takeStarter } from './take-starter.ts'
import { answerOf, verdictAnswer } from './verdict-answer.ts'

const starterAnswer = z.object({
  key: z.string(),
  name: z.string(),
  method: z.enum(methods),
  definition: recipeDocumentTold,
  verdict: verdictAnswer.describe('In this kitchen'),
  ours: z.string().nullable().describe('Id of the co-op’s recipe of that name'),
})

/** The library, for programs. */
export const starterApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['recipes']

  app.get(
    '/api/recipe-starters',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Recipes that the service brings along; quantities from published guides, worth and minutes a guess',
        response: { 200: z.object({ starters: z.array(starterAnswer) }) },
      },
    },
    async ({ asking }) => {
      const place = await readPlace(app.prisma, asking)
      const taken = takenBy(await listRecipes(app.prisma, asking))
      return {
        starters: starters.map((one) => ({
          ...one,
          verdict: answerOf(verdictOn(one, place)),
          ours: taken.get(one.name) ?? null,
        })),
      }
    },
  )

  app.post(
    '/api/recipe-starters/:key',
    {
      ...only(mayKeepRecipes),
      schema: {
        tags,
        summary: 'Take one of them into the co-op’s recipes',
        params: starterParams,
        response: { 201: recipeAnswer },
      },
    },
    async (request, reply) => {
      const starter = starterOf(request.params.key)
      return reply.answerOnce(async (transaction) => ({
        status: 201,
        body: await takeStarter(writingOf(request, transaction), starter),
      }))
    },
  )
}
