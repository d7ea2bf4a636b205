import { fileURLToPath } from 'node:url'
import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { conflict, notFound } from '../../../src/errors.ts'
import { idParams } from '../../../src/ids.ts'
import { only } from '../../../src/web/answers.ts'
import { formModel, textField } from '../../../src/web/fields.ts'
import { blankForm, neededText, readForm, type TypedForm, typedBody, wholeNumber } from '../../../src/web/forms.ts'
import { mayLook } from '../../../src/web/roles.ts'

/** What to hand to testApp. */
export const crates = () => ({ routes: [crateRoutes], views: [fileURLToPath(new URL('views', import.meta.url))] })

/** A feature as small as can be, for tests of what every feature stands on: crates in the porch, kept as supplies. */
const crateRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const crateForm = z.object({
    name: neededText('Enter a name', 20),
    count: wholeNumber('Enter how many, like 3', 1, 99),
  })
  const page = (form: TypedForm) => ({
    title: 'Add crates',
    place: 'produce' as const,
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Name' }),
        count: textField(form, { name: 'count', label: 'How many' }),
      },
      form,
    ),
  })

  app.get('/crates', only(mayLook), async (_request, reply) => reply.page('crates/form', page(blankForm())))
  app.post('/crates', { ...only(mayLook), schema: { body: typedBody } }, async (request, reply) => {
    const form = readForm(crateForm, request.body)
    if (!form.ok) return reply.page('crates/form', page(form), { status: 422 })
    return reply.once(async (transaction) => {
      const id = app.newId()
      await transaction.supply.create({ data: supply(request.asking.coopId, id, form.values) })
      return `/crates/${id}`
    })
  })
  app.get('/crates/:id', { ...only(mayLook), schema: { params: idParams } }, async () => {
    throw notFound('this crate')
  })
  app.post('/crates/:id/broken', { ...only(mayLook), schema: { params: idParams } }, async () => {
    throw new Error('select secret from "Member" where path = /srv/private')
  })
  app.post('/crates/:id/taken', only(mayLook), async () => {
    throw conflict('Somebody took that crate.', { href: '/crates', text: 'See the crates' })
  })

  app.post(
    '/api/crates',
    {
      ...only(mayLook),
      schema: {
        summary: 'Add crates',
        body: z.strictObject({ name: z.string().min(1).max(20), count: z.int().min(1).max(99) }),
        response: { 201: z.object({ id: z.string(), count: z.int() }) },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const id = app.newId()
        await transaction.supply.create({ data: supply(request.asking.coopId, id, request.body) })
        return { status: 201, body: { id, count: request.body.count } }
      }),
  )
}

function supply(coopId: string, id: string, { name, count }: { name: string; count: number }) {
  return {
    coopId,
    id,
    key: `crate-${id}`,
    name,
    unit: 'crate',
    onHand: count,
    packSize: 1,
    packPriceMinor: 0,
    packsAtMost: 0,
  }
}
