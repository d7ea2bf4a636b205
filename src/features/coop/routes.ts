import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import type { Asking } from '../../web/asking.ts'
import { equipmentListPath, equipmentSentence, listEquipment } from '../equipment/index.ts'
import { helpersPath, helpersSentence, listHelpers } from '../helpers/index.ts'
import { listOutlets, outletsPath, outletsSentence } from '../outlets/index.ts'
import { listRecipes, recipesPath, recipesSentence } from '../recipes/index.ts'
import { listSupplies, suppliesPath, suppliesSentence } from '../supplies/index.ts'
import { listWorkDays, workDaysPath, workDaysSentence } from '../work-days/index.ts'
import { coopPage, type Section } from './pages.ts'
import { coopPath } from './paths.ts'
import { countHouseholds } from './queries.ts'

export const coopRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  const sectionsOf = async (asking: Asking): Promise<Section[]> => {
    const { prisma } = app
    const { coop } = asking
    const today = todayIn(app.clock, coop.timeZone)
    return [
      { href: recipesPath(), name: 'Recipes', says: recipesSentence(await listRecipes(prisma, asking)) },
      {
        href: workDaysPath(),
        name: 'Work days',
        says: workDaysSentence(await listWorkDays(prisma, asking), today, coop),
      },
      {
        href: equipmentListPath(),
        name: 'Equipment',
        says: equipmentSentence(await listEquipment(prisma, asking), coop),
      },
      { href: helpersPath(), name: 'Helpers', says: helpersSentence(await listHelpers(prisma, asking), coop) },
      { href: suppliesPath(), name: 'Supplies', says: suppliesSentence(await listSupplies(prisma, asking), coop) },
      { href: outletsPath(), name: 'Outlets', says: outletsSentence(await listOutlets(prisma, asking)) },
    ]
  }

  app.get(coopPath(), async (request, reply) => {
    const { asking } = request
    const households = await countHouseholds(app.prisma, asking)
    return reply.page('coop/home', coopPage(asking.coop, await sectionsOf(asking), households))
  })

  app.get(
    '/api/coop',
    {
      schema: {
        tags: ['coop'],
        summary: 'The co-op: where it is, how its people read figures, and its households',
        response: { 200: coopAnswer },
      },
    },
    async ({ asking }) => ({ ...asking.coop, households: await countHouseholds(app.prisma, asking) }),
  )
}

const coopAnswer = z.object({
  id: z.string(),
  name: z.string(),
  town: z.string(),
  altitudeM: z.int(),
  timeZone: z.string(),
  locale: z.string(),
  units: z.enum(['metric', 'us']),
  currency: z.string(),
  households: z.array(z.object({ name: z.string(), members: z.int(), helpers: z.int(), lots: z.int() })),
})
