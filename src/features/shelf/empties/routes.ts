import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { answerForm, only } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { blankForm, choice, readForm, typedBody, wholeNumber } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { mayUseShelf } from '../access.ts'
import { MOST_UNITS } from '../jars/forms.ts'
import { emptiesPath } from '../paths.ts'
import { type EmptiesFacts, emptiesPage } from './pages.ts'
import { jarSupplies, listEmpties, returnEmpties, returnWords } from './queries.ts'

export const emptiesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  const factsOf = async (asking: Asking): Promise<EmptiesFacts> => ({
    empties: await listEmpties(app.prisma, asking),
    households: await listHouseholds(app.prisma, asking),
    supplies: await jarSupplies(app.prisma, asking),
  })

  app.get(emptiesPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    return reply.page('shelf/empties', emptiesPage(blankForm(), await factsOf(asking), asking.coop))
  })

  app.post(emptiesPath(), { ...only(mayUseShelf), schema: { body: typedBody } }, async (request, reply) => {
    const { asking } = request
    const { households, supplies } = await factsOf(asking)
    const form = z.object({
      householdId: choice(
        households.map(({ id }) => id),
        returnWords.householdId,
      ),
      jar: choice(
        supplies.map(({ jar }) => jar),
        returnWords.jar,
      ),
      units: wholeNumber('Enter how many: a whole number from 1', 1, MOST_UNITS),
    })
    return answerForm(reply, readForm(form, request.body), {
      show: async (sent, status) =>
        reply.page('shelf/empties', emptiesPage(sent, await factsOf(asking), asking.coop), { status }),
      act: async (transaction, values) => {
        await returnEmpties(writingOf(request, transaction), values)
        return emptiesPath()
      },
    })
  })
}
