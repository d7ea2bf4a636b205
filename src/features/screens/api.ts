import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { callText, nothing, only } from '../../web/answers.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepScreens } from './access.ts'
import type { NewCode } from './codes.ts'
import { screenNameMost } from './forms.ts'
import { codeHasher } from './hash.ts'
import { addPairing, listScreens, removeScreen } from './queries.ts'

const tags = ['screens']

/** The same as the pages, for programs. */
export const screensApi: FastifyPluginAsync<{ newCode: NewCode }> = async (plain, { newCode }) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepScreens)
  const hashOf = codeHasher(app)

  app.get(
    '/api/screens',
    {
      ...keep,
      schema: {
        tags,
        summary: 'The kitchen screens that are paired',
        response: {
          200: z.object({
            screens: z.array(
              z.object({
                id: z.string(),
                name: z.string(),
                since: z.iso.datetime(),
                lastUsedAt: z.iso.datetime().describe('Noted every five minutes at most'),
              }),
            ),
          }),
        },
      },
    },
    async (request) => {
      const screens = await listScreens(app.prisma, request.asking, app.clock.now())
      return {
        screens: screens.map(({ since, lastUsedAt, ...screen }) => ({
          ...screen,
          since: since.toISOString(),
          lastUsedAt: lastUsedAt.toISOString(),
        })),
      }
    },
  )

  app.post(
    '/api/screens',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Make a code for a new screen, to be typed at /pair on the tablet',
        body: z.strictObject({ name: callText(screenNameMost) }),
        response: {
          201: z.object({
            id: z.string(),
            expiresAt: z.iso.datetime(),
            code: z.string().optional().describe('Told once: a repeat with the same Idempotency-Key has none.'),
          }),
        },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const code = newCode()
        const { name } = request.body
        const made = await addPairing(writingOf(request, transaction), { name, codeHash: hashOf(code) })
        return { status: 201, body: { id: made.id, expiresAt: made.expiresAt.toISOString() }, once: { code } }
      }),
  )

  app.delete(
    '/api/screens/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Remove a screen: it shows nothing any more',
        params: idParams,
        response: { 204: nothing },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await removeScreen(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
