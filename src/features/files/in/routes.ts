import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { answerForm, only } from '../../../web/answers.ts'
import { blankForm, type ReadForm, refusedForm, type TypedForm } from '../../../web/forms.ts'
import { writingOf } from '../../changes/index.ts'
import { mayBringIn } from '../access.ts'
import { type TableIn, tablesIn } from '../columns.ts'
import { csvImportPath, filesPath } from '../paths.ts'
import { bringIn, lookAt } from './bring.ts'
import { MOST_BYTES, MOST_CHARACTERS } from './lines.ts'
import { importPage } from './pages.ts'

// A table is longer than any field that people type, so that the schema of other forms does not fit it.
const tableBody = z.looseObject({
  table: z.string().default(''),
  does: z.string().max(20).default('look'),
  seen: z.string().max(64).default(''),
})

export const importRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const mayDo = only(mayBringIn, { bulk: true })

  for (const table of tablesIn) {
    app.get(csvImportPath(table), mayDo, async (request, reply) =>
      reply.page('files/import', importPage(table, blankForm({ table: '' }), null, request.asking.coop)),
    )

    app.post(
      csvImportPath(table),
      { ...mayDo, bodyLimit: MOST_BYTES, schema: { body: tableBody } },
      async (request, reply) => {
        const { table: text, does, seen } = request.body
        const form = readTable(text)
        if (!form.ok || does !== 'bring') return showLooked(request, reply, table, form, form.ok ? 200 : 422)
        return answerForm(reply, form, {
          show: (shown, status) => showLooked(request, reply, table, shown, status),
          act: async (transaction, { text: given }) => {
            const today = todayIn(app.clock, request.asking.coop.timeZone)
            await bringIn(writingOf(request, transaction), { table, text: given, today, seen })
            return filesPath()
          },
        })
      },
    )
  }
}

/** Shows the table with what each line would do as things are now; 422 where a line has a fault. */
async function showLooked(
  request: FastifyRequest,
  reply: FastifyReply,
  table: TableIn,
  form: TypedForm,
  status: number,
) {
  const { asking, server } = request
  const text = String(form.typed['table'] ?? '')
  if (form.errors['table'] !== undefined) {
    return reply.page('files/import', importPage(table, form, null, asking.coop), { status })
  }
  const today = todayIn(server.clock, asking.coop.timeZone)
  const looked = await lookAt(server.prisma, asking, { table, text, today })
  const shown =
    looked.faults > 0 && Object.keys(form.errors).length === 0
      ? refusedForm(form, { table: 'Some lines cannot be brought in: they are named below' })
      : form
  return reply.page('files/import', importPage(table, shown, looked, asking.coop), {
    status: looked.faults > 0 && status === 200 ? 422 : status,
  })
}

function readTable(table: string): ReadForm<{ text: string }> {
  const typed = { table }
  if (table.trim() === '') return { ...refusedForm(blankForm(typed), { table: 'Paste a table, or choose a file' }) }
  if (table.length > MOST_CHARACTERS)
    return refusedForm(blankForm(typed), {
      table: `Use ${MOST_CHARACTERS} characters or fewer: bring the table in in parts`,
    })
  return { ok: true, typed, errors: {}, values: { text: table } }
}
