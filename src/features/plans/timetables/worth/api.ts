import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { weighHelps } from '../../../../core/agreement/index.ts'
import { notFound } from '../../../../errors.ts'
import { only } from '../../../../web/answers.ts'
import { mayLook } from '../../../../web/roles.ts'
import { writingOf } from '../../../changes/index.ts'
import { mayPlan } from '../../access.ts'
import { divisionParams } from '../../load.ts'
import { stopTimetableWorthPath, timetableWorthPath } from '../../paths.ts'
import { timetableStates } from '../queries.ts'
import { helpDocument, helpsTried, standingDocument, unitsDocument } from './documents.ts'
import { type AskedWorth, addWorth, findWorth, saveWorthStop, type WorthRow } from './queries.ts'

const address = (planId: string, number: number | string) => `/api${timetableWorthPath(planId, number)}`
const where = z.object({ location: z.string() })

const worthOfOne = z.object({
  help: helpDocument,
  gain: z.number().describe('Minor units, of this plan, before the price of the thing'),
  unitsChanged: unitsDocument,
  minutesSaved: z.number().describe('The last hands on a batch end so much earlier, days added up'),
})

const worthAnswer = z.object({
  timetable: z.int().describe('Number of the one that was made from the division, which a changed one goes back to'),
  state: z.enum(timetableStates).describe('A stopped one is done, with candidates left'),
  failure: z.string().nullable(),
  askedBy: z.string(),
  startedAt: z.string(),
  finishedAt: z.string().nullable(),
  answer: z
    .object({
      done: z.int().describe('How many of the candidates have been tried'),
      candidates: z.array(helpDocument),
      before: standingDocument.describe('The timetable as it is'),
      from: standingDocument.describe('What gains are counted from: the better of before and found again'),
      foundAgain: z.number().describe('How much more was found again without any help, minor units'),
      mayBeMissing: z.number().nullable().describe('What a gain must exceed, minor units; null: not known'),
      helps: z.array(worthOfOne).describe('In falling order of gain'),
      without: z
        .array(worthOfOne.extend({ why: z.enum(['nothing', 'unsure', 'late']) }))
        .describe('No gain; a gain that is no larger than what may be missing; the clock does not hold it'),
    })
    .nullable()
    .describe('What has been tried so far; null: not begun'),
})

/** The same as the page, for programs. */
export const worthApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayPlan)
  const tags = ['plans']
  const params = divisionParams

  app.get(
    address(':id', ':number'),
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'What further help would be worth to a timetable, as far as it was tried',
        params,
        response: { 200: worthAnswer },
      },
    },
    async (request) => {
      const { id, number } = request.params
      const { timetable, worth } = await findWorth(app.prisma, request.asking, id, number)
      if (worth === null) throw notFound('answer: nobody has asked yet what would help this timetable')
      return { timetable: timetable.number, ...answerOf(worth) }
    },
  )

  app.post(
    address(':id', ':number'),
    {
      ...keep,
      schema: {
        tags,
        summary: 'Try what would help a timetable, or what is left of it: answers at once, and says where to look',
        params,
        body: z.strictObject({}),
        response: { 202: where },
      },
    },
    async (request, reply) => {
      const { id, number } = request.params
      let asked: AskedWorth | null = null
      await reply.answerOnce(async (transaction) => {
        const noted = await addWorth(writingOf(request, transaction), id, number)
        asked = noted.start
        const location = address(id, noted.number)
        reply.header('location', location)
        return { status: 202, body: { location } }
      })
      if (asked !== null) app.worths.start(asked)
      return reply
    },
  )

  app.post(
    `/api${stopTimetableWorthPath(':id', ':number')}`,
    {
      ...keep,
      schema: {
        tags,
        summary: 'Stop trying: what was tried is kept',
        params,
        body: z.strictObject({}),
        response: { 202: where },
      },
    },
    async (request, reply) => {
      const { id, number } = request.params
      let stopped = ''
      await reply.answerOnce(async (transaction) => {
        const ended = await saveWorthStop(writingOf(request, transaction), id, number)
        stopped = ended.id
        return { status: 202, body: { location: address(id, ended.number) } }
      })
      if (stopped !== '') app.worths.stop(stopped)
      return reply
    },
  )
}

function answerOf({
  state,
  answer,
  failure,
  askedBy,
  startedAt,
  finishedAt,
}: WorthRow): Omit<z.input<typeof worthAnswer>, 'timetable'> {
  return {
    state,
    failure,
    askedBy,
    startedAt: startedAt.toISOString(),
    finishedAt: finishedAt?.toISOString() ?? null,
    answer: answer && {
      done: helpsTried(answer),
      candidates: answer.candidates,
      before: answer.before,
      ...weighHelps(answer.before, answer.tries),
    },
  }
}
