import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { productId, type Question } from '../../../core/division/index.ts'
import { notFound } from '../../../errors.ts'
import { idText } from '../../../ids.ts'
import type { JobKey } from '../../../jobs/queue.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { mayPlan } from '../access.ts'
import { findDivision } from '../divisions/queries.ts'
import { packsOf } from '../headline.ts'
import { divisionParams } from '../load.ts'
import { makeTimetablePath, stopTimetablePath, timetablePath, timetableSheetPath } from '../paths.ts'
import { changeTimetableRoutes } from './change-routes.ts'
import { failedTimetablePage, timetablePage, timetableSheet, workingTimetablePage } from './pages.ts'
import { pictureBy } from './picture.ts'
import { addTimetable, findTimetable, saveTimetableStop } from './queries.ts'
import { settledView } from './settled.ts'

export const timetableRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = { ...only(mayPlan), schema: { params: divisionParams } }
  await app.register(changeTimetableRoutes)

  app.post(makeTimetablePath(':id', ':number'), keep, async (request, reply) => {
    const { id: planId, number: divisionNumber } = request.params
    const { coopId } = request.asking
    let asked: JobKey | null = null
    const answer = await reply.once(async (transaction) => {
      asked = null
      const { id, number } = await addTimetable(writingOf(request, transaction), planId, divisionNumber)
      asked = { coopId, id }
      return timetablePath(planId, number)
    })
    if (asked !== null) app.timetables.start(asked)
    return answer
  })

  app.get(
    timetablePath(':id', ':number'),
    {
      ...only(mayLook),
      schema: { params: divisionParams, querystring: z.object({ by: z.enum(pictureBy).default('helper') }) },
    },
    async (request, reply) => {
      const { id, number } = request.params
      const { coop } = request.asking
      const row = await findTimetable(app.prisma, request.asking, id, number)
      const foot = await lastChange(request, 'plan', id)
      if (row.state === 'failed') return reply.page('plans/timetable-failed', { ...failedTimetablePage(row), ...foot })
      if (row.worked === null) {
        return reply.page('plans/timetable-working', { ...workingTimetablePage(row, app.clock.now(), coop), ...foot })
      }
      const { question } = await findDivision(app.prisma, request.asking, id, row.divisionNumber)
      return reply.page('plans/timetable', {
        ...timetablePage(row, row.worked, productNames(question), request.query.by, coop),
        settled: settledView(row, row.worked, coop),
        ...foot,
      })
    },
  )

  app.post(stopTimetablePath(':id', ':number'), keep, async (request, reply) => {
    const { id, number } = request.params
    let stopped = ''
    const answer = await reply.once(async (transaction) => {
      stopped = await saveTimetableStop(writingOf(request, transaction), id, number)
      return timetablePath(id, number)
    })
    if (stopped !== '') app.timetables.stop(stopped)
    return answer
  })

  app.get(
    timetableSheetPath(':id', ':number'),
    { ...only(mayLook), schema: { params: divisionParams, querystring: z.object({ helper: idText.optional() }) } },
    async (request, reply) => {
      const { id, number } = request.params
      const row = await findTimetable(app.prisma, request.asking, id, number)
      if (row.worked === null) return reply.redirect(timetablePath(id, number), 303)
      const sheet = timetableSheet(row, row.worked, request.query.helper ?? null, request.asking.coop)
      if (sheet === null) throw notFound('such helper in this timetable')
      return reply.page('plans/timetable-sheet', sheet)
    },
  )
}

/** Products by their ids: "Crushed tomatoes in quarts". */
function productNames(question: Question): (productId: string) => string {
  const names = new Map(
    packsOf(question).map(({ recipe, pack }) => [productId(recipe.id, pack.key), `${recipe.name} in ${pack.units}`]),
  )
  return (id) => names.get(id) ?? id
}
