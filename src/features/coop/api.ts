import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { unitSystems } from '../../core/units/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { callText, only } from '../../web/answers.ts'
import { type Asking, memberOf } from '../../web/asking.ts'
import { HIGHEST_ALTITUDE_M, LOWEST_ALTITUDE_M } from '../../web/lengths.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepCoop } from './access.ts'
import { changeCoop, changeOwnUnits, countHouseholds, findCoop, findOwnUnits } from './queries.ts'

const coopBody = z.strictObject({
  name: callText(80),
  town: callText(80),
  altitudeM: z
    .int()
    .min(LOWEST_ALTITUDE_M)
    .max(HIGHEST_ALTITUDE_M)
    .describe('Whole metres above the sea; what was measured in feet is rounded up'),
  units: z.enum(unitSystems).describe("The co-op's own; a member may read others"),
})

const coopAnswer = z.object({
  id: z.string(),
  name: z.string(),
  town: z.string(),
  altitudeM: z.int(),
  timeZone: z.string(),
  locale: z.string(),
  units: z.enum(unitSystems),
  currency: z.string(),
  households: z.array(z.object({ name: z.string(), members: z.int(), helpers: z.int(), lots: z.int() })),
})

const ownUnits = z.enum(unitSystems).nullable().describe('null: as the co-op does')
const meAnswer = z.object({
  id: z.string(),
  name: z.string(),
  role: z.string(),
  units: ownUnits,
  reads: z.enum(unitSystems).describe('What pages are written in: the own units, or the co-op’s'),
})

/** The same as the pages, for programs. */
export const coopApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepCoop)
  const tags = ['coop']

  const coopAsTold = async (prisma: TransactionClient, asking: Asking) => ({
    ...(await findCoop(prisma, asking)),
    households: await countHouseholds(prisma, asking),
  })
  const meAsTold = async (prisma: TransactionClient, asking: Asking) => {
    const units = await findOwnUnits(prisma, asking)
    const reads = units ?? (await findCoop(prisma, asking)).units
    return { id: memberOf(asking), name: asking.name, role: asking.role, units, reads }
  }

  app.get(
    '/api/coop',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'The co-op: where it is, how its people read figures, and its households',
        response: { 200: coopAnswer },
      },
    },
    async ({ asking }) => coopAsTold(app.prisma, asking),
  )

  app.put(
    '/api/coop',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change name, place and units of the co-op; of two changes the later one stands',
        body: coopBody,
        response: { 200: coopAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await changeCoop(writingOf(request, transaction), request.body)
        return { status: 200, body: await coopAsTold(transaction, request.asking) }
      }),
  )

  app.get(
    '/api/me',
    {
      ...only(mayLook),
      schema: { tags, summary: 'Who is asking, and the units they read', response: { 200: meAnswer } },
    },
    async ({ asking }) => meAsTold(app.prisma, asking),
  )

  app.put(
    '/api/me/units',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Choose the units that whoever is asking reads',
        body: z.strictObject({ units: ownUnits }),
        response: { 200: meAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await changeOwnUnits(writingOf(request, transaction), request.body.units)
        return { status: 200, body: await meAsTold(transaction, request.asking) }
      }),
  )
}
