import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { eventKinds } from '../../web/events.ts'
import { mayLook } from '../../web/roles.ts'
import { mayReadEvents } from './access.ts'
import { auditPage, cursorText } from './pages.ts'
import { auditPath } from './paths.ts'
import { CHANGES, type Cursor, listEntries } from './queries.ts'

const PAGE = 50

/** '' (the form's "everything") reads as none. */
const kind = z.union([z.literal('').transform(() => undefined), z.enum([CHANGES, ...eventKinds])]).optional()
const before = z
  .string()
  .regex(/^\d{1,14}-[a-z0-9-]{1,40}$/)
  .transform((text): Cursor => {
    const dash = text.indexOf('-')
    return { at: new Date(Number(text.slice(0, dash))), id: text.slice(dash + 1) }
  })
  .optional()

const entryAnswer = z.object({
  id: z.string(),
  at: z.iso.datetime(),
  kind: z.string().describe('"changes" for what was changed in the co-op’s things'),
  noun: z.string().nullable().describe('Of a change: what kind of thing'),
  who: z.string(),
  what: z.string(),
})

/**
 * What happened in the co-op: the history of changes to everybody, and to stewards what happened at the door and with
 * people's rights as well.
 */
export const auditRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  const entriesOf = (asking: Asking, query: { kind?: string | undefined; before?: Cursor | undefined }) =>
    listEntries(app.prisma, asking, {
      kind: query.kind ?? null,
      before: query.before ?? null,
      events: mayReadEvents(asking),
      most: PAGE,
    })

  app.get(
    auditPath(),
    { ...only(mayLook), schema: { querystring: z.object({ kind, before }) } },
    async ({ asking, query }, reply) => {
      const asked = { kind: query.kind ?? null, before: query.before !== undefined }
      return reply.page('audit/list', auditPage(await entriesOf(asking, query), asked, asking))
    },
  )

  app.get(
    '/api/audit',
    {
      ...only(mayLook),
      schema: {
        tags: ['audit'],
        summary: 'What happened, newest first; to others than stewards only what was changed in the co-op’s things',
        querystring: z.object({
          kind: z.enum([CHANGES, ...eventKinds]).optional(),
          before: z
            .string()
            .regex(/^\d{1,14}-[a-z0-9-]{1,40}$/)
            .optional()
            .describe('What `older` of the answer before says'),
        }),
        response: {
          200: z.object({
            entries: z.array(entryAnswer),
            older: z.string().nullable().describe('Give it as `before` for older entries; null: there are none'),
          }),
        },
      },
    },
    async ({ asking, query }) => {
      const { entries, more } = await entriesOf(asking, { kind: query.kind, before: before.parse(query.before) })
      const last = entries.at(-1)
      return {
        entries: entries.map((entry) => ({ ...entry, at: entry.at.toISOString() })),
        older: more && last !== undefined ? cursorText(last) : null,
      }
    },
  )
}
