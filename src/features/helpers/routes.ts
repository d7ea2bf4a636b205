import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, refuseProblems, versionOf } from '../../web/answers.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepHelpers } from './access.ts'
import { helpersApi } from './api.ts'
import {
  helperForm,
  helperHoursTyped,
  helperProblems,
  helperTyped,
  newHelperTyped,
  readHelperHoursForm,
} from './forms.ts'
import { helperFormPage, helperRemovalPage, helpersPage } from './pages.ts'
import { helperHoursPath, helperPath, helperRemovalPath, helpersPath, newHelperPath } from './paths.ts'
import {
  addHelper,
  changeHelper,
  findHelper,
  listComingDays,
  listHelpers,
  listHouseholds,
  removeHelper,
  setHelperHours,
} from './queries.ts'

export const helpersRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepHelpers)
  const keepOne = { ...keep, schema: { params: idParams } }
  const sendOne = { ...keep, schema: { params: idParams, body: typedBody } }
  await app.register(helpersApi)

  const comingDays = ({ asking }: FastifyRequest) =>
    listComingDays(app.prisma, asking, todayIn(app.clock, asking.coop.timeZone))

  const showNew = async (request: FastifyRequest, reply: FastifyReply, form: TypedForm, status: number) => {
    const households = await listHouseholds(app.prisma, request.asking)
    const page = helperFormPage(
      form,
      null,
      { version: 0, households, days: [], hours: blankForm() },
      request.asking.coop,
    )
    return reply.page('helpers/form', page, { status })
  }

  /** The page of one helper, with either of its two forms as it was sent, or both as they stand. */
  const showOne = async (
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    sent: { form?: TypedForm; hours?: TypedForm } = {},
    status = 200,
  ): Promise<FastifyReply> => {
    const { asking, params } = request
    const helper = await findHelper(app.prisma, asking, params.id)
    const refused = status === 422 ? (sent.form ?? sent.hours) : undefined
    const with_ = {
      version: refused ? versionOf(refused) : helper.version,
      households: await listHouseholds(app.prisma, asking),
      days: await comingDays(request),
      hours: sent.hours ?? blankForm(helperHoursTyped(helper)),
    }
    const page = helperFormPage(sent.form ?? blankForm(helperTyped(helper)), helper, with_, asking.coop)
    return reply.page('helpers/form', { ...page, ...(await lastChange(request, 'helpers', helper.id)) }, { status })
  }

  app.get(helpersPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const helpers = await listHelpers(app.prisma, asking)
    const households = await listHouseholds(app.prisma, asking)
    const page = helpersPage(helpers, households, await comingDays(request), asking.coop)
    return reply.page('helpers/list', { ...page, ...(await lastChange(request, 'helpers')) })
  })

  app.get(newHelperPath(), keep, async (request, reply) => showNew(request, reply, blankForm(newHelperTyped()), 200))

  app.post(helpersPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const households = await listHouseholds(app.prisma, request.asking)
    return answerForm(reply, readForm(helperForm(households.map(({ id }) => id)), request.body), {
      show: (form, status) => showNew(request, reply, form, status),
      act: async (transaction, values) => {
        refuseProblems(helperProblems(values))
        const { id } = await addHelper(writingOf(request, transaction), values)
        return helperPath(id)
      },
    })
  })

  app.get(helperPath(':id'), keepOne, async (request, reply) => showOne(request, reply))

  app.post(helperPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findHelper(app.prisma, request.asking, id)
    const households = await listHouseholds(app.prisma, request.asking)
    const form = readForm(helperForm(households.map((household) => household.id)), request.body)
    return answerForm(reply, form, {
      show: (form, status) => showOne(request, reply, { form }, status),
      act: async (transaction, values) => {
        refuseProblems(helperProblems(values))
        await changeHelper(writingOf(request, transaction), id, versionOf(form), values)
        return helpersPath()
      },
    })
  })

  app.post(helperHoursPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findHelper(app.prisma, request.asking, id)
    const form = readHelperHoursForm(request.body, await comingDays(request))
    return answerForm(reply, form, {
      show: (hours, status) => showOne(request, reply, { hours }, status),
      act: async (transaction, days) => {
        await setHelperHours(writingOf(request, transaction), id, versionOf(form), days)
        return helperPath(id)
      },
    })
  })

  app.get(helperRemovalPath(':id'), keepOne, async (request, reply) => {
    const helper = await findHelper(app.prisma, request.asking, request.params.id)
    return reply.page('coop/removal', helperRemovalPage(helper))
  })

  app.post(helperRemovalPath(':id'), keepOne, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeHelper(writingOf(request, transaction), request.params.id)
      return helpersPath()
    }),
  )
}
