import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import type { JobKey } from '../../../jobs/queue.ts'
import { answerForm, only } from '../../../web/answers.ts'
import { formatFor } from '../../../web/format.ts'
import { blankForm, typedBody } from '../../../web/forms.ts'
import { writingOf } from '../../changes/index.ts'
import { mayPlan } from '../access.ts'
import { divisionParams } from '../load.ts'
import { changeTimetablePath, timetablePath } from '../paths.ts'
import { type ChangeBase, readChange } from './change-form.ts'
import { changePage } from './change-page.ts'
import { changeWords } from './change-words.ts'
import { addChangedTimetable, findTimetable, rootOf, type TimetableRow } from './queries.ts'

/** The form by which parts of a timetable are settled; what comes of it is the plan's next timetable. */
export const changeTimetableRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayPlan)

  app.get(
    changeTimetablePath(':id', ':number'),
    { ...keep, schema: { params: divisionParams } },
    async (request, reply) => {
      const { id, number } = request.params
      const found = await loadChange(request, id, number)
      if (found === null) return reply.redirect(timetablePath(id, number), 303)
      return reply.page('plans/timetable-change', changePage(blankForm(), found.row, found.base, request.asking.coop))
    },
  )

  app.post(
    changeTimetablePath(':id', ':number'),
    { ...keep, schema: { params: divisionParams, body: typedBody } },
    async (request, reply) => {
      const { id: planId, number } = request.params
      const { coop, coopId } = request.asking
      const found = await loadChange(request, planId, number)
      if (found === null) return reply.redirect(timetablePath(planId, number), 303)
      const { row, base } = found
      let asked: JobKey | null = null
      const words = changeWords(base.worked, formatFor(coop))
      const answer = await answerForm(reply, readChange(base, words, request.body), {
        show: async (form, status) =>
          reply.page('plans/timetable-change', changePage(form, row, base, coop), { status }),
        act: async (transaction, { edits }) => {
          asked = null
          const { progress } = base.question
          const noted = await addChangedTimetable(writingOf(request, transaction), row, { edits, progress })
          asked = { coopId, id: noted.id }
          return timetablePath(planId, noted.number)
        },
      })
      if (asked !== null && reply.statusCode === 303) app.timetables.start(asked)
      return answer
    },
  )
}

/** A timetable with all that a change goes on from; null for one that was not worked out. 404 where it is not the co-op's. */
export async function loadChange(
  request: FastifyRequest,
  planId: string,
  number: number,
): Promise<{ row: TimetableRow; base: ChangeBase } | null> {
  const { prisma } = request.server
  const row = await findTimetable(prisma, request.asking, planId, number)
  if (row.worked === null) return null
  const root = await rootOf(prisma, request.asking, row)
  return { row, base: { worked: row.worked, question: row.question, root } }
}
