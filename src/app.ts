import cookie from '@fastify/cookie'
import Fastify, { type FastifyInstance, type FastifyPluginAsync, LogController } from 'fastify'
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod'
import { accountsRoutes } from './features/accounts/routes.ts'
import { auditRoutes } from './features/audit/routes.ts'
import { batchRoutes } from './features/batches/routes.ts'
import { joinedEntries } from './features/calendars/entries.ts'
import { calendarsRoutes } from './features/calendars/routes.ts'
import { coopRoutes } from './features/coop/routes.ts'
import { cropRoutes } from './features/crops/routes.ts'
import { dataRoutes } from './features/data/routes.ts'
import { equipmentRoutes } from './features/equipment/routes.ts'
import { filesRoutes } from './features/files/routes.ts'
import { handbookRoutes } from './features/handbook/routes.ts'
import { helpersRoutes } from './features/helpers/routes.ts'
import { homeRoutes } from './features/home/routes.ts'
import { kitchenRoutes } from './features/kitchen/routes.ts'
import { labelsRoutes } from './features/labels/routes.ts'
import { lotRoutes } from './features/lots/routes.ts'
import { outletsRoutes } from './features/outlets/routes.ts'
import { passkeysRoutes } from './features/passkeys/routes.ts'
import { peopleRoutes } from './features/people/routes.ts'
import { planRoutes } from './features/plans/routes.ts'
import { timetableEntries } from './features/plans/timetables/calendar.ts'
import { worthRoutes } from './features/plans/timetables/worth/routes.ts'
import { localProcessesRoutes } from './features/processes/local/routes.ts'
import { processesRoutes } from './features/processes/routes.ts'
import { recallsRoutes } from './features/recalls/routes.ts'
import { recipesRoutes } from './features/recipes/routes.ts'
import { screensRoutes } from './features/screens/routes.ts'
import { sharesRoutes } from './features/shares/routes.ts'
import { shelfRoutes } from './features/shelf/routes.ts'
import { slowJobEntries } from './features/slow-jobs/calendar.ts'
import { slowJobRoutes } from './features/slow-jobs/routes.ts'
import { suppliesRoutes } from './features/supplies/routes.ts'
import { tokensRoutes } from './features/tokens/routes.ts'
import { workDaysRoutes } from './features/work-days/routes.ts'
import { yieldsRoutes } from './features/yields/routes.ts'
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
import { answerBrokenRequest, answerUndecodable } from './web/raw-errors.ts'
import { room } from './web/room.ts'
import { submissions } from './web/submissions.ts'
import { unusedConnections } from './web/unused-connections.ts'
import { views, viewsFolder } from './web/views.ts'

/** What a test adds to the service: routes, and folders with their templates. */
export type Additions = { routes?: readonly FastifyPluginAsync[]; views?: readonly string[] }

/**
 * The whole service, in the order in which a request meets it, and after it what a test adds. Does not listen.
 *
 * What a feature does:
 *  1. lives in src/features/<noun>/: paths, routes, forms, pages, queries, and actions where a save takes several steps;
 *  2. exports `<noun>Routes: FastifyPluginAsync`, uses `withTypeProvider<ZodTypeProvider>()`, and has one line below;
 *  3. learns who asks from `request.asking` alone, and hands `request.asking.coopId` to every query;
 *  4. reads addresses by `schema: { params: idParams }` (ids.ts), forms by `schema: { body: typedBody }` (web/forms.ts);
 *  5. reads a form by `readForm(schema, request.body)`; refused: the same page again with `{ status: 422 }`;
 *  6. saves inside `reply.once(async (transaction) => path)`, calls below /api inside `reply.answerOnce(...)`;
 *  7. shows pages by `reply.page('<noun>/<view>', page)`: plain data whose figures are text by `formatFor(asking.coop)`;
 *  8. throws meanings (errors.ts): notFound, conflict, forbidden, unavailable; never picks a status for a failure;
 *  9. draws with beam, flow, ripeningPlot (web/), shown by `{{> beam beam=...}}` and the like, the figures as text beside;
 * 10. takes time, ids and workers from `app.clock`, `app.newId`, `app.jobs`; GET never changes anything.
 */
export async function buildApp(given: Dependencies, more: Additions = {}): Promise<FastifyInstance> {
  const app = Fastify({
    loggerInstance: given.log,
    // lines about requests are written by requestLog, which knows what may be written
    logController: new LogController({ disableRequestLogging: true, requestIdLogLabel: 'request' }),
    genReqId: given.newId,
    requestIdHeader: false,
    // one hop: the last address in X-Forwarded-For is the proxy's word, those before it are anybody's
    trustProxy: given.settings.trustProxy ? (_address, hop) => hop < 1 : false,
    bodyLimit: BODY_LIMIT_BYTES,
    routerOptions: { maxParamLength: 100 },
    requestTimeout: 60_000,
    connectionTimeout: 120_000,
    keepAliveTimeout: 10_000,
    clientErrorHandler: answerBrokenRequest,
    frameworkErrors: answerUndecodable,
  })
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)

  await app.register(dependencies, { dependencies: given })
  await app.register(unusedConnections)
  await app.register(requestLog)
  await app.register(knownRoutes)
  await app.register(headers)
  await app.register(limits)
  await app.register(cookie, { secret: given.secret })
  await app.register(asking)
  await app.register(csrf, { secret: given.secret })
  await app.register(assets)
  await app.register(views, { folders: [viewsFolder, ...(more.views ?? [])] })
  await app.register(errors)
  await app.register(health, { state: given.state, database: given.database })
  await app.register(openapi)
  await app.register(submissions)
  await app.register(room)

  // the features, one line each
  await app.register(accountsRoutes)
  await app.register(homeRoutes)
  await app.register(lotRoutes)
  await app.register(cropRoutes)
  await app.register(coopRoutes)
  await app.register(peopleRoutes)
  await app.register(auditRoutes)
  await app.register(equipmentRoutes)
  await app.register(helpersRoutes)
  await app.register(calendarsRoutes, { entries: joinedEntries(timetableEntries, slowJobEntries) })
  await app.register(workDaysRoutes)
  await app.register(planRoutes)
  await app.register(worthRoutes)
  await app.register(outletsRoutes)
  await app.register(recipesRoutes)
  await app.register(processesRoutes)
  await app.register(localProcessesRoutes)
  await app.register(suppliesRoutes)
  await app.register(shelfRoutes)
  await app.register(slowJobRoutes)
  await app.register(batchRoutes)
  await app.register(recallsRoutes)
  await app.register(filesRoutes)
  await app.register(sharesRoutes)
  await app.register(labelsRoutes)
  await app.register(handbookRoutes)
  await app.register(yieldsRoutes)
  await app.register(dataRoutes)
  await app.register(kitchenRoutes)
  await app.register(screensRoutes)
  await app.register(tokensRoutes)
  await app.register(passkeysRoutes)
  for (const routes of more.routes ?? []) await app.register(routes)

  await app.ready()
  return app
}
