import type { FastifyPluginAsync, FastifyReply } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { inTransaction } from '../../../db/transaction.ts'
import { Failure } from '../../../errors.ts'
import { blankForm, readForm, refusedForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { beginSessionHere, giveToken, hashOfSecret } from '../../../web/sessions/index.ts'
import { hashPassword, passwordProblem } from '../../accounts/index.ts'
import { joinPath, resetPath } from '../paths.ts'
import { joinForm, newPasswordForm } from './forms.ts'
import { joinPage, newPasswordPage } from './pages.ts'
import { chooseNewPassword, findLink, join, type OpenLink } from './queries.ts'

/**
 * What whoever has a secret opens: joining, and choosing a new password. Opening uses nothing up. The secret stands in
 * the address, so no page that is gone to from here is told it; the host is (and no more), since browsers send forms
 * of a page that tells nothing as if they came from nowhere.
 */
export const linkRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const { prisma, clock, newId } = app
  const noting = () => ({ now: clock.now(), newId })
  // any text is looked up, so that what cannot be a secret is answered as one that never was
  const open = { config: { open: true }, schema: { params: z.object({ secret: z.string() }) } }
  const openForm = { ...open, schema: { ...open.schema, body: typedBody } }

  app.addHook('onRequest', async (_request, reply) => {
    reply.header('referrer-policy', 'strict-origin')
  })

  app.get(joinPath(':secret'), open, async ({ params }, reply) => {
    const link = await findLink(prisma, 'join', hashOfSecret(params.secret), clock.now())
    return reply.page('people/join', joinPage(link, params.secret, blankForm()))
  })

  app.post(joinPath(':secret'), openForm, async (request, reply) => {
    const { secret } = request.params
    const link = await findLink(prisma, 'join', hashOfSecret(secret), clock.now())
    const show = (form: TypedForm, status: number) =>
      reply.page('people/join', joinPage(link, secret, form), { status })
    const form = readForm(joinForm(link.member?.name ?? null), request.body)
    if (!form.ok) return show(form, 422)
    const { name, signInName, mail, newPassword } = form.values
    const problem = passwordProblem(newPassword, nearTo(link, [name, signInName, mail ?? '']))
    if (problem !== null) return show(refusedForm(form, { newPassword: problem }), 422)
    const passwordHash = await hashPassword(newPassword)
    return answer(
      reply,
      form,
      show,
      async () => {
        const token = await inTransaction(prisma, async (transaction) => {
          const entering = await join(transaction, link, { name, signInName, mail, passwordHash }, noting())
          return beginSessionHere(request, transaction, entering)
        })
        giveToken(reply, token)
      },
      '/',
    )
  })

  app.get(resetPath(':secret'), open, async ({ params }, reply) => {
    const link = await findLink(prisma, 'reset', hashOfSecret(params.secret), clock.now())
    return reply.page('people/choose-password', newPasswordPage(link, params.secret, blankForm()))
  })

  app.post(resetPath(':secret'), openForm, async (request, reply) => {
    const { secret } = request.params
    const link = await findLink(prisma, 'reset', hashOfSecret(secret), clock.now())
    const show = (form: TypedForm, status: number) =>
      reply.page('people/choose-password', newPasswordPage(link, secret, form), { status })
    const form = readForm(newPasswordForm, request.body)
    if (!form.ok) return show(form, 422)
    const { newPassword } = form.values
    const problem = passwordProblem(newPassword, nearTo(link, [link.member?.name ?? '', link.signInName ?? '']))
    if (problem !== null) return show(refusedForm(form, { newPassword: problem }), 422)
    const passwordHash = await hashPassword(newPassword)
    await inTransaction(prisma, (transaction) => chooseNewPassword(transaction, link, passwordHash, noting()))
    return reply.redirect('/sign-in', 303)
  })
}

/** What somebody who guesses would try for this person first. */
function nearTo({ coop }: OpenLink, names: readonly string[]): string[] {
  return [...names, coop.name]
}

/** Leads on when the work is done; what it refuses by field is shown at its field, and everything typed is kept. */
async function answer(
  reply: FastifyReply,
  form: TypedForm,
  show: (form: TypedForm, status: number) => FastifyReply,
  work: () => Promise<void>,
  onward: string,
): Promise<FastifyReply> {
  try {
    await work()
  } catch (error) {
    if (!(error instanceof Failure) || error.meaning !== 'refused') throw error
    return show(refusedForm(form, { ...error.fields }), 422)
  }
  return reply.redirect(onward, 303)
}
