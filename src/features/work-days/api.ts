import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams, idText } from '../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepWorkDays } from './access.ts'
import { workDayProblems } from './forms.ts'
import {
  addWorkDay,
  changeWorkDay,
  findWorkDay,
  listWorkDays,
  removeWorkDay,
  setEquipmentOut,
  setHours,
} from './queries.ts'

const minute = z.int().min(0).max(1440).describe('Minutes from midnight in the co-op’s own zone')

const workDayBody = z.strictObject({
  date: z.iso.date(),
  opensMinute: minute,
  closesMinute: minute,
  note: callText(400).nullable(),
})

const hours = z.strictObject({ helperId: idText, fromMinute: minute, toMinute: minute })

const workDayAnswer = z.object({
  id: z.string(),
  date: z.string(),
  opensMinute: z.int(),
  closesMinute: z.int(),
  note: z.string().nullable(),
  hours: z.array(z.object({ helperId: z.string(), fromMinute: z.int(), toMinute: z.int() })).describe('Who is there'),
  equipmentOut: z.array(z.string()).describe('Ids of the equipment that cannot be used'),
  plans: z.array(z.string()).describe('Names of the plans that use the day'),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const workDaysApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepWorkDays)
  const tags = ['work-days']

  app.get(
    '/api/work-days',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'All work days, the earliest first',
        response: { 200: z.object({ workDays: z.array(workDayAnswer) }) },
      },
    },
    async (request) => ({ workDays: await listWorkDays(app.prisma, request.asking) }),
  )

  app.get(
    '/api/work-days/:id',
    { ...only(mayLook), schema: { tags, summary: 'One work day', params: idParams, response: { 200: workDayAnswer } } },
    async (request) => findWorkDay(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/work-days',
    { ...keep, schema: { tags, summary: 'Add a work day', body: workDayBody, response: { 201: workDayAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseProblems(workDayProblems(request.body))
        return { status: 201, body: await addWorkDay(writingOf(request, transaction), request.body) }
      }),
  )

  app.put(
    '/api/work-days/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a work day',
        params: idParams,
        body: workDayBody.extend({ version: versionNumber }),
        response: { 200: workDayAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        refuseProblems(workDayProblems(values))
        const writing = writingOf(request, transaction)
        return { status: 200, body: await changeWorkDay(writing, request.params.id, version, values) }
      }),
  )

  app.put(
    '/api/work-days/:id/hours',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Say who is there, in place of all hours of the day',
        params: idParams,
        body: z.strictObject({ hours: z.array(hours).max(500), version: versionNumber }),
        response: { 200: workDayAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { hours, version } = request.body
        refuseProblems(hoursProblems(hours))
        const writing = writingOf(request, transaction)
        return { status: 200, body: await setHours(writing, request.params.id, version, hours) }
      }),
  )

  app.put(
    '/api/work-days/:id/equipment-out',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Say what cannot be used that day',
        params: idParams,
        body: z.strictObject({ equipmentIds: z.array(idText).max(500), version: versionNumber }),
        response: { 200: workDayAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { equipmentIds, version } = request.body
        const writing = writingOf(request, transaction)
        return { status: 200, body: await setEquipmentOut(writing, request.params.id, version, equipmentIds) }
      }),
  )

  app.delete(
    '/api/work-days/:id',
    {
      ...keep,
      schema: { tags, summary: 'Remove a work day that no plan uses', params: idParams, response: { 204: nothing } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeWorkDay(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}

function hoursProblems(spans: z.output<typeof hours>[]): Record<string, string> {
  const late = spans.findIndex(({ fromMinute, toMinute }) => fromMinute >= toMinute)
  if (late >= 0) return { [`hours.${late}.toMinute`]: 'Give an end that is later than the beginning.' }
  const twice = spans.findIndex(({ helperId }, i) => spans.findIndex((span) => span.helperId === helperId) < i)
  return twice >= 0 ? { [`hours.${twice}.helperId`]: 'Name each helper once.' } : {}
}
