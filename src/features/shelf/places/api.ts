import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { mayKeepPlaces } from '../access.ts'
import { placeAnswer, placeBody, placeChange } from '../api-schemas.ts'
import { addPlace, changePlace, findPlace, listPlaces, setClosed } from './queries.ts'

/** Places for programs. */
export const placesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepPlaces)
  const tags = ['shelf']

  app.get(
    '/api/shelf/places',
    {
      ...only(mayLook),
      schema: { tags, summary: 'All places', response: { 200: z.object({ places: z.array(placeAnswer) }) } },
    },
    async (request) => ({ places: await listPlaces(app.prisma, request.asking) }),
  )

  app.get(
    '/api/shelf/places/:id',
    { ...only(mayLook), schema: { tags, summary: 'One place', params: idParams, response: { 200: placeAnswer } } },
    async (request) => findPlace(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/shelf/places',
    { ...keep, schema: { tags, summary: 'Add a place', body: placeBody, response: { 201: placeAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 201,
        body: await addPlace(writingOf(request, transaction), request.body),
      })),
  )

  app.put(
    '/api/shelf/places/:id',
    {
      ...keep,
      schema: { tags, summary: 'Change a place', params: idParams, body: placeChange, response: { 200: placeAnswer } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        return {
          status: 200,
          body: await changePlace(writingOf(request, transaction), request.params.id, version, values),
        }
      }),
  )

  app.put(
    '/api/shelf/places/:id/closed',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Close a place in which nothing stands, or open it again',
        params: idParams,
        body: z.strictObject({ closed: z.boolean() }),
        response: { 200: placeAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 200,
        body: await setClosed(writingOf(request, transaction), request.params.id, request.body.closed),
      })),
  )
}
