import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { lotsToday } from '../lots/index.ts'
import { listLots } from '../lots/queries.ts'
import { standingRecalls } from '../recalls/queries.ts'
import { listFirst, listUse } from '../shelf/index.ts'
import { dueSlowStages } from '../slow-jobs/index.ts'
import { listSupplies } from '../supplies/index.ts'
import { slowJobsNamed, todayPage } from './pages.ts'
import { homePath } from './paths.ts'
import { nextWorkDay, openPlans } from './queries.ts'

export const homeRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(homePath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const today = todayIn(app.clock, asking.coop.timeZone)
    const facts = {
      today,
      recalls: await standingRecalls(app.prisma, asking),
      lots: lotsToday(await listLots(app.prisma, asking), today),
      workDay: await nextWorkDay(app.prisma, asking, today),
      plans: await openPlans(app.prisma, asking, today),
      slowJobs: await dueSlowStages(app.prisma, asking, today, slowJobsNamed),
      first: await listFirst(app.prisma, asking, today, { take: 1 }),
      use: await listUse(app.prisma, asking, { today, now: app.clock.now() }),
      supplies: await listSupplies(app.prisma, asking),
    }
    return reply.page('home/today', todayPage(facts, asking.coop))
  })
}
