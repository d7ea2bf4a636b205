import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { learn } from '../../core/learning/index.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { listRecipes } from '../recipes/queries.ts'
import { yieldsPage } from './pages.ts'
import { yieldsPath } from './paths.ts'
import { listObservations } from './queries.ts'

const belief = z.object({
  factor: z.number().describe('What to expect, as a factor of what the recipe says'),
  low: z.number(),
  high: z.number().describe('The next batch falls between low and high with a chance of 80 %'),
  batches: z.int().min(0),
})

export const yieldsRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(yieldsPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const observations = await listObservations(app.prisma, asking)
    return reply.page('yields/list', yieldsPage(await listRecipes(app.prisma, asking), observations, asking.coop))
  })

  app.get(
    `/api${yieldsPath()}`,
    {
      ...only(mayLook),
      schema: {
        tags: ['recipes'],
        summary: 'What finished batches taught of each recipe',
        response: {
          200: z.array(
            z.object({
              recipeId: z.string(),
              recipe: z.string(),
              yieldByPack: z.record(z.string(), belief),
              trim: belief,
              minutes: belief,
            }),
          ),
        },
      },
    },
    async (request) => {
      const observations = await listObservations(app.prisma, request.asking)
      const made = new Set(observations.map(({ recipeId }) => recipeId))
      return (await listRecipes(app.prisma, request.asking))
        .filter(({ id }) => made.has(id))
        .map((recipe) => ({ recipeId: recipe.id, recipe: recipe.name, ...learn(recipe, observations) }))
    },
  )
}
