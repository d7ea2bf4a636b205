import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { checkGeometry } from '../../../core/labels/index.ts'
import { idParams } from '../../../ids.ts'
import { callText, nothing, only, refuseProblems, versionNumber } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { mayKeepLabelSheets } from '../access.ts'
import { geometryDocument, offsetDocument } from './document.ts'
import { geometryFaultWords } from './forms.ts'
import { addSheet, changeSheet, findSheet, listSheets, removeSheet, type SheetValues } from './queries.ts'

const sheetBody = z.strictObject({ name: callText(80), geometry: geometryDocument, offset: offsetDocument })
const sheetAnswer = z.object({ id: z.string(), ...sheetBody.shape, name: z.string(), version: z.int() })

/** The same as the pages, for programs. */
export const sheetsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLabelSheets)
  const tags = ['labels']
  const path = '/api/label-sheets'

  app.get(
    path,
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'The co-op’s own sheets of labels by name',
        response: { 200: z.object({ sheets: z.array(sheetAnswer) }) },
      },
    },
    async (request) => ({ sheets: await listSheets(app.prisma, request.asking) }),
  )

  app.get(
    `${path}/:id`,
    { ...only(mayLook), schema: { tags, summary: 'One sheet', params: idParams, response: { 200: sheetAnswer } } },
    async (request) => findSheet(app.prisma, request.asking, request.params.id),
  )

  app.post(
    path,
    { ...keep, schema: { tags, summary: 'Add a sheet', body: sheetBody, response: { 201: sheetAnswer } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        checkParts(request.body)
        return { status: 201, body: await addSheet(writingOf(request, transaction), request.body) }
      }),
  )

  app.put(
    `${path}/:id`,
    {
      ...keep,
      schema: {
        tags,
        summary: 'Change a sheet',
        params: idParams,
        body: sheetBody.extend({ version: versionNumber }),
        response: { 200: sheetAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        checkParts(values)
        const changed = await changeSheet(writingOf(request, transaction), request.params.id, version, values)
        return { status: 200, body: changed }
      }),
  )

  app.delete(
    `${path}/:id`,
    { ...keep, schema: { tags, summary: 'Remove a sheet', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeSheet(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}

function checkParts({ geometry }: SheetValues): void {
  const words = Object.entries(geometryFaultWords(checkGeometry(geometry), 'metric'))
  refuseProblems(Object.fromEntries(words.map(([part, text]) => [`geometry.${part}`, text])))
}
