import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, only, refuseProblems, versionOf } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, type Typed, typedBody } from '../../web/forms.ts'
import { aloneIn } from '../../web/lengths.ts'
import { removalPage } from '../../web/removal.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepEquipment } from './access.ts'
import { equipmentApi } from './api.ts'
import { equipmentProblems, equipmentTyped, newEquipmentTyped, readEquipmentForm } from './forms.ts'
import { equipmentFormPage, equipmentPage } from './pages.ts'
import { equipmentListPath, equipmentPath, equipmentRemovalPath, newEquipmentPath } from './paths.ts'
import { addEquipment, changeEquipment, findEquipment, listEquipment, removeEquipment } from './queries.ts'

export const equipmentRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepEquipment)
  await app.register(equipmentApi)

  const readBody = ({ asking, body }: { asking: Asking; body: Typed }) =>
    readEquipmentForm(body, aloneIn(body, asking.coop.units))

  app.get(equipmentListPath(), only(mayLook), async (request, reply) => {
    const equipment = await listEquipment(app.prisma, request.asking)
    const page = equipmentPage(equipment, request.asking.coop)
    return reply.page('equipment/list', { ...page, ...(await lastChange(request, 'equipment')) })
  })

  app.get(newEquipmentPath(), keep, async (request, reply) => {
    const { coop } = request.asking
    return reply.page('equipment/form', equipmentFormPage(blankForm(newEquipmentTyped(coop.units)), null, 0, coop))
  })

  app.post(equipmentListPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readBody(request), {
      show: (form, status) =>
        reply.page('equipment/form', equipmentFormPage(form, null, 0, request.asking.coop), { status }),
      act: async (transaction, values) => {
        refuseProblems(equipmentProblems(values))
        await addEquipment(writingOf(request, transaction), values)
        return equipmentListPath()
      },
    }),
  )

  app.get(equipmentPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const equipment = await findEquipment(app.prisma, request.asking, request.params.id)
    const { coop } = request.asking
    const form = blankForm(equipmentTyped(equipment, coop.units))
    const page = equipmentFormPage(form, equipment, equipment.version, coop)
    return reply.page('equipment/form', { ...page, ...(await lastChange(request, 'equipment', equipment.id)) })
  })

  app.post(equipmentPath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    const form = readBody(request)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findEquipment(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        const page = equipmentFormPage(form, newest, version, request.asking.coop)
        return reply.page('equipment/form', page, { status })
      },
      act: async (transaction, values) => {
        refuseProblems(equipmentProblems(values))
        await changeEquipment(writingOf(request, transaction), id, versionOf(form), values)
        return equipmentListPath()
      },
    })
  })

  app.get(equipmentRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, name } = await findEquipment(app.prisma, request.asking, request.params.id)
    return reply.page(
      'coop/removal',
      removalPage(name, {
        goes: ['Plans that are worked out from now on do without it.'],
        action: equipmentRemovalPath(id),
        back: { href: equipmentPath(id), text: 'Keep it' },
      }),
    )
  })

  app.post(equipmentRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeEquipment(writingOf(request, transaction), request.params.id)
      return equipmentListPath()
    }),
  )
}
