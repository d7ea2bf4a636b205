import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { only } from '../../web/answers.ts'
import { mayHavePasskeys } from './access.ts'
import { listPasskeys } from './queries.ts'

/** For programs: looking at one's passkeys. They are added and removed in a browser, never by a token. */
export const passkeysApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(
    '/api/passkeys',
    {
      ...only(mayHavePasskeys),
      schema: {
        tags: ['passkeys'],
        summary: 'Your own passkeys, the newest first',
        response: {
          200: z.object({
            passkeys: z.array(
              z.object({
                id: z.string(),
                name: z.string(),
                createdAt: z.iso.datetime(),
                lastUsedAt: z.iso.datetime().nullable(),
              }),
            ),
          }),
        },
      },
    },
    async (request) => {
      const passkeys = await listPasskeys(app.prisma, request.asking)
      return {
        passkeys: passkeys.map(({ id, name, createdAt, lastUsedAt }) => ({
          id,
          name,
          createdAt: createdAt.toISOString(),
          lastUsedAt: lastUsedAt?.toISOString() ?? null,
        })),
      }
    },
  )
}
