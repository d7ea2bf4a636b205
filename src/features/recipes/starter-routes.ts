import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { verdictOn } from '../../core/recipes/index.ts'
import { type Starter, starters } from '../../core/recipes/starters/index.ts'
import { answerForm, only } from '../../web/answers.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { readPlace } from '../processes/index.ts'
import { mayKeepRecipes } from './access.ts'
import { readNames } from './choices.ts'
import { recipePath, starterPath, startersPath } from './paths.ts'
import { listRecipes } from './queries.ts'
import { starterPage, startersPage } from './starters-page.ts'
import { starterOf, starterParams, takenBy, takeStarter } from './take-starter.ts'

/** What the service brings along, to look at and to take over. */
export const starterRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    startersPath(),
    { ...only(mayLook), schema: { querystring: startersQuery } },
    async ({ asking, query }, reply) => {
      const place = await readPlace(app.prisma, asking)
      const taken = takenBy(await listRecipes(app.prisma, asking))
      return reply.page('recipes/starters', startersPage(starters, query.crop || undefined, place, taken))
    },
  )

  app.get(starterPath(':key'), { ...only(mayLook), schema: { params: starterParams } }, async (request, reply) =>
    show(request, reply, starterOf(request.params.key), blankForm(), 200),
  )

  app.post(
    starterPath(':key'),
    { ...only(mayKeepRecipes), schema: { params: starterParams, body: typedBody } },
    async (request, reply) => {
      const starter = starterOf(request.params.key)
      return answerForm(reply, readForm(z.object({}), request.body), {
        show: (form, status) => show(request, reply, starter, form, status),
        act: async (transaction) => recipePath((await takeStarter(writingOf(request, transaction), starter)).id),
      })
    },
  )

  async function show(
    { asking }: FastifyRequest,
    reply: FastifyReply,
    starter: Starter,
    form: TypedForm,
    status: number,
  ) {
    const page = starterPage(starter, form, {
      names: await readNames(app, asking),
      verdict: verdictOn(starter, await readPlace(app.prisma, asking)),
      coop: asking.coop,
      taken: takenBy(await listRecipes(app.prisma, asking)),
    })
    return reply.page('recipes/starter', page, { status })
  }
}

const startersQuery = z.object({ crop: z.string().max(40).optional() })
