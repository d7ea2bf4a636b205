import type { FastifyPluginAsync } from 'fastify'
import { printingRoutes } from './printing/routes.ts'
import { sheetsApi } from './sheets/api.ts'
import { sheetsRoutes } from './sheets/routes.ts'

/** Labels of jars: what is printed, and on which sheets. */
export const labelsRoutes: FastifyPluginAsync = async (app) => {
  await app.register(printingRoutes)
  await app.register(sheetsRoutes)
  await app.register(sheetsApi)
}
