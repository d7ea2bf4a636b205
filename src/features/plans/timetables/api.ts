import { isDeepStrictEqual } from 'node:util'
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { faultOfProgress, refusedEdits } from '../../../core/agreement/changed.ts'
import type { Progress } from '../../../core/day/index.ts'
import { refused } from '../../../errors.ts'
import { idParams } from '../../../ids.ts'
import { only, refuseProblems } from '../../../web/answers.ts'
import { formatFor } from '../../../web/format.ts'
import { mayLook } from '../../../web/roles.ts'
import { type Writing, writingOf } from '../../changes/index.ts'
import { mayPlan } from '../access.ts'
import { divisionParams } from '../load.ts'
import { findPlan } from '../queries.ts'
import { changeBody, newAnswer, replanBody, timetableAnswer, timetableLine } from './api-schemas.ts'
import { editOf, timetableTold } from './api-words.ts'
import { type ChangeBase, progressWords, refusalWords } from './change-form.ts'
import { loadChange } from './change-routes.ts'
import { changeWords } from './change-words.ts'
import { instantsOf } from './instants.ts'
import { addChangedTimetable, addTimetable, findTimetable, listTimetables, saveTimetableStop } from './queries.ts'

const tags = ['timetables']
const one = '/api/plans/:id/timetables/:number'

/** Timetables for programs: the same as the pages, and the rest of a day planned anew. */
export const timetablesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayPlan)

  app.get(
    '/api/plans/:id/timetables',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'The timetables of a plan, newest first',
        params: idParams,
        response: { 200: z.object({ timetables: z.array(timetableLine) }) },
      },
    },
    async (request) => {
      const { id } = await findPlan(app.prisma, request.asking, request.params.id)
      const rows = await listTimetables(app.prisma, request.asking, id)
      return { timetables: rows.map(({ startedAt, ...row }) => ({ ...row, startedAt: startedAt.toISOString() })) }
    },
  )

  app.post(
    '/api/plans/:id/divisions/:number/timetable',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Make a timetable of a division: answers at once, and says where to look',
        params: divisionParams,
        body: z.strictObject({}),
        response: { 202: newAnswer },
      },
    },
    async (request, reply) => {
      const { id, number } = request.params
      return answerNew(request, reply, id, (writing) => addTimetable(writing, id, number))
    },
  )

  app.get(
    one,
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'How far a timetable is, and who does what when once it is there',
        params: divisionParams,
        response: { 200: timetableAnswer },
      },
    },
    async (request) => {
      const { id, number } = request.params
      const { coop } = request.asking
      return timetableTold(await findTimetable(app.prisma, request.asking, id, number), coop.timeZone)
    },
  )

  app.post(
    `${one}/stop`,
    {
      ...keep,
      schema: {
        tags,
        summary: 'Stop the working out: the best so far is kept',
        params: divisionParams,
        body: z.strictObject({}),
        response: { 202: z.object({ id: z.string(), location: z.string() }) },
      },
    },
    async (request, reply) => {
      const { id, number } = request.params
      let stopped = ''
      await reply.answerOnce(async (transaction) => {
        stopped = await saveTimetableStop(writingOf(request, transaction), id, number)
        return { status: 202, body: { id: stopped, location: addressOf(id, number) } }
      })
      if (stopped !== '') app.timetables.stop(stopped)
      return reply
    },
  )

  app.post(
    `${one}/change`,
    {
      ...keep,
      schema: {
        tags,
        summary: 'Settle parts of a timetable by hand: the rest is worked out as the plan’s next timetable',
        params: divisionParams,
        body: changeBody,
        response: { 202: newAnswer },
      },
    },
    async (request, reply) => {
      const { row, base } = await loadDone(request)
      const { coop } = request.asking
      const instants = instantsOf(base.root.plan.kitchen, coop.timeZone)
      const edits = request.body.edits.map((told) => editOf(told, instants))
      const { progress } = base.question
      const fresh = edits.filter((edit) => !base.question.edits.some((old) => isDeepStrictEqual(old, edit)))
      const words = changeWords(base.worked, formatFor(coop))
      const problems = refusedEdits(base.root.plan, edits, fresh, progress).map((no): [string, string] => [
        `edits.${edits.indexOf(no.edit)}`,
        refusalWords(no, base.root, words)[1],
      ])
      refuseProblems(Object.fromEntries(problems))
      refuseFault(base, { edits, progress }, () => 'edits', words.task)
      return answerNew(request, reply, row.planId, (writing) => addChangedTimetable(writing, row, { edits, progress }))
    },
  )

  app.post(
    `${one}/replan`,
    {
      ...keep,
      schema: {
        tags,
        summary: 'The rest of a day that has begun: as little as must be is moved, as the plan’s next timetable',
        params: divisionParams,
        body: replanBody,
        response: { 202: newAnswer },
      },
    },
    async (request, reply) => {
      const { row, base } = await loadDone(request)
      const { coop } = request.asking
      const instants = instantsOf(base.root.plan.kitchen, coop.timeZone)
      const now = instants.minuteOf(request.body.now)
      const before = base.question.progress
      if (now === null) throw refused('Now is before the first work day.', { now: 'Before the first work day' })
      if (now >= base.root.plan.beyond)
        throw refused('Now is after the last work day.', { now: 'After the last work day' })
      if (before !== null && now < before.now)
        throw refused('Now is earlier than this timetable’s own now.', { now: 'Earlier than before' })
      const begun = request.body.begun.map(({ task, start, ...rest }) => ({
        ...rest,
        activity: task,
        start: instants.minuteOf(start) ?? -1,
      }))
      const told = new Set(begun.map(({ activity }) => activity))
      const earlier = (before?.begun ?? []).filter(({ activity }) => !told.has(activity))
      const progress: Progress = { now, begun: [...earlier, ...begun] }
      const { edits } = base.question
      const place = (activity: string) => begun.findLastIndex((each) => each.activity === activity)
      const words = changeWords(base.worked, formatFor(coop))
      const at = (activity: string) => (place(activity) === -1 ? 'begun' : `begun.${place(activity)}`)
      refuseFault(base, { edits, progress }, at, words.task)
      return answerNew(request, reply, row.planId, (writing) => addChangedTimetable(writing, row, { edits, progress }))
    },
  )
}

const addressOf = (planId: string, number: number) => `/api/plans/${planId}/timetables/${number}`

/** Notes a timetable, answers where to look and starts it once its transaction is over and it was new. */
async function answerNew(
  request: FastifyRequest,
  reply: FastifyReply,
  planId: string,
  note: (writing: Writing) => Promise<{ id: string; number: number }>,
): Promise<FastifyReply> {
  let id = ''
  await reply.answerOnce(async (transaction) => {
    id = ''
    const noted = await note(writingOf(request, transaction))
    id = noted.id
    const location = addressOf(planId, noted.number)
    reply.header('location', location)
    return { status: 202, body: { ...noted, location } }
  })
  const { coopId } = request.asking
  if (id !== '' && reply.statusCode === 202) request.server.timetables.start({ coopId, id })
  return reply
}

async function loadDone(request: FastifyRequest<{ Params: z.output<typeof divisionParams> }>) {
  const { id, number } = request.params
  const found = await loadChange(request, id, number)
  if (found === null) throw refused('This timetable is not worked out: there is nothing to go on from.')
  return found
}

function refuseFault(
  { root, worked }: ChangeBase,
  { edits, progress }: Pick<ChangeBase['question'], 'edits' | 'progress'>,
  field: (activity: string) => string,
  name: (activity: string) => string,
): void {
  const fault = faultOfProgress({ plan: root.plan, schedule: worked.schedule, edits, progress })
  if (fault) refuseProblems({ [field(fault.activity)]: `${name(fault.activity)}: ${progressWords[fault.because]}` })
}
