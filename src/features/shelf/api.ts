import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams, idText } from '../../ids.ts'
import { nothing, only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { type Writing, writingOf } from '../changes/index.ts'
import { mayUseShelf } from './access.ts'
import { countBody, entryAnswer, entryBody, lineAnswer, lineBody, moveBody, outBody, takeBody } from './api-schemas.ts'
import { buyingApi } from './buying/api.ts'
import { emptiesApi } from './empties/api.ts'
import { undoOnShelf } from './entries/actions.ts'
import { ENTRIES_PER_PAGE } from './entries/pages.ts'
import { listEntries } from './entries/queries.ts'
import { breakUnits, countLine, giveUnits, moveLine, takeUnits } from './jars/actions.ts'
import { findLine, listLines } from './jars/queries.ts'
import { placesApi } from './places/api.ts'
import { filterOf, ROWS_PER_PAGE, stockQuery } from './stock/filter.ts'

/** The same as the pages, for programs. */
export const shelfApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const use = only(mayUseShelf)
  const tags = ['shelf']
  await app.register(placesApi)
  await app.register(emptiesApi)
  await app.register(buyingApi)

  app.get(
    '/api/shelf/stock',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'What is in stock: jars of each batch in each place, by best-by date',
        querystring: stockQuery,
        response: { 200: z.object({ jars: z.array(lineAnswer), more: z.boolean() }) },
      },
    },
    async ({ asking, query }) => {
      const paged = { take: ROWS_PER_PAGE + 1, skip: (query.page - 1) * ROWS_PER_PAGE }
      const lines = await listLines(app.prisma, asking, filterOf(query), paged)
      return { jars: lines.slice(0, ROWS_PER_PAGE).map(lineBody), more: lines.length > ROWS_PER_PAGE }
    },
  )

  app.get(
    '/api/shelf/jars/:id',
    {
      ...only(mayLook),
      schema: { tags, summary: 'Jars of one batch in one place', params: idParams, response: { 200: lineAnswer } },
    },
    async (request) => lineBody(await findLine(app.prisma, request.asking, request.params.id)),
  )

  app.get(
    '/api/shelf/ledger',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'The ledger, newest first; the next page begins before the last order',
        querystring: z.object({
          household: idText.optional(),
          jars: idText.optional().describe('Id of jars of one batch'),
          before: z.coerce.number().int().min(1).max(2_147_483_647).optional(),
        }),
        response: { 200: z.object({ entries: z.array(entryAnswer), more: z.boolean() }) },
      },
    },
    async ({ asking, query: { household, jars, before } }) => {
      const choice = {
        ...(household === undefined ? {} : { householdId: household }),
        ...(jars === undefined ? {} : { jarBatchId: jars }),
        ...(before === undefined ? {} : { before }),
      }
      const entries = await listEntries(app.prisma, asking, choice, ENTRIES_PER_PAGE + 1)
      return { entries: entries.slice(0, ENTRIES_PER_PAGE).map(entryBody), more: entries.length > ENTRIES_PER_PAGE }
    },
  )

  /** Does one thing to a line and answers the line as it is then; `act` gives the line to tell of. */
  const answer = (
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    act: (writing: Writing, id: string) => Promise<string>,
  ): Promise<FastifyReply> =>
    reply.answerOnce(async (transaction) => {
      const writing = writingOf(request, transaction)
      const id = await act(writing, request.params.id)
      return { status: 200, body: lineBody(await findLine(transaction, request.asking, id)) }
    })

  const response = { 200: lineAnswer }

  app.post(
    '/api/shelf/jars/:id/take',
    { ...use, schema: { tags, summary: 'A household takes some', params: idParams, body: takeBody, response } },
    async (request, reply) =>
      answer(request, reply, async (writing, id) => {
        await takeUnits(writing, id, request.body)
        return id
      }),
  )

  app.post(
    '/api/shelf/jars/:id/give',
    { ...use, schema: { tags, summary: 'Some go out of the co-op', params: idParams, body: outBody, response } },
    async (request, reply) =>
      answer(request, reply, async (writing, id) => {
        await giveUnits(writing, id, request.body)
        return id
      }),
  )

  app.post(
    '/api/shelf/jars/:id/break',
    { ...use, schema: { tags, summary: 'Some broke or spoiled', params: idParams, body: outBody, response } },
    async (request, reply) =>
      answer(request, reply, async (writing, id) => {
        await breakUnits(writing, id, request.body)
        return id
      }),
  )

  app.post(
    '/api/shelf/jars/:id/move',
    {
      ...use,
      schema: {
        tags,
        summary: 'Some go to another place or owner: the jars there',
        params: idParams,
        body: moveBody,
        response,
      },
    },
    async (request, reply) => answer(request, reply, (writing, id) => moveLine(writing, id, request.body)),
  )

  app.post(
    '/api/shelf/jars/:id/count',
    { ...use, schema: { tags, summary: 'Say how many were counted', params: idParams, body: countBody, response } },
    async (request, reply) =>
      answer(request, reply, async (writing, id) => {
        await countLine(writing, id, request.body)
        return id
      }),
  )

  app.post(
    '/api/shelf/entries/:id/undo',
    {
      ...use,
      schema: {
        tags,
        summary: 'Take an entry back; a move with both its sides',
        params: idParams,
        body: z.strictObject({}),
        response: { 204: nothing },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await undoOnShelf(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
