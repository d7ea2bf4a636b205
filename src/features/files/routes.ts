import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange } from '../changes/index.ts'
import { type Table, tables } from './columns.ts'
import { importRoutes } from './in/routes.ts'
import { csvStream } from './out/stream.ts'
import { filesPage } from './pages.ts'
import { csvPath, filesPath } from './paths.ts'

const csvQuery = z.object({
  mark: z.enum(['yes', 'no']).default('no').describe('Whether a byte order mark comes first'),
})

/** Tables to take out and to bring in. */
export const filesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(filesPath(), only(mayLook), async (request, reply) =>
    reply.page('files/list', { ...filesPage(), ...(await lastChange(request, 'table')) }),
  )

  for (const table of tables) {
    const summary = `The table of ${table} as CSV (RFC 4180, UTF-8)`
    app.get(
      csvPath(table),
      { ...only(mayLook, { heavy: true }), schema: { querystring: csvQuery } },
      async (request, reply) => sendCsv(request, reply, table, request.query.mark === 'yes'),
    )
    app.get(
      `/api${csvPath(table)}`,
      { ...only(mayLook, { heavy: true }), schema: { tags: ['files'], summary, querystring: csvQuery } },
      async (request, reply) => sendCsv(request, reply, table, request.query.mark === 'yes'),
    )
  }

  await app.register(importRoutes)
}

function sendCsv({ server, asking }: FastifyRequest, reply: FastifyReply, table: Table, mark: boolean): FastifyReply {
  return reply
    .type('text/csv; charset=utf-8; header=present')
    .header('content-disposition', `attachment; filename="${table}.csv"`)
    .send(csvStream(server.prisma, asking, table, { mark }))
}
