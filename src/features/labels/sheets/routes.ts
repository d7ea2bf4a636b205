import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../../ids.ts'
import { answerForm, only, versionOf } from '../../../web/answers.ts'
import { blankForm, typedBody } from '../../../web/forms.ts'
import { testSheet } from '../../../web/labels/index.ts'
import { ALONE_IN, aloneIn } from '../../../web/lengths.ts'
import { removalPage } from '../../../web/removal.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { mayKeepLabelSheets } from '../access.ts'
import {
  labelSheetPath,
  labelSheetRemovalPath,
  labelSheetsPath,
  labelTestPagePath,
  newLabelSheetPath,
} from '../paths.ts'
import { sendPdf } from '../pdf.ts'
import { ownSheetTyped, readSheetForm, sheetTyped } from './forms.ts'
import { copyOf, sheetPage, sheetsPage } from './pages.ts'
import { addSheet, changeSheet, findSheet, listSheets, removeSheet } from './queries.ts'

export const sheetsRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLabelSheets)

  app.get(labelSheetsPath(), only(mayLook), async (request, reply) => {
    const page = sheetsPage(await listSheets(app.prisma, request.asking), request.asking.coop)
    return reply.page('labels/sheets', { ...page, ...(await lastChange(request, 'label-sheets')) })
  })

  app.get(
    newLabelSheetPath(),
    { ...keep, schema: { querystring: z.object({ like: z.string().max(100).default('') }) } },
    async (request, reply) => {
      const { units } = request.asking.coop
      const copy = copyOf(request.query.like)
      const start = { paper: units === 'us' ? 'Letter' : 'A4', shape: 'rectangle', [ALONE_IN]: units }
      const form = blankForm({ ...start, ...(copy === null ? {} : sheetTyped(copy, units)) })
      return reply.page('labels/sheet', sheetPage(form, { of: null, version: 0, alone: units }))
    },
  )

  app.post(labelSheetsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const alone = aloneIn(request.body, request.asking.coop.units)
    return answerForm(reply, readSheetForm(request.body, alone), {
      show: (form, status) => reply.page('labels/sheet', sheetPage(form, { of: null, version: 0, alone }), { status }),
      act: async (transaction, values) => {
        const { id } = await addSheet(writingOf(request, transaction), values)
        return labelSheetPath(id)
      },
    })
  })

  app.get(labelSheetPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { asking } = request
    const sheet = await findSheet(app.prisma, asking, request.params.id)
    const { units } = asking.coop
    const form = blankForm(ownSheetTyped(sheet, units))
    const page = sheetPage(form, { of: sheet, version: sheet.version, alone: units })
    return reply.page('labels/sheet', { ...page, ...(await lastChange(request, 'label-sheets', sheet.id)) })
  })

  app.post(
    labelSheetPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const { asking } = request
      const { id } = request.params
      await findSheet(app.prisma, asking, id)
      const alone = aloneIn(request.body, asking.coop.units)
      const form = readSheetForm(request.body, alone)
      return answerForm(reply, form, {
        show: async (form, status) => {
          const newest = await findSheet(app.prisma, asking, id)
          const version = status === 409 ? newest.version : versionOf(form)
          return reply.page('labels/sheet', sheetPage(form, { of: newest, version, alone }), { status })
        },
        act: async (transaction, values) => {
          await changeSheet(writingOf(request, transaction), id, versionOf(form), values)
          return labelSheetPath(id)
        },
      })
    },
  )

  app.get(labelSheetRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, name } = await findSheet(app.prisma, request.asking, request.params.id)
    const page = {
      goes: ['Labels that were printed on it stay as they are.'],
      action: labelSheetRemovalPath(id),
      back: { href: labelSheetPath(id), text: 'Keep it' },
    }
    return reply.page('coop/removal', { ...removalPage(name, page), place: 'shelf' })
  })

  app.post(labelSheetRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeSheet(writingOf(request, transaction), request.params.id)
      return labelSheetsPath()
    }),
  )

  app.get(
    labelTestPagePath(':id'),
    { ...only(mayLook, { heavy: true }), schema: { params: idParams } },
    async (request, reply) => {
      const { id, name, geometry, offset } = await findSheet(app.prisma, request.asking, request.params.id)
      const title = `Test page: ${name}`
      const pdf = await testSheet(geometry, { title, lang: 'en', created: app.clock.now(), offset })
      return sendPdf(reply, pdf, `test-page-${id}`)
    },
  )
}
