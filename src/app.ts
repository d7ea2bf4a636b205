import Fastify, { type FastifyInstance } from 'fastify'
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod'
import { coopRoutes } from './features/coop/routes.ts'
import { asking } from './web/asking.ts'
import { assets } from './web/assets.ts'
import { csrf } from './web/csrf.ts'
import { type Dependencies, dependencies } from './web/dependencies.ts'
import { errors } from './web/errors.ts'
import { headers } from './web/headers.ts'
import { health } from './web/health.ts'
import { knownRoutes } from './web/known-routes.ts'
import { BODY_LIMIT_BYTES, limits } from './web/limits.ts'
import { requestLog } from './web/log.ts'
import { openapi } from './web/openapi.ts'
import { submissions } from './web/submissions.ts'
import { views } from './web/views.ts'

/** The whole service, in the order in which a request meets it. Does not listen. */
export async function buildApp(given: Dependencies): Promise<FastifyInstance> {
  const app = Fastify({
    loggerInstance: given.log,
    disableRequestLogging: true,
    genReqId: given.newId,
    requestIdHeader: false,
    requestIdLogLabel: 'request',
    // one hop: the last address in X-Forwarded-For is the proxy's word, those before it are anybody's
    trustProxy: given.settings.trustProxy ? (_address, hop) => hop < 1 : false,
    bodyLimit: BODY_LIMIT_BYTES,
    routerOptions: { maxParamLength: 100 },
    requestTimeout: 60_000,
    connectionTimeout: 120_000,
    keepAliveTimeout: 10_000,
  })
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)

  await app.register(dependencies, { dependencies: given })
  await app.register(requestLog)
  await app.register(knownRoutes)
  await app.register(headers)
  await app.register(limits)
  await app.register(asking)
  await app.register(csrf, { secret: given.secret })
  await app.register(assets)
  await app.register(views)
  await app.register(errors)
  await app.register(health, { state: given.state, database: given.database })
  await app.register(openapi)
  await app.register(submissions)

  await app.register(coopRoutes)

  await app.ready()
  return app
}
