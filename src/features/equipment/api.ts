import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { gauges } from '../../core/process/index.ts'
import { equipmentKinds } from '../../core/produce/vocabulary.ts'
import { idParams } from '../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepEquipment } from './access.ts'
import {
  equipmentProblems,
  LEAST_INSIDE_MM,
  MOST_BURNERS,
  MOST_HEATING_MINUTES,
  MOST_INSIDE_MM,
  MOST_MACHINES,
  MOST_ROOM_ML,
} from './forms.ts'
import { holdsDocument } from './holds.ts'
import { addEquipment, changeEquipment, findEquipment, listEquipment, removeEquipment } from './queries.ts'

const insideMm = z.int().min(LEAST_INSIDE_MM).max(MOST_INSIDE_MM).nullable().default(null)
const minute = z.int().min(0).max(1440).nullable().default(null)
const heating = (least: number) => z.int().min(least).max(MOST_HEATING_MINUTES).nullable().default(null)

const equipmentBody = z.strictObject({
  kind: z.enum(equipmentKinds),
  name: callText(80),
  count: z.int().min(1).max(MOST_MACHINES),
  roomMl: z
    .int()
    .min(1)
    .max(MOST_ROOM_ML)
    .nullable()
    .describe('Free room of one freezer, millilitres; null for others'),
  aroundTheClock: z.boolean().describe('Runs on when the kitchen is closed'),
  gauge: z.enum(gauges).nullable().default(null).describe('Of a pressure canner, and needed there; null for others'),
  insideWidthMm: insideMm.describe('Of a canner: inside width in millimetres'),
  insideHeightMm: insideMm.describe(
    'Of a canner: inside height from the bottom to under the lid in millimetres; of a steam canner from the plate',
  ),
  holds: holdsDocument.default({}).describe('Of a canner: jars of each size that one load takes'),
  comeUpMinutes: heating(1).describe('Of a canner: until a full one boils, steams or is at pressure'),
  coolDownMinutes: heating(0).describe(
    'Of a canner: until jars may be lifted out; never less than published is planned',
  ),
  burners: z
    .int()
    .min(0)
    .max(MOST_BURNERS)
    .nullable()
    .default(null)
    .describe('Of canners: burners they cover together'),
  fromMinute: minute.describe('Usable from, minutes from midnight; null, as the end: as the kitchen is open'),
  toMinute: minute.describe('Usable until, minutes from midnight'),
})

const equipmentAnswer = z.object({
  id: z.string(),
  kind: z.enum(equipmentKinds),
  name: z.string(),
  count: z.int(),
  roomMl: z.int().nullable(),
  aroundTheClock: z.boolean(),
  gauge: z.enum(gauges).nullable(),
  insideWidthMm: z.int().nullable(),
  insideHeightMm: z.int().nullable(),
  holds: holdsDocument,
  comeUpMinutes: z.int().nullable(),
  coolDownMinutes: z.int().nullable(),
  burners: z.int().nullable(),
  fromMinute: z.int().nullable(),
  toMinute: z.int().nullable(),
  outOn: z.array(z.string()).describe('Ids of the work days on which it cannot be used'),
  version: z.int(),
})

/** The same as the pages, for programs. */
export const equipmentApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepEquipment)
  const tags = ['equipment']

  app.get(
    '/api/equipment',
    {
      ...only(mayLook),
      schema: { tags, summary: 'All equipment', response: { 200: z.object({ equipment: z.array(equipmentAnswer) }) } },
    },
    async (request) => ({ equipment: await listEquipment(app.prisma, request.asking) }),
  )

  app.get(
    '/api/equipment/:id',
    {
      ...only(mayLook),
      schema: { tags, summary: 'One piece of equipment', params: idParams, response: { 200: equipmentAnswer } },
    },
    async (request) => findEquipment(app.prisma, request.asking, request.params.id),
  )

  app.post(
    '/api/equipment',
    { ...keep, schema: { tags, summary: 'Add equipment', body: equipmentBody, response: { 201: equipmentAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        refuseProblems(equipmentProblems(request.body))
        return { status: 201, body: await addEquipment(writingOf(request, transaction), request.body) }
      }),
  )

  app.put(
    '/api/equipment/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change equipment',
        params: idParams,
        body: equipmentBody.extend({ version: versionNumber }),
        response: { 200: equipmentAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        refuseProblems(equipmentProblems(values))
        const writing = writingOf(request, transaction)
        return { status: 200, body: await changeEquipment(writing, request.params.id, version, values) }
      }),
  )

  app.delete(
    '/api/equipment/:id',
    { ...keep, schema: { tags, summary: 'Remove equipment', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeEquipment(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
