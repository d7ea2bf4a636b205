import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { answerForm, only } from '../../web/answers.ts'
import { blankForm, readForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepSlowJobs } from './access.ts'
import { changeDue, doStage, undoStage } from './actions.ts'
import { dateForm, doneForm, stageParams } from './forms.ts'
import { type StageForms, slowStagePage } from './job-page.ts'
import { slowJobPath, slowStageDatePath, slowStagePath, slowStageUndoPath } from './paths.ts'
import { findSlowJob, stageOf } from './queries.ts'

/** The page of one stage: doing it, moving it, taking it back. */
export const slowStageRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepSlowJobs)
  const send = { ...keep, schema: { params: stageParams, body: typedBody } }
  type StageRequest = FastifyRequest<{ Params: { id: string; number: number } }>

  const todayOf = ({ asking }: Pick<FastifyRequest, 'asking'>) => todayIn(app.clock, asking.coop.timeZone)

  const stageAt = async ({ asking, params }: Pick<StageRequest, 'asking' | 'params'>) =>
    stageOf(await findSlowJob(app.prisma, asking, params.id), params.number)

  const showStage = async (
    request: StageRequest,
    reply: FastifyReply,
    sent: Partial<StageForms> = {},
    status = 200,
  ): Promise<FastifyReply> => {
    const { asking, params } = request
    const today = todayOf(request)
    const job = await findSlowJob(app.prisma, asking, params.id)
    const stage = stageOf(job, params.number)
    const forms = { done: blankForm({ doneOn: today }), due: blankForm({ dueOn: stage.dueOn }), ...sent }
    const page = slowStagePage(job, stage, forms, today, asking.coop)
    return reply.page('slow-jobs/stage', { ...page, ...(await lastChange(request, 'slow-jobs', job.id)) }, { status })
  }

  app.get(
    slowStagePath(':id', ':number'),
    { ...only(mayLook), schema: { params: stageParams } },
    async (request, reply) => showStage(request, reply),
  )

  app.post(slowStagePath(':id', ':number'), send, async (request, reply) => {
    const { id, number } = request.params
    const { measure } = await stageAt(request)
    return answerForm(reply, readForm(doneForm(todayOf(request), measure), request.body), {
      show: (done, status) => showStage(request, reply, { done }, status),
      act: async (transaction, values) => {
        await doStage(writingOf(request, transaction), id, number, values)
        return slowJobPath(id)
      },
    })
  })

  app.post(slowStageDatePath(':id', ':number'), send, async (request, reply) => {
    const { id, number } = request.params
    await stageAt(request)
    return answerForm(reply, readForm(dateForm(todayOf(request)), request.body), {
      show: (due, status) => showStage(request, reply, { due }, status),
      act: async (transaction, { dueOn }) => {
        await changeDue(writingOf(request, transaction), id, number, dueOn)
        return slowJobPath(id)
      },
    })
  })

  app.post(slowStageUndoPath(':id', ':number'), { ...keep, schema: { params: stageParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      const { id, number } = request.params
      await undoStage(writingOf(request, transaction), id, number)
      return slowStagePath(id, number)
    }),
  )
}
