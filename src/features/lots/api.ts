import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import { crop } from '../../core/produce/index.ts'
import { idParams } from '../../ids.ts'
import { only, refuseProblems } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepLots, maySort } from './access.ts'
import { changeLot, closeLot, moveLot, sortAgain, takeBackSorting, takeIn } from './actions.ts'
import {
  changeBody,
  closureBody,
  forecastAnswer,
  forecastQuery,
  listQuery,
  lotAnswer,
  lotBody,
  sortingAnswer,
  sortingBody,
  storageBody,
  versionBody,
} from './api-schemas.ts'
import { readArrival } from './forms.ts'
import type { Lot } from './lot.ts'
import { findLot, listClosedLots, listLots, listSortings } from './queries.ts'
import type { Sorted } from './sorting.ts'
import { bySpoiling, comingDays, knownCrop, standingOn } from './standing.ts'
import { readWeight } from './weight.ts'

/** The same as the pages, for programs. Weights are whole grams, money minor units, dates ISO dates. */
export const lotsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLots)
  const sort = only(maySort)
  const tags = ['lots']
  const lotResponse = { params: idParams, response: { 200: lotAnswer } }

  app.get(
    '/api/lots',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Lots: what spoils first comes first; with closed=yes the closed ones',
        querystring: listQuery,
        response: { 200: z.object({ lots: z.array(lotAnswer) }) },
      },
    },
    async (request) => {
      const { prisma } = app
      if (request.query.closed === 'yes') {
        const { lots } = await listClosedLots(prisma, request.asking)
        return { lots: lots.map((lot) => answerOf(request, lot)) }
      }
      const lots = (await listLots(prisma, request.asking)).map((lot) => answerOf(request, lot))
      return { lots: lots.sort((a, b) => bySpoiling(a.today, b.today)) }
    },
  )

  app.get(
    '/api/lots/:id',
    { ...only(mayLook), schema: { tags, summary: 'One lot', ...lotResponse } },
    async (request) => answerOf(request, await findLot(app.prisma, request.asking, request.params.id)),
  )

  app.post(
    '/api/lots',
    { ...keep, schema: { tags, summary: 'Take a lot in', body: lotBody, response: { 201: lotAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { weight: typed, arrivedOn: typedDate, ...values } = request.body
        const known = crop(values.crop)
        const weight = readWeight(typed, known)
        const arrivedOn = readArrival(typedDate, todayOf(request))
        refuseProblems({
          ...(known === undefined ? { crop: 'Choose one of the crops of /api/crops' } : {}),
          ...('problem' in weight ? { weight: weight.problem } : {}),
          ...('problem' in arrivedOn ? { arrivedOn: arrivedOn.problem } : {}),
        })
        if (!('value' in weight && 'value' in arrivedOn)) throw new Error('a refusal was not thrown')
        const { grams: weightGrams, typed: weightTyped } = weight.value
        const intake = { ...values, weightGrams, weightTyped, arrivedOn: arrivedOn.value }
        const lot = await takeIn(writingOf(request, transaction), intake)
        return { status: 201, body: answerOf(request, lot) }
      }),
  )

  app.patch(
    '/api/lots/:id',
    { ...keep, schema: { tags, summary: 'Change what is known of a lot', body: changeBody, ...lotResponse } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, weight: typed, ...change } = request.body
        const { id } = request.params
        const { crop: key } = await findLot(transaction, request.asking, id)
        const weight = typed === undefined ? null : readWeight(typed, knownCrop(key))
        if (weight !== null && 'problem' in weight) refuseProblems({ weight: weight.problem })
        const more = weight !== null && 'value' in weight ? { weight: weight.value } : {}
        const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined))
        const lot = await changeLot(writingOf(request, transaction), id, version, { ...given, ...more })
        return { status: 200, body: answerOf(request, lot) }
      }),
  )

  app.put(
    '/api/lots/:id/storage',
    { ...keep, schema: { tags, summary: 'Move a lot', body: storageBody, ...lotResponse } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, storage } = request.body
        const move = { storage, today: todayOf(request) }
        const lot = await moveLot(writingOf(request, transaction), request.params.id, version, move)
        return { status: 200, body: answerOf(request, lot) }
      }),
  )

  app.put(
    '/api/lots/:id/closure',
    { ...keep, schema: { tags, summary: 'Close a lot today, or open it again', body: closureBody, ...lotResponse } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, closed } = request.body
        const closedOn = closed ? todayOf(request) : null
        const lot = await closeLot(writingOf(request, transaction), request.params.id, version, closedOn)
        return { status: 200, body: answerOf(request, lot) }
      }),
  )

  app.get(
    '/api/lots/:id/forecast',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'What the lot will be on each morning from today on, at its storage',
        params: idParams,
        querystring: forecastQuery,
        response: { 200: forecastAnswer },
      },
    },
    async (request) => {
      const lot = await findLot(app.prisma, request.asking, request.params.id)
      const after = Array.from({ length: request.query.days + 1 }, (_, day) => day)
      return { storage: lot.storage, days: comingDays(lot, todayOf(request), after) }
    },
  )

  app.get(
    '/api/lots/:id/sortings',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'All sortings of a lot, newest first',
        params: idParams,
        response: { 200: z.object({ sortings: z.array(sortingAnswer) }) },
      },
    },
    async (request) => {
      const { id } = await findLot(app.prisma, request.asking, request.params.id)
      return { sortings: (await listSortings(app.prisma, request.asking, id)).reverse() }
    },
  )

  app.post(
    '/api/lots/:id/sortings',
    {
      ...sort,
      schema: {
        tags,
        summary: 'Sort what is there today',
        params: idParams,
        body: sortingBody,
        response: { 201: lotAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { body } = request
        const sorted: Sorted =
          body.how === 'weights'
            ? { how: 'weights', parts: body.grams, sure: body.sure }
            : { how: 'shares', parts: body.shares }
        const found = { sorted, note: body.note, today: todayOf(request) }
        const lot = await sortAgain(writingOf(request, transaction), request.params.id, body.version, found)
        return { status: 201, body: answerOf(request, lot) }
      }),
  )

  app.post(
    '/api/lots/:id/sortings/reversal',
    {
      ...sort,
      schema: {
        tags,
        summary: 'Take the last sorting by hand back',
        params: idParams,
        body: versionBody,
        response: { 201: lotAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const lot = await takeBackSorting(writingOf(request, transaction), request.params.id, request.body.version)
        return { status: 201, body: answerOf(request, lot) }
      }),
  )
}

function answerOf(request: FastifyRequest, lot: Lot) {
  return { ...lot, today: standingOn(lot, todayOf(request)) }
}

function todayOf(request: FastifyRequest): string {
  return todayIn(request.server.clock, request.asking.coop.timeZone)
}
