import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { allowedSkills } from '../../core/day/age-rules.ts'
import { ageBands, workKinds } from '../../core/produce/vocabulary.ts'
import { idParams, idText } from '../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepHelpers } from './access.ts'
import {
  addHelper,
  changeHelper,
  findHelper,
  type Helper,
  listHelpers,
  removeHelper,
  setHelperHours,
} from './queries.ts'

const skills = z.array(z.enum(workKinds)).max(workKinds.length)

const helperBody = z.strictObject({
  name: callText(80),
  ageBand: z.enum(ageBands),
  skills,
  householdId: idText.nullable(),
})

const minute = z.int().min(0).max(1440).describe('Minutes from midnight in the co-op’s own zone')
const dayHours = z.strictObject({
  dayId: idText,
  span: z.strictObject({ fromMinute: minute, toMinute: minute }).nullable().describe('null: not there'),
})

const helperAnswer = z.object({
  id: z.string(),
  name: z.string(),
  ageBand: z.enum(ageBands),
  skills,
  counted: skills.describe('The skills that the age band leaves standing'),
  householdId: z.string().nullable(),
  hours: z.array(z.object({ dayId: z.string(), fromMinute: z.int(), toMinute: z.int() })),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const helpersApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = { preHandler: only(mayKeepHelpers) }
  const tags = ['helpers']

  app.get(
    '/api/helpers',
    { schema: { tags, summary: 'All helpers', response: { 200: z.object({ helpers: z.array(helperAnswer) }) } } },
    async (request) => ({ helpers: (await listHelpers(app.prisma, request.asking)).map(told) }),
  )

  app.get(
    '/api/helpers/:id',
    { schema: { tags, summary: 'One helper', params: idParams, response: { 200: helperAnswer } } },
    async (request) => told(await findHelper(app.prisma, request.asking, request.params.id)),
  )

  app.post(
    '/api/helpers',
    { ...keep, schema: { tags, summary: 'Add a helper', body: helperBody, response: { 201: helperAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 201,
        body: told(await addHelper(writingOf(request, transaction), request.body)),
      })),
  )

  app.put(
    '/api/helpers/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a helper',
        params: idParams,
        body: helperBody.extend({ version: versionNumber }),
        response: { 200: helperAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        const writing = writingOf(request, transaction)
        return { status: 200, body: told(await changeHelper(writing, request.params.id, version, values)) }
      }),
  )

  app.put(
    '/api/helpers/:id/hours',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Say when a helper is there, for the days that are named; the others stay as they are',
        params: idParams,
        body: z.strictObject({ hours: z.array(dayHours).max(100), version: versionNumber }),
        response: { 200: helperAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { hours, version } = request.body
        const late = hours.findIndex(({ span }) => span !== null && span.fromMinute >= span.toMinute)
        if (late >= 0) {
          refuseProblems({ [`hours.${late}.span.toMinute`]: 'Give an end that is later than the beginning.' })
        }
        const writing = writingOf(request, transaction)
        return { status: 200, body: told(await setHelperHours(writing, request.params.id, version, hours)) }
      }),
  )

  app.delete(
    '/api/helpers/:id',
    { ...keep, schema: { tags, summary: 'Remove a helper', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeHelper(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}

function told(helper: Helper) {
  return { ...helper, counted: allowedSkills(helper.ageBand, helper.skills) }
}
