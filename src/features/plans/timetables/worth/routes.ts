import plugin from 'fastify-plugin'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { only } from '../../../../web/answers.ts'
import { mayLook } from '../../../../web/roles.ts'
import { lastChange, writingOf } from '../../../changes/index.ts'
import { mayPlan } from '../../access.ts'
import { findDivision } from '../../divisions/queries.ts'
import { divisionParams } from '../../load.ts'
import { stopTimetableWorthPath, timetablePath, timetableWorthPath } from '../../paths.ts'
import { worthApi } from './api.ts'
import { askWorthPage, worthPage } from './pages.ts'
import { type AskedWorth, addWorth, findWorth, saveWorthStop } from './queries.ts'
import { worthRunner } from './run.ts'

/** What further help would be worth to a timetable. Not encapsulated, so that the whole app has `app.worths`. */
export const worthRoutes = plugin(
  async (plain) => {
    const app = plain.withTypeProvider<ZodTypeProvider>()
    const keep = { ...only(mayPlan), schema: { params: divisionParams } }
    await app.register(worthRunner)
    await app.register(worthApi)

    app.get(
      timetableWorthPath(':id', ':number'),
      { ...only(mayLook), schema: { params: divisionParams } },
      async (request, reply) => {
        const { id, number } = request.params
        const { timetable, worth } = await findWorth(app.prisma, request.asking, id, number)
        if (timetable.number !== number) return reply.redirect(timetableWorthPath(id, timetable.number), 303)
        const { worked } = timetable
        if (worked === null) return reply.redirect(timetablePath(id, number), 303)
        const foot = await lastChange(request, 'plan', id)
        const begun = worth?.answer || worth?.state === 'waiting' || worth?.state === 'solving'
        if (!worth || !begun) {
          return reply.page('plans/timetable-worth-ask', { ...askWorthPage(timetable, worked, worth), ...foot })
        }
        const { question } = await findDivision(app.prisma, request.asking, id, timetable.divisionNumber)
        const page = worthPage(timetable, worked, worth, question, request.asking.coop)
        return reply.page('plans/timetable-worth', { ...page, ...foot })
      },
    )

    app.post(timetableWorthPath(':id', ':number'), keep, async (request, reply) => {
      const { id, number } = request.params
      let asked: AskedWorth | null = null
      const answer = await reply.once(async (transaction) => {
        const noted = await addWorth(writingOf(request, transaction), id, number)
        asked = noted.start
        return timetableWorthPath(id, noted.number)
      })
      if (asked !== null) app.worths.start(asked)
      return answer
    })

    app.post(stopTimetableWorthPath(':id', ':number'), keep, async (request, reply) => {
      const { id, number } = request.params
      let stopped = ''
      const answer = await reply.once(async (transaction) => {
        const ended = await saveWorthStop(writingOf(request, transaction), id, number)
        stopped = ended.id
        return timetableWorthPath(id, ended.number)
      })
      if (stopped !== '') app.worths.stop(stopped)
      return answer
    })
  },
  { name: 'timetable-worth' },
)
