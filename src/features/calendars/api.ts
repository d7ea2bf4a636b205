import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { nothing, only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepCalendars } from './access.ts'
import { listCalendars, revokeCalendar } from './queries.ts'

const calendarAnswer = z.object({
  id: z.string(),
  helperId: z.string().nullable().describe('null: slow jobs'),
  helperName: z.string().nullable(),
  madeBy: z.string(),
  createdAt: z.iso.datetime(),
  revokedAt: z.iso.datetime().nullable(),
  readAt: z.iso.datetime().nullable().describe('When a calendar program last read it'),
})

/**
 * The same as the pages, for programs, save making an address: the answer of a call is kept to be told again, and a
 * secret may not be kept.
 */
export const calendarsApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['calendars']

  app.get(
    '/api/calendars',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Addresses for calendar programs, the newest first, without their secrets',
        response: { 200: z.object({ calendars: z.array(calendarAnswer) }) },
      },
    },
    async (request) => {
      const links = await listCalendars(app.prisma, request.asking)
      return {
        calendars: links.map((link) => ({
          ...link,
          createdAt: link.createdAt.toISOString(),
          revokedAt: link.revokedAt?.toISOString() ?? null,
          readAt: link.readAt?.toISOString() ?? null,
        })),
      }
    },
  )

  app.delete(
    '/api/calendars/:id',
    {
      ...only(mayKeepCalendars),
      schema: { tags, summary: 'Take an address back', params: idParams, response: { 204: nothing } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await revokeCalendar(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
