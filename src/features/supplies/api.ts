import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { callText, nothing, only, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepSupplies } from './access.ts'
import { MOST_ON_HAND, MOST_PACKS, MOST_PRICE_MINOR, supplyUnits } from './forms.ts'
import { addSupply, changeSupply, findSupply, listSupplies, removeSupply, setOnHand } from './queries.ts'

const supplyBody = z.strictObject({
  name: callText(80),
  unit: z.enum(supplyUnits),
  onHand: z.int().min(0).max(MOST_ON_HAND),
  packSize: z.int().min(1).max(MOST_ON_HAND).describe('As it is sold, in the supply’s unit'),
  packPriceMinor: z.int().min(0).max(MOST_PRICE_MINOR),
  packsAtMost: z.int().min(0).max(MOST_PACKS).describe('Packs that may be bought'),
})

const supplyAnswer = z.object({
  id: z.string(),
  key: z.string().describe('What recipes call it'),
  name: z.string(),
  unit: z.string(),
  onHand: z.int(),
  packSize: z.int(),
  packPriceMinor: z.int(),
  packsAtMost: z.int(),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const suppliesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepSupplies)
  const tags = ['supplies']

  app.get(
    '/api/supplies',
    {
      ...only(mayLook),
      schema: { tags, summary: 'All supplies', response: { 200: z.object({ supplies: z.array(supplyAnswer) }) } },
    },
    async (request) => ({ supplies: await listSupplies(app.prisma, request.asking) }),
  )

  app.get(
    '/api/supplies/:id',
    { ...only(mayLook), schema: { tags, summary: 'One supply', params: idParams, response: { 200: supplyAnswer } } },
    async (request) => findSupply(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/supplies',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Add a supply',
        body: supplyBody.extend({ key: z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/) }),
        response: { 201: supplyAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 201,
        body: await addSupply(writingOf(request, transaction), request.body),
      })),
  )

  app.put(
    '/api/supplies/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a supply; its key stays',
        params: idParams,
        body: supplyBody.extend({ version: versionNumber }),
        response: { 200: supplyAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        const writing = writingOf(request, transaction)
        return { status: 200, body: await changeSupply(writing, request.params.id, version, values) }
      }),
  )

  app.put(
    '/api/supplies/:id/on-hand',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Say how much was counted',
        params: idParams,
        body: z.strictObject({ onHand: z.int().min(0).max(MOST_ON_HAND) }),
        response: { 200: supplyAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const writing = writingOf(request, transaction)
        return { status: 200, body: await setOnHand(writing, request.params.id, request.body.onHand) }
      }),
  )

  app.delete(
    '/api/supplies/:id',
    { ...keep, schema: { tags, summary: 'Remove a supply', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeSupply(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
