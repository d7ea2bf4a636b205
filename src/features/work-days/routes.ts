import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, refuseProblems, versionOf } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listEquipment } from '../equipment/queries.ts'
import { listHelpers } from '../helpers/queries.ts'
import { mayKeepWorkDays } from './access.ts'
import { workDaysApi } from './api.ts'
import { equipmentOutForm, hoursTyped, readHoursForm, workDayForm, workDayProblems, workDayTyped } from './forms.ts'
import { workDayFormPage, workDayPage, workDaysPage } from './pages.ts'
import {
  editWorkDayPath,
  newWorkDayPath,
  workDayEquipmentPath,
  workDayHoursPath,
  workDayPath,
  workDayRemovalPath,
  workDaysPath,
} from './paths.ts'
import {
  addWorkDay,
  changeWorkDay,
  findWorkDay,
  listWorkDays,
  removeWorkDay,
  setEquipmentOut,
  setHours,
  usedBy,
} from './queries.ts'

export const workDaysRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepWorkDays)
  const keepOne = { ...keep, schema: { params: idParams } }
  const sendOne = { ...keep, schema: { params: idParams, body: typedBody } }
  await app.register(workDaysApi)

  /** The page of one day, with either of its two forms as it was sent, or both as they stand. */
  const showDay = async (
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    sent: { hours?: TypedForm; out?: TypedForm } = {},
    status = 200,
  ): Promise<FastifyReply> => {
    const { asking, params } = request
    const day = await findWorkDay(app.prisma, asking, params.id)
    const refused = status === 422 ? (sent.hours ?? sent.out) : undefined
    const helpers = await listHelpers(app.prisma, asking)
    const equipment = await listEquipment(app.prisma, asking)
    const page = workDayPage(
      day,
      {
        helpers: helpers.map(({ id, name, ageBand }) => ({ id, name, hint: ageBand === 'adult' ? '' : ageBand })),
        equipment: equipment.map(({ id, name, count }) => ({ id, name, hint: count > 1 ? `all ${count}` : '' })),
        hours: sent.hours ?? blankForm(hoursTyped(day)),
        out: sent.out ?? blankForm({ out: day.equipmentOut }),
        version: refused ? versionOf(refused) : day.version,
      },
      asking.coop,
    )
    return reply.page('work-days/show', { ...page, ...(await lastChange(request, 'work-days', day.id)) }, { status })
  }

  app.get(workDaysPath(), only(mayLook), async (request, reply) => {
    const { coop } = request.asking
    const days = await listWorkDays(app.prisma, request.asking)
    const page = workDaysPage(days, todayIn(app.clock, coop.timeZone), coop)
    return reply.page('work-days/list', { ...page, ...(await lastChange(request, 'work-days')) })
  })

  app.get(newWorkDayPath(), keep, async (request, reply) => {
    const form = blankForm({ opensMinute: '8:00', closesMinute: '17:00' })
    return reply.page('work-days/form', workDayFormPage(form, null, 0, request.asking.coop))
  })

  app.post(workDaysPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(workDayForm, request.body), {
      show: (form, status) =>
        reply.page('work-days/form', workDayFormPage(form, null, 0, request.asking.coop), { status }),
      act: async (transaction, values) => {
        refuseProblems(workDayProblems(values))
        const { id } = await addWorkDay(writingOf(request, transaction), values)
        return workDayPath(id)
      },
    }),
  )

  app.get(workDayPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) =>
    showDay(request, reply),
  )

  app.get(editWorkDayPath(':id'), keepOne, async (request, reply) => {
    const day = await findWorkDay(app.prisma, request.asking, request.params.id)
    const page = workDayFormPage(blankForm(workDayTyped(day)), day, day.version, request.asking.coop)
    return reply.page('work-days/form', page)
  })

  app.post(workDayPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findWorkDay(app.prisma, request.asking, id)
    const form = readForm(workDayForm, request.body)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findWorkDay(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        return reply.page('work-days/form', workDayFormPage(form, newest, version, request.asking.coop), { status })
      },
      act: async (transaction, values) => {
        refuseProblems(workDayProblems(values))
        await changeWorkDay(writingOf(request, transaction), id, versionOf(form), values)
        return workDayPath(id)
      },
    })
  })

  app.post(workDayHoursPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findWorkDay(app.prisma, request.asking, id)
    const helpers = await listHelpers(app.prisma, request.asking)
    const form = readHoursForm(
      request.body,
      helpers.map((helper) => helper.id),
    )
    return answerForm(reply, form, {
      show: (hours, status) => showDay(request, reply, { hours }, status),
      act: async (transaction, hours) => {
        await setHours(writingOf(request, transaction), id, versionOf(form), hours)
        return workDayPath(id)
      },
    })
  })

  app.post(workDayEquipmentPath(':id'), sendOne, async (request, reply) => {
    const { id } = request.params
    await findWorkDay(app.prisma, request.asking, id)
    const equipment = await listEquipment(app.prisma, request.asking)
    const form = readForm(equipmentOutForm(equipment.map((one) => one.id)), request.body)
    return answerForm(reply, form, {
      show: (out, status) => showDay(request, reply, { out }, status),
      act: async (transaction, values) => {
        await setEquipmentOut(writingOf(request, transaction), id, versionOf(form), values.out)
        return workDayPath(id)
      },
    })
  })

  app.get(workDayRemovalPath(':id'), keepOne, async (request, reply) => {
    const day = await findWorkDay(app.prisma, request.asking, request.params.id)
    const date = formatFor(request.asking.coop).date(day.date)
    const page = {
      goes: ['The hours that helpers gave for it go with it.'],
      stays: day.plans.length > 0 ? [usedBy(day.plans)] : [],
      action: workDayRemovalPath(day.id),
      back: { href: workDayPath(day.id), text: 'Keep it' },
    }
    return reply.page('coop/removal', removalPage(`the work day ${date}`, page))
  })

  app.post(workDayRemovalPath(':id'), keepOne, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeWorkDay(writingOf(request, transaction), request.params.id)
      return workDaysPath()
    }),
  )
}
