import type { FastifyPluginAsync } from 'fastify'
import { sharesApi } from './api.ts'
import { handingOutRoutes } from './handing-out/routes.ts'
import { proposalRoutes } from './proposals/routes.ts'
import { shareRuleRoutes } from './rule/routes.ts'
import { standingRoutes } from './standing/routes.ts'

/** What households brought, and whole jars shared out among them. */
export const sharesRoutes: FastifyPluginAsync = async (app) => {
  await app.register(standingRoutes)
  await app.register(shareRuleRoutes)
  await app.register(proposalRoutes)
  await app.register(handingOutRoutes)
  await app.register(sharesApi)
}
