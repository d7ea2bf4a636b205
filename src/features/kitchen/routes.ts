import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { only } from '../../web/answers.ts'
import { writingOf } from '../changes/index.ts'
import { mayTick } from './access.ts'
import { tick } from './actions.ts'
import { kitchenApi } from './api.ts'
import { kitchenQuery, tickForm } from './forms.ts'
import { loadDay } from './load.ts'
import { kitchenPage } from './pages.ts'
import { kitchenPath, tickBackPath, tickPath } from './paths.ts'

export const kitchenRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const may = only(mayTick)
  await app.register(kitchenApi)

  app.get(kitchenPath(), { ...may, schema: { querystring: kitchenQuery } }, async (request, reply) => {
    const { day = null, helper = null } = request.query
    const kitchen = await loadDay(app, request.asking, day, helper)
    return reply.page('kitchen/day', kitchenPage(kitchen, day, request.asking))
  })

  for (const [path, act] of [
    [tickPath(), 'done'],
    [tickBackPath(), 'back'],
  ] as const) {
    app.post(path, { ...may, schema: { body: tickForm } }, async (request, reply) => {
      const { timetable, task, day, helper } = request.body
      const helperId = helper === '' ? null : helper
      return reply.once(async (transaction) => {
        await tick(writingOf(request, transaction), { timetableId: timetable, task, helperId }, act)
        return kitchenPath(day === '' ? null : day, helperId)
      })
    })
  }
}
