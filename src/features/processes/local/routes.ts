import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../../ids.ts'
import { answerForm, only, refuseProblems, versionOf } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { blankForm, readForm, type Typed, typedBody } from '../../../web/forms.ts'
import { aloneIn } from '../../../web/lengths.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { mayKeepLocalProcesses } from './access.ts'
import { localProcessesApi } from './api.ts'
import { localProcessForm, localProcessProblems, localProcessTyped, newLocalProcessTyped } from './forms.ts'
import { localProcessesPage, localProcessFormPage } from './pages.ts'
import { localProcessesPath, localProcessPath, localProcessWithdrawalPath, newLocalProcessPath } from './paths.ts'
import {
  addLocalProcess,
  changeLocalProcess,
  findLocalProcess,
  listLocalProcesses,
  withdrawLocalProcess,
} from './queries.ts'

export const localProcessesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLocalProcesses)
  await app.register(localProcessesApi)

  const readBody = ({ asking, body }: { asking: Asking; body: Typed }) =>
    readForm(localProcessForm(aloneIn(body, asking.coop.units)), body)

  app.get(localProcessesPath(), only(mayLook), async (request, reply) => {
    const page = localProcessesPage(await listLocalProcesses(app.prisma, request.asking), request.asking.coop)
    return reply.page('local-processes/list', { ...page, ...(await lastChange(request, 'local-processes')) })
  })

  app.get(newLocalProcessPath(), keep, async (request, reply) => {
    const { coop } = request.asking
    const page = localProcessFormPage(blankForm(newLocalProcessTyped(coop.units)), null, 0, coop)
    return reply.page('local-processes/form', page)
  })

  app.post(localProcessesPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readBody(request), {
      show: (form, status) =>
        reply.page('local-processes/form', localProcessFormPage(form, null, 0, request.asking.coop), { status }),
      act: async (transaction, values) => {
        refuseProblems(localProcessProblems(values))
        await addLocalProcess(writingOf(request, transaction), values)
        return localProcessesPath()
      },
    }),
  )

  app.get(localProcessPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { coop } = request.asking
    const process = await findLocalProcess(app.prisma, request.asking, request.params.id)
    const form = blankForm(localProcessTyped(process, coop.units))
    const page = localProcessFormPage(form, process, process.version, coop)
    const changed = await lastChange(request, 'local-processes', process.id)
    return reply.page('local-processes/form', { ...page, ...changed })
  })

  app.post(
    localProcessPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const { id } = request.params
      const form = readBody(request)
      return answerForm(reply, form, {
        show: async (form, status) => {
          const newest = await findLocalProcess(app.prisma, request.asking, id)
          const version = status === 409 ? newest.version : versionOf(form)
          const page = localProcessFormPage(form, newest, version, request.asking.coop)
          return reply.page('local-processes/form', page, { status })
        },
        act: async (transaction, values) => {
          refuseProblems(localProcessProblems(values))
          await changeLocalProcess(writingOf(request, transaction), id, versionOf(form), values)
          return localProcessesPath()
        },
      })
    },
  )

  app.post(
    localProcessWithdrawalPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) =>
      reply.once(async (transaction) => {
        const withdrawn = request.body['withdrawn'] === 'yes'
        await withdrawLocalProcess(writingOf(request, transaction), request.params.id, withdrawn)
        return localProcessesPath()
      }),
  )
}
