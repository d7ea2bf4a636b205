import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { jarSizes, packStyles, processMethods } from '../../../core/process/index.ts'
import { idParams } from '../../../ids.ts'
import { callText, only, refuseProblems, versionNumber } from '../../../web/answers.ts'
import { HIGHEST_ALTITUDE_M, LOWEST_ALTITUDE_M } from '../../../web/lengths.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { mayKeepLocalProcesses } from './access.ts'
import { localProcessProblems, MOST_MINUTES } from './forms.ts'
import { LEAST_HEADSPACE_MM, LEAST_KPA, MOST_HEADSPACE_MM, MOST_KPA } from './measures.ts'
import {
  addLocalProcess,
  changeLocalProcess,
  findLocalProcess,
  type KeptLocalProcess,
  listLocalProcesses,
  withdrawLocalProcess,
} from './queries.ts'

const altitude = z.int().min(LOWEST_ALTITUDE_M).max(HIGHEST_ALTITUDE_M)

const localProcessBody = z.strictObject({
  product: callText(80),
  method: z.enum(processMethods),
  pack: z.enum(packStyles),
  jars: z.array(z.enum(jarSizes)).min(1).max(jarSizes.length),
  fromM: altitude.describe('Lowest altitude it was tested for, metres'),
  toM: altitude.describe('Highest altitude it was tested for, metres'),
  minutes: z.int().min(1).max(MOST_MINUTES),
  kPa: z.number().min(LEAST_KPA).max(MOST_KPA).nullable().describe('At the gauge; null for boiling water and steam'),
  headspaceMm: z.number().min(LEAST_HEADSPACE_MM).max(MOST_HEADSPACE_MM),
  acid: callText(200, 0).describe('What is added to each jar, in the authority’s words; empty: nothing'),
  source: callText(400).describe('Authority, document, page and date'),
})

const localProcessAnswer = z.object({
  id: z.string(),
  product: z.string(),
  method: z.enum(processMethods),
  pack: z.enum(packStyles),
  jars: z.array(z.enum(jarSizes)),
  fromM: z.int(),
  toM: z.int(),
  minutes: z.int(),
  kPa: z.number().nullable(),
  headspaceMm: z.number(),
  acid: z.string(),
  source: z.string(),
  notedBy: z.string(),
  notedOn: z.string(),
  withdrawn: z.boolean(),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const localProcessesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLocalProcesses)
  const tags = ['processes']
  const told = ({ jars, ...process }: KeptLocalProcess) => ({ ...process, jars: [...jars] })

  app.get(
    '/api/local-processes',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: "The processes that the co-op noted from its local food authority: the co-op's own word",
        response: { 200: z.object({ processes: z.array(localProcessAnswer) }) },
      },
    },
    async (request) => ({ processes: (await listLocalProcesses(app.prisma, request.asking)).map(told) }),
  )

  app.get(
    '/api/local-processes/:id',
    {
      ...only(mayLook),
      schema: { tags, summary: 'One local process', params: idParams, response: { 200: localProcessAnswer } },
    },
    async (request) => told(await findLocalProcess(app.prisma, request.asking, request.params.id)),
  )

  app.post(
    '/api/local-processes',
    {
      ...keep,
      schema: { tags, summary: 'Note a local process', body: localProcessBody, response: { 201: localProcessAnswer } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseProblems(localProcessProblems(request.body))
        return { status: 201, body: told(await addLocalProcess(writingOf(request, transaction), request.body)) }
      }),
  )

  app.put(
    '/api/local-processes/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a local process',
        params: idParams,
        body: localProcessBody.extend({ version: versionNumber }),
        response: { 200: localProcessAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        await findLocalProcess(transaction, request.asking, request.params.id)
        refuseProblems(localProcessProblems(values))
        const writing = writingOf(request, transaction)
        return { status: 200, body: told(await changeLocalProcess(writing, request.params.id, version, values)) }
      }),
  )

  app.put(
    '/api/local-processes/:id/withdrawal',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Withdraw a local process, or rely on it again',
        params: idParams,
        body: z.strictObject({ withdrawn: z.boolean() }),
        response: { 200: localProcessAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const writing = writingOf(request, transaction)
        const { withdrawn } = request.body
        return { status: 200, body: told(await withdrawLocalProcess(writing, request.params.id, withdrawn)) }
      }),
  )
}
