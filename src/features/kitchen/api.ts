import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { nothing, only } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { writingOf } from '../changes/index.ts'
import { instantsOf, tableWords } from '../plans/timetables/index.ts'
import { mayTick } from './access.ts'
import { tick } from './actions.ts'
import { kitchenQuery, tickBody } from './forms.ts'
import { loadDay } from './load.ts'

const tags = ['kitchen']
const states = ['now', 'next', 'done'] as const

const taskAnswer = z.object({
  id: z.string(),
  state: z.enum(states),
  late: z.boolean().describe('Ought to be done by now'),
  from: z.iso.datetime(),
  to: z.iso.datetime(),
  what: z.string(),
  does: z.string(),
  helpers: z.array(z.string()).describe('Ids; none: it runs by itself and is not ticked'),
  doneBy: z.string().nullable(),
  doneAt: z.iso.datetime().nullable(),
})

/** The same as the page, for programs. */
export const kitchenApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const may = only(mayTick)

  app.get(
    '/api/kitchen',
    {
      ...may,
      schema: {
        tags,
        summary: 'The work of a day, today where none is given: what is now, next and done',
        querystring: kitchenQuery,
        response: {
          200: z.object({
            day: z.iso.date(),
            timetableId: z.string().nullable().describe('null: no timetable holds on that day'),
            helpers: z.array(z.object({ id: z.string(), name: z.string() })),
            tasks: z.array(taskAnswer),
          }),
        },
      },
    },
    async (request) => {
      const { day = null, helper = null } = request.query
      const { coop } = request.asking
      const { date, work } = await loadDay(app, request.asking, day, helper)
      if (work === null) return { day: date, timetableId: null, helpers: [], tasks: [] }
      const { timetable, helpers, sorted } = work
      const { plan } = timetable.worked
      const words = tableWords(plan, formatFor(coop))
      const instants = instantsOf(plan.kitchen, coop.timeZone)
      const tasks = states.flatMap((state) =>
        sorted[state].map((task) => ({
          id: task.id,
          state,
          late: sorted.late.includes(task),
          from: instants.of(task.piece.from),
          to: instants.of(task.piece.to),
          what: words.what(task.piece),
          does: words.doing(task.piece),
          helpers: task.piece.helpers,
          doneBy: task.done?.by ?? null,
          doneAt: task.done?.at.toISOString() ?? null,
        })),
      )
      return { day: date, timetableId: timetable.id, helpers, tasks }
    },
  )

  for (const [act, summary] of [
    ['done', 'Tick a task off'],
    ['back', 'Take a tick back'],
  ] as const) {
    app.post(
      `/api/kitchen/${act}`,
      { ...may, schema: { tags, summary, body: tickBody, response: { 204: nothing } } },
      async (request, reply) => {
        const { timetableId, task, helperId = null } = request.body
        return reply.answerOnce(async (transaction) => {
          await tick(writingOf(request, transaction), { timetableId, task, helperId }, act)
          return { status: 204, body: {} }
        })
      },
    )
  }
}
