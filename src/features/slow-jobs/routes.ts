import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import { idParams, idText } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepSlowJobs } from './access.ts'
import { addSlowJob, addStage, endSlowJob, undoSlowJobEnd } from './actions.ts'
import { slowJobsApi } from './api.ts'
import { endPage, newJobPage } from './form-page.ts'
import { endForm, newJobForm, ownStageForm } from './forms.ts'
import { slowJobPage } from './job-page.ts'
import { slowJobsPage } from './list-page.ts'
import {
  endSlowJobPath,
  newSlowJobPath,
  slowJobPath,
  slowJobsPath,
  slowStagesPath,
  undoSlowJobEndPath,
} from './paths.ts'
import { batchToGoOn, findSlowJob, listEndedSlowJobs, listOpenSlowJobs } from './queries.ts'
import { slowStageRoutes } from './stage-routes.ts'

export const slowJobRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepSlowJobs)
  const sendOne = { ...keep, schema: { params: idParams, body: typedBody } }
  await app.register(slowJobsApi)
  await app.register(slowStageRoutes)

  const todayOf = ({ asking }: FastifyRequest) => todayIn(app.clock, asking.coop.timeZone)

  const showJob = async (
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    own: TypedForm,
    status = 200,
  ) => {
    const { asking, params } = request
    const job = await findSlowJob(app.prisma, asking, params.id)
    const page = slowJobPage(job, own, todayOf(request), asking.coop)
    return reply.page('slow-jobs/job', { ...page, ...(await lastChange(request, 'slow-jobs', job.id)) }, { status })
  }

  app.get(
    slowJobsPath(),
    {
      ...only(mayLook),
      schema: { querystring: z.object({ page: z.coerce.number().int().min(1).max(10_000).default(1) }) },
    },
    async (request, reply) => {
      const { asking, query } = request
      const facts = {
        today: todayOf(request),
        open: await listOpenSlowJobs(app.prisma, asking),
        ended: await listEndedSlowJobs(app.prisma, asking, query.page),
        page: query.page,
      }
      const page = slowJobsPage(facts, asking.coop)
      return reply.page('slow-jobs/list', { ...page, ...(await lastChange(request, 'slow-jobs')) })
    },
  )

  app.get(
    newSlowJobPath(),
    { ...keep, schema: { querystring: z.object({ batch: idText.optional() }) } },
    async (request, reply) => {
      const { batch: batchId } = request.query
      const batch = batchId === undefined ? null : await batchToGoOn(app.prisma, request.asking, batchId)
      const typed = { startedOn: batch?.madeOn ?? todayOf(request), name: batch?.product ?? '' }
      return reply.page('slow-jobs/new', newJobPage(blankForm(typed), batch))
    },
  )

  app.post(slowJobsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(newJobForm(todayOf(request)), request.body), {
      show: async (form, status) => {
        const batchId = idText.safeParse(form.typed['batchId'])
        const batch = batchId.success ? await batchToGoOn(app.prisma, request.asking, batchId.data) : null
        return reply.page('slow-jobs/new', newJobPage(form, batch), { status })
      },
      act: async (transaction, values) => {
        const { id } = await addSlowJob(writingOf(request, transaction), values)
        return slowJobPath(id)
      },
    }),
  )

  app.get(slowJobPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) =>
    showJob(request, reply, blankForm()),
  )

  app.post(slowStagesPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findSlowJob(app.prisma, request.asking, id)
    return answerForm(reply, readForm(ownStageForm(todayOf(request)), request.body), {
      show: (form, status) => showJob(request, reply, form, status),
      act: async (transaction, values) => {
        await addStage(writingOf(request, transaction), id, values)
        return slowJobPath(id)
      },
    })
  })

  app.get(endSlowJobPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const job = await findSlowJob(app.prisma, request.asking, request.params.id)
    const form = blankForm({ endedOn: todayOf(request) })
    return reply.page('slow-jobs/end', endPage(form, job, endSlowJobPath(job.id), request.asking.coop))
  })

  app.post(endSlowJobPath(':id'), sendOne, async (request, reply) => {
    const job = await findSlowJob(app.prisma, request.asking, request.params.id)
    return answerForm(reply, readForm(endForm(todayOf(request)), request.body), {
      show: (form, status) =>
        reply.page('slow-jobs/end', endPage(form, job, endSlowJobPath(job.id), request.asking.coop), { status }),
      act: async (transaction, values) => {
        await endSlowJob(writingOf(request, transaction), job.id, values)
        return slowJobPath(job.id)
      },
    })
  })

  app.post(undoSlowJobEndPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      const { id } = await undoSlowJobEnd(writingOf(request, transaction), request.params.id)
      return slowJobPath(id)
    }),
  )
}
