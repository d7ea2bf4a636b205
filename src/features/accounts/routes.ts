import type { FastifyPluginAsync } from 'fastify'
import { accountRoutes } from './account-routes.ts'
import { doorRoutes } from './door-routes.ts'
import { setUpRoutes } from './set-up/routes.ts'

/** The door, the founding of a co-op, and everybody's own account. */
export const accountsRoutes: FastifyPluginAsync = async (app) => {
  await app.register(doorRoutes)
  await app.register(setUpRoutes)
  await app.register(accountRoutes)
}
