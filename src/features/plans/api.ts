import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { only, versionNumber } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayPlan } from './access.ts'
import { askForDivision, type NewDivision } from './actions.ts'
import { changeBody, compareAnswer, divisionAnswer, divisionLine, newPlanBody, planAnswer } from './api-schemas.ts'
import { compareSentence, endWeights, packsBought, productUnits } from './compare/pages.ts'
import { compareQuery, loadBoth } from './compare/routes.ts'
import { type Division, findDivision, HEADLINES_OF_A_PLAN, listDivisions, saveStop } from './divisions/queries.ts'
import type { resultDocument } from './documents.ts'
import { divisionParams, todayFor } from './load.ts'
import { refuseNotForShelf } from './not-for-shelf.ts'
import { addPlan, changePlan, findPlan, listPlans } from './queries.ts'

/** The same as the pages, for programs. */
export const plansApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayPlan)
  const tags = ['plans']

  app.get(
    '/api/plans',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Plans, newest first',
        querystring: z.object({ page: z.coerce.number().int().min(1).max(10_000).default(1) }),
        response: { 200: z.object({ plans: z.array(planAnswer), more: z.boolean() }) },
      },
    },
    async (request) => listPlans(app.prisma, request.asking, request.query.page),
  )

  app.post(
    '/api/plans',
    { ...keep, schema: { tags, summary: 'Begin a plan', body: newPlanBody, response: { 201: planAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await refuseNotForShelf(request, transaction, request.body.wishes)
        return { status: 201, body: await addPlan(writingOf(request, transaction), request.body) }
      }),
  )

  app.get(
    '/api/plans/:id',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'One plan and its divisions',
        params: idParams,
        response: { 200: planAnswer.extend({ divisions: z.array(divisionLine) }) },
      },
    },
    async (request) => {
      const plan = await findPlan(app.prisma, request.asking, request.params.id)
      const divisions = await listDivisions(app.prisma, request.asking, [plan.id], HEADLINES_OF_A_PLAN)
      return {
        ...plan,
        divisions: divisions.map(({ startedAt, ...line }) => ({ ...line, startedAt: startedAt.toISOString() })),
      }
    },
  )

  app.patch(
    '/api/plans/:id',
    {
      ...keep,
      schema: { tags, summary: 'Change a plan', params: idParams, body: changeBody, response: { 200: planAnswer } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...change } = request.body
        const writing = writingOf(request, transaction)
        await refuseNotForShelf(request, transaction, change.wishes ?? [])
        return { status: 200, body: await changePlan(writing, request.params.id, version, change, 'changed') }
      }),
  )

  app.post(
    '/api/plans/:id/divisions',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Work a plan out: answers at once, and says where to look',
        params: idParams,
        body: z.strictObject({ version: versionNumber.exactOptional() }),
        response: { 202: z.object({ id: z.string(), number: z.int(), location: z.string() }) },
      },
    },
    async (request, reply) => {
      let asked: NewDivision | null = null
      let location = ''
      await reply.answerOnce(async (transaction) => {
        asked = null
        const writing = writingOf(request, transaction)
        const planId = request.params.id
        asked = await askForDivision(writing, planId, request.body.version ?? null, todayFor(request))
        const { id, number } = asked
        location = divisionAddress(planId, number)
        reply.header('location', location)
        return { status: 202, body: { id, number, location } }
      })
      if (asked !== null && reply.statusCode === 202) app.divisions.start(asked)
      return reply
    },
  )

  app.get(
    '/api/plans/:id/divisions/:number',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'How far a division is, and its answer',
        params: divisionParams,
        response: { 200: divisionAnswer },
      },
    },
    async (request) => answerOf(await loadDivision(request, request.params)),
  )

  app.post(
    '/api/plans/:id/divisions/:number/stop',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Stop the working out: the best so far is kept',
        params: divisionParams,
        body: z.strictObject({}),
        response: { 202: z.object({ id: z.string(), location: z.string() }) },
      },
    },
    async (request, reply) => {
      const { id, number } = request.params
      let stopped = ''
      await reply.answerOnce(async (transaction) => {
        stopped = (await saveStop(writingOf(request, transaction), id, number)).id
        return { status: 202, body: { id: stopped, location: divisionAddress(id, number) } }
      })
      if (stopped !== '') app.divisions.stop(stopped)
      return reply
    },
  )

  app.get(
    '/api/plans/:id/compare',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Two divisions side by side: by number within the plan, or by id for another plan’s',
        params: idParams,
        querystring: compareQuery,
        response: { 200: compareAnswer },
      },
    },
    async (request) => {
      const [a, b] = await loadBoth(request, request.params.id, request.query)
      const pair = (of: number, and: number) => ({ a: of, b: and, difference: and - of })
      return {
        sentence: compareSentence(a, b, formatFor(request.asking.coop)),
        products: productUnits(a, b),
        ends: endWeights(a, b),
        purchases: packsBought(a, b),
        spent: pair(a.summary.spent, b.summary.spent),
        objective: pair(a.answer.result.objective, b.answer.result.objective),
      }
    },
  )
}

const divisionAddress = (planId: string, number: number) => `/api/plans/${planId}/divisions/${number}`

function loadDivision(request: FastifyRequest, { id, number }: { id: string; number: number }): Promise<Division> {
  return findDivision(request.server.prisma, request.asking, id, number)
}

function answerOf(division: Division): z.input<typeof divisionAnswer> {
  const { answer, objective, bound, planVersion, planVersionNow, startedAt, finishedAt } = division
  const { id, planId, number, state, stopAsked, failure, askedBy, question } = division
  return {
    id,
    planId,
    number,
    state,
    planVersion,
    planMoved: planVersion !== planVersionNow || (answer?.planMoved ?? false),
    progress: { objective, bound },
    stopAsked,
    failure,
    askedBy,
    startedAt: startedAt.toISOString(),
    finishedAt: finishedAt?.toISOString() ?? null,
    question,
    answer: answer === null ? null : { headline: answer.headline, result: told(answer.result), steps: answer.steps },
  }
}

/** JSON has no infinity. */
function told(result: NonNullable<Division['answer']>['result']): z.input<typeof resultDocument> {
  const { bound, gap } = result
  return { ...result, bound: Number.isFinite(bound) ? bound : null, gap: Number.isFinite(gap) ? gap : null }
}
