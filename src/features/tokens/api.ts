import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { nothing, only } from '../../web/answers.ts'
import { writingOf } from '../changes/index.ts'
import { mayHaveTokens } from './access.ts'
import { scopes } from './forms.ts'
import { listTokens, revokeToken } from './queries.ts'

const tags = ['tokens']

/** For programs: looking at one's tokens and taking them back. None is made by a call: a token shall not outlive itself. */
export const tokensApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const own = only(mayHaveTokens)

  app.get(
    '/api/tokens',
    {
      ...own,
      schema: {
        tags,
        summary: 'Your own tokens that were not taken back, the newest first, without their secrets',
        response: {
          200: z.object({
            tokens: z.array(
              z.object({
                id: z.string(),
                name: z.string(),
                scope: z.enum(scopes),
                createdAt: z.iso.datetime(),
                expiresAt: z.iso.datetime(),
                lastUsedAt: z.iso.datetime().nullable().describe('Noted every five minutes at most'),
              }),
            ),
          }),
        },
      },
    },
    async (request) => {
      const tokens = await listTokens(app.prisma, request.asking)
      return {
        tokens: tokens.map(({ createdAt, expiresAt, lastUsedAt, ...token }) => ({
          ...token,
          createdAt: createdAt.toISOString(),
          expiresAt: expiresAt.toISOString(),
          lastUsedAt: lastUsedAt?.toISOString() ?? null,
        })),
      }
    },
  )

  app.delete(
    '/api/tokens/:id',
    { ...own, schema: { tags, summary: 'Take a token back', params: idParams, response: { 204: nothing } } },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await revokeToken(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}
