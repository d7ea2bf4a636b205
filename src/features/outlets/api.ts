import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { crop } from '../../core/produce/index.ts'
import { outletKinds, ripenessClasses } from '../../core/produce/vocabulary.ts'
import { idParams } from '../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepOutlets } from './access.ts'
import { MOST_CAPACITY_GRAMS, MOST_WORTH_MINOR, outletProblems } from './forms.ts'
import {
  addOutlet,
  changeOutlet,
  findOutlet,
  listOutlets,
  type OutletValues,
  rankOutlet,
  removeOutlet,
} from './queries.ts'

/** A place in the order of use; 1 is used first, more than there are is the last. */
export const rankNumber = z.int().min(1).max(10_000)

const key = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/)

const outletBody = z.strictObject({
  kind: z.enum(outletKinds),
  name: callText(80),
  capacityGrams: z.int().min(1).max(MOST_CAPACITY_GRAMS).nullable().describe('For one plan; null: any amount'),
  worthPerKgMinor: z.int().min(0).max(MOST_WORTH_MINOR),
  takesProduce: z.boolean(),
  crops: z.array(key).max(100).describe('Keys of crops; none: any'),
  classes: z.array(z.enum(ripenessClasses)).max(ripenessClasses.length),
  materials: z.array(key).max(50).describe('Trim kinds and what recipes make'),
  open: z.boolean(),
})

const outletAnswer = z.object({
  id: z.string(),
  ...outletBody.shape,
  name: z.string(),
  rank: z.int().describe('1 is used first'),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const outletsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepOutlets)
  const tags = ['outlets']

  app.get(
    '/api/outlets',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'All outlets in the order of their use',
        response: { 200: z.object({ outlets: z.array(outletAnswer) }) },
      },
    },
    async (request) => ({ outlets: await listOutlets(app.prisma, request.asking) }),
  )

  app.get(
    '/api/outlets/:id',
    { ...only(mayLook), schema: { tags, summary: 'One outlet', params: idParams, response: { 200: outletAnswer } } },
    async (request) => findOutlet(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/outlets',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Add an outlet, as the last to be used',
        body: outletBody,
        response: { 201: outletAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const values = checked(request.body)
        return { status: 201, body: await addOutlet(writingOf(request, transaction), values) }
      }),
  )

  app.put(
    '/api/outlets/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change an outlet',
        params: idParams,
        body: outletBody.extend({ version: versionNumber }),
        response: { 200: outletAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        const writing = writingOf(request, transaction)
        return { status: 200, body: await changeOutlet(writing, request.params.id, version, checked(values)) }
      }),
  )

  app.put(
    '/api/outlets/:id/rank',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Put an outlet at a place in the order',
        params: idParams,
        body: z.strictObject({ rank: rankNumber }),
        response: { 200: outletAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const writing = writingOf(request, transaction)
        return { status: 200, body: await rankOutlet(writing, request.params.id, request.body.rank) }
      }),
  )

  app.delete(
    '/api/outlets/:id',
    { ...keep, schema: { tags, summary: 'Remove an outlet', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeOutlet(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}

function checked(values: OutletValues): OutletValues {
  const unknown = values.crops.find((one) => crop(one) === undefined)
  if (unknown !== undefined) refuseProblems({ crops: `No crop has the key ${unknown}.` })
  refuseProblems(outletProblems(values))
  return { ...values, crops: [...new Set(values.crops)], materials: [...new Set(values.materials)] }
}
