import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { inTransaction } from '../../db/transaction.ts'
import { noteEvent } from '../../web/events.ts'
import { blankForm, readForm, refusedForm, typedBody } from '../../web/forms.ts'
import { beginSessionHere, giveToken } from '../../web/sessions/index.ts'
import { countTry, doorKey, forgetTries, waitInWords } from '../../web/tries.ts'
import { network } from '../accounts/index.ts'
import { kitchenPath } from '../kitchen/paths.ts'
import { pairForm } from './forms.ts'
import { codeHasher } from './hash.ts'
import { pairPage } from './pages.ts'
import { pairPath } from './paths.ts'
import { usePairing } from './queries.ts'

/** The door for a tablet: whoever has the code puts a screen here. Wrong codes are slowed by the address they come from. */
export const pairRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const open = { config: { open: true } }
  const hashOf = codeHasher(app)

  app.get(pairPath(), open, async (_request, reply) => reply.page('screens/pair', pairPage(blankForm())))

  app.post(pairPath(), { ...open, schema: { body: typedBody } }, async (request, reply) => {
    const form = readForm(pairForm, request.body)
    if (!form.ok) return reply.page('screens/pair', pairPage(form), { status: 422 })
    const noting = { now: app.clock.now(), newId: app.newId }
    const key = doorKey('pair', network(request.ip))
    const wait = await countTry(app.prisma, key, noting.now)
    if (wait > 0) {
      const problem = `Too many codes were wrong. Wait ${waitInWords(wait)}, then type it again`
      const page = pairPage(refusedForm(form, { code: problem }))
      return reply.header('retry-after', wait).page('screens/pair', page, { status: 429 })
    }
    const token = await inTransaction(app.prisma, async (transaction) => {
      const screen = await usePairing(transaction, hashOf(form.values.code), noting)
      if (screen === null) {
        const what = 'a code for a kitchen screen was typed that does not hold'
        await noteEvent(transaction, { kind: 'sign-in-failed', coopId: null, memberId: null, who: '', what }, noting)
        return null
      }
      await forgetTries(transaction, key)
      return beginSessionHere(request, transaction, { coopId: screen.coopId, memberId: null, device: screen.name })
    })
    if (token === null) {
      const problem = 'This code does not hold: it is another, was used, or is more than 10 minutes old'
      return reply.page('screens/pair', pairPage(refusedForm(form, { code: problem })), { status: 422 })
    }
    giveToken(reply, token, 'screen')
    return reply.redirect(kitchenPath(), 303)
  })
}
