import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import { dateAfter } from '../../core/produce/dates.ts'
import { slowKinds, slowMeasures, ways } from '../../core/slow/index.ts'
import { idParams, idText } from '../../ids.ts'
import { callText, only, refuseProblems } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepSlowJobs } from './access.ts'
import { addSlowJob, doStage, endSlowJob, undoSlowJobEnd } from './actions.ts'
import { FARTHEST_DAYS, foundProblem, LINE_LENGTH, NAME_LENGTH, stageParams } from './forms.ts'
import { findSlowJob, listOpenSlowJobs, stageOf } from './queries.ts'

const line = callText(LINE_LENGTH).nullable()

const newBody = z.strictObject({
  way: z.enum(ways.map(({ id }) => id)),
  name: callText(NAME_LENGTH, 0).describe('Empty: as the way is called'),
  place: callText(NAME_LENGTH).nullable(),
  startedOn: z.iso.date(),
  temperatureC: z.number().min(-50).max(150).nullable().describe('Degrees Celsius where it stands'),
  batchId: idText.nullable(),
  note: line,
})

const head = z.object({
  id: z.string(),
  kind: z.enum(slowKinds),
  name: z.string(),
  place: z.string().nullable(),
  startedOn: z.string(),
  endedOn: z.string().nullable(),
  ended: z.string().nullable(),
})
const openAnswer = head.extend({
  next: z
    .object({ number: z.int(), says: z.string(), dueOn: z.string() })
    .nullable()
    .describe('The first stage that is open'),
})
const jobAnswer = head.extend({
  note: z.string().nullable(),
  batch: z.object({ id: z.string(), code: z.string(), product: z.string(), recalled: z.boolean() }).nullable(),
  version: z.int(),
  stages: z.array(
    z.object({
      number: z.int(),
      says: z.string(),
      dueOn: z.string(),
      measure: z.enum(slowMeasures).nullable(),
      doneOn: z.string().nullable(),
      doneBy: z.string().nullable(),
      found: z.string().nullable(),
      note: z.string().nullable(),
    }),
  ),
})

/** The same as the pages, for programs. */
export const slowJobsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepSlowJobs)
  const tags = ['slow-jobs']

  app.get(
    '/api/slow-jobs',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Slow jobs that go on, those first whose next stage is due first',
        response: { 200: z.object({ slowJobs: z.array(openAnswer) }) },
      },
    },
    async (request) => ({ slowJobs: await listOpenSlowJobs(app.prisma, request.asking) }),
  )

  app.get(
    '/api/slow-jobs/:id',
    {
      ...only(mayLook),
      schema: { tags, summary: 'One slow job with all its stages', params: idParams, response: { 200: jobAnswer } },
    },
    async (request) => findSlowJob(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/slow-jobs',
    { ...keep, schema: { tags, summary: 'Begin a slow job', body: newBody, response: { 201: jobAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const today = todayIn(app.clock, request.asking.coop.timeZone)
        const { startedOn } = request.body
        const isNear = startedOn >= dateAfter(today, -FARTHEST_DAYS) && startedOn <= dateAfter(today, FARTHEST_DAYS)
        refuseProblems(isNear ? {} : { startedOn: 'Give a date within ten years' })
        return { status: 201, body: await addSlowJob(writingOf(request, transaction), request.body) }
      }),
  )

  app.post(
    '/api/slow-jobs/:id/stages/:number/done',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Note that a stage was done; what is counted from it moves where it was late',
        params: stageParams,
        body: z.strictObject({ doneOn: z.iso.date(), found: callText(200).nullable(), note: line }),
        response: { 200: jobAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { id, number } = request.params
        const { doneOn, found } = request.body
        const { measure } = stageOf(await findSlowJob(transaction, request.asking, id), number)
        const problem = foundProblem(measure, found ?? '')
        refuseProblems({
          ...pastProblem(request.asking.coop.timeZone, 'doneOn', doneOn),
          ...(problem && { found: problem }),
        })
        return { status: 200, body: await doStage(writingOf(request, transaction), id, number, request.body) }
      }),
  )

  app.post(
    '/api/slow-jobs/:id/end',
    {
      ...keep,
      schema: {
        tags,
        summary: 'End a slow job; its history stays',
        params: idParams,
        body: z.strictObject({ endedOn: z.iso.date(), ended: callText(LINE_LENGTH) }),
        response: { 200: jobAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseProblems(pastProblem(request.asking.coop.timeZone, 'endedOn', request.body.endedOn))
        return { status: 200, body: await endSlowJob(writingOf(request, transaction), request.params.id, request.body) }
      }),
  )

  app.post(
    '/api/slow-jobs/:id/end/undo',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Take up a slow job again that was ended by mistake; its open stages are due on their days',
        params: idParams,
        body: z.strictObject({}),
        response: { 200: jobAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 200,
        body: await undoSlowJobEnd(writingOf(request, transaction), request.params.id),
      })),
  )

  /** What is wrong with a day on which something is said to have been done. */
  function pastProblem(timeZone: string, field: string, day: string): Record<string, string> {
    const today = todayIn(app.clock, timeZone)
    const isFine = day <= today && day >= dateAfter(today, -FARTHEST_DAYS)
    return isFine ? {} : { [field]: 'Give a day that is not in the future, nor more than ten years ago' }
  }
}
