import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { allowedSkills } from '../../core/day/age-rules.ts'
import { ageBands, stations, workKinds } from '../../core/produce/vocabulary.ts'
import { idParams, idText } from '../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepHelpers } from './access.ts'
import { breakProblem, helperProblems, LEAST_SPEED, LEAST_STRETCH, MOST_SPEED, MOST_STRETCH } from './forms.ts'
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
const liked = z.array(z.enum(stations)).max(stations.length)

const helperBody = z.strictObject({
  name: callText(80),
  ageBand: z.enum(ageBands),
  skills,
  householdId: idText.nullable(),
  speedPercent: z.int().min(LEAST_SPEED).max(MOST_SPEED).default(100).describe('How fast; 50 takes twice as long'),
  stretchMinutes: z
    .int()
    .min(LEAST_STRETCH)
    .max(MOST_STRETCH)
    .nullable()
    .default(null)
    .describe('Longest at one station without a change; null: does not tire'),
  likes: liked.default([]).describe('Stations this helper would like'),
  dislikes: liked.default([]).describe('Stations this helper would rather not stand at; none of them liked'),
})

const minute = z.int().min(0).max(1440).describe('Minutes from midnight in the co-op’s own zone')
const span = z.strictObject({ fromMinute: minute, toMinute: minute })
const dayHours = z.strictObject({
  dayId: idText,
  span: span.nullable().describe('null: not there'),
  breaks: z.array(span).max(1).default([]).describe('A meal or a rest within the span'),
})

const spanTold = z.object({ dayId: z.string(), fromMinute: z.int(), toMinute: z.int() })
const helperAnswer = z.object({
  id: z.string(),
  name: z.string(),
  ageBand: z.enum(ageBands),
  skills,
  counted: skills.describe('The skills that the age band leaves standing'),
  householdId: z.string().nullable(),
  speedPercent: z.int(),
  stretchMinutes: z.int().nullable(),
  likes: liked,
  dislikes: liked,
  hours: z.array(spanTold),
  breaks: z.array(spanTold),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const helpersApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepHelpers)
  const tags = ['helpers']

  app.get(
    '/api/helpers',
    {
      ...only(mayLook),
      schema: { tags, summary: 'All helpers', response: { 200: z.object({ helpers: z.array(helperAnswer) }) } },
    },
    async (request) => ({ helpers: (await listHelpers(app.prisma, request.asking)).map(told) }),
  )

  app.get(
    '/api/helpers/:id',
    { ...only(mayLook), schema: { tags, summary: 'One helper', params: idParams, response: { 200: helperAnswer } } },
    async (request) => told(await findHelper(app.prisma, request.asking, request.params.id)),
  )

  app.post(
    '/api/helpers',
    { ...keep, schema: { tags, summary: 'Add a helper', body: helperBody, response: { 201: helperAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseProblems(helperProblems(request.body))
        return { status: 201, body: told(await addHelper(writingOf(request, transaction), request.body)) }
      }),
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
        refuseProblems(helperProblems(values))
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
        for (const [number, { span, breaks }] of hours.entries()) {
          for (const rest of breaks) {
            const at = `hours.${number}.breaks.0`
            if (rest.fromMinute >= rest.toMinute)
              refuseProblems({ [`${at}.toMinute`]: 'Give an end that is later than the beginning.' })
            const problem = breakProblem(span, rest)
            if (problem !== null) refuseProblems({ [`${at}.fromMinute`]: problem })
          }
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
