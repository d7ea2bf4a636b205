import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { mayUseShelf } from '../access.ts'
import { emptiesAnswer, entryAnswer, entryBody, jarSupplyAnswer, returnBody } from '../api-schemas.ts'
import { findEntry } from '../entries/queries.ts'
import { jarSupplies, listEmpties, returnEmpties } from './queries.ts'

/** Empty jars for programs: who owes how many, and those that come back. */
export const emptiesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['shelf']

  app.get(
    '/api/shelf/empties',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Jars that each household got and brought back, and those that can come back',
        response: { 200: z.object({ empties: z.array(emptiesAnswer), jars: z.array(jarSupplyAnswer) }) },
      },
    },
    async ({ asking }) => {
      const names = new Map((await listHouseholds(app.prisma, asking)).map(({ id, name }) => [id, name]))
      return {
        empties: (await listEmpties(app.prisma, asking)).map(({ householdId, jar, got, returned }) => ({
          household: { id: householdId, name: names.get(householdId) ?? '' },
          ...{ jar, got, returned, owed: Math.max(0, got - returned) },
        })),
        jars: (await jarSupplies(app.prisma, asking)).map(({ id, ...rest }) => ({ supplyId: id, ...rest })),
      }
    },
  )

  app.post(
    '/api/shelf/empties',
    {
      ...only(mayUseShelf),
      schema: {
        tags,
        summary: 'Empty jars came back: the entry in the ledger, which can be taken back',
        body: returnBody,
        response: { 201: entryAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const id = await returnEmpties(writingOf(request, transaction), request.body)
        return { status: 201, body: entryBody(await findEntry(transaction, request.asking, id)) }
      }),
  )
}
