import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { lotsToday } from '../lots/index.ts'
import { listLots } from '../lots/queries.ts'
import { todayPage } from './pages.ts'
import { homePath } from './paths.ts'
import { nextWorkDay, openPlans } from './queries.ts'

export const homeRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(homePath(), async (request, reply) => {
    const { asking } = request
    const today = todayIn(app.clock, asking.coop.timeZone)
    const facts = {
      today,
      lots: lotsToday(await listLots(app.prisma, asking), today),
      workDay: await nextWorkDay(app.prisma, asking, today),
      plans: await openPlans(app.prisma, asking, today),
    }
    return reply.page('home/today', todayPage(facts, asking.coop))
  })
}
