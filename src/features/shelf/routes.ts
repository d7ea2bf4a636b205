import type { FastifyPluginAsync } from 'fastify'
import { shelfApi } from './api.ts'
import { buyingRoutes } from './buying/routes.ts'
import { countingRoutes } from './counting/routes.ts'
import { emptiesRoutes } from './empties/routes.ts'
import { entriesRoutes } from './entries/routes.ts'
import { firstRoutes } from './first/routes.ts'
import { jarsRoutes } from './jars/routes.ts'
import { placesRoutes } from './places/routes.ts'
import { stockRoutes } from './stock/routes.ts'

/** What is there and whose, and everything that is done with it. */
export const shelfRoutes: FastifyPluginAsync = async (app) => {
  await app.register(shelfApi)
  await app.register(stockRoutes)
  await app.register(firstRoutes)
  await app.register(jarsRoutes)
  await app.register(placesRoutes)
  await app.register(countingRoutes)
  await app.register(emptiesRoutes)
  await app.register(buyingRoutes)
  await app.register(entriesRoutes)
}
