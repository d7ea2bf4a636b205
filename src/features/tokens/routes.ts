import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { hashOfSecret, type NewSecret, randomSecret } from '../../web/sessions/index.ts'
import { forgetTold, tellAt, toldAt } from '../../web/told-once.ts'
import { writingOf } from '../changes/index.ts'
import { mayHaveTokens } from './access.ts'
import { tokensApi } from './api.ts'
import { tokenForm } from './forms.ts'
import { tokenPage, tokensPage } from './pages.ts'
import { tokenPath, tokenRemovalPath, tokensPath } from './paths.ts'
import { addToken, findToken, listTokens, revokeToken } from './queries.ts'

export type TokensOptions = { newSecret?: NewSecret }

/** @param options how secrets are made (by chance where not given) */
export const tokensRoutes: FastifyPluginAsync<TokensOptions> = async (plain, { newSecret = randomSecret }) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const own = only(mayHaveTokens)
  const one = { ...own, schema: { params: idParams } }
  await app.register(tokensApi)

  const pageOf = async (asking: Asking, form: TypedForm) =>
    tokensPage(await listTokens(app.prisma, asking), form, { now: app.clock.now(), coop: asking.coop })

  app.get(tokensPath(), own, async (request, reply) =>
    reply.page('tokens/list', await pageOf(request.asking, blankForm({ scope: 'read', days: '90' }))),
  )

  app.post(tokensPath(), { ...own, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(tokenForm, request.body), {
      show: async (form, status) => reply.page('tokens/list', await pageOf(request.asking, form), { status }),
      act: async (transaction, values) => {
        const secret = `glut_${newSecret()}`
        const id = await addToken(writingOf(request, transaction), { ...values, secretHash: hashOfSecret(secret) })
        // not set again when the same form is sent twice: then nothing was made anew
        tellAt(reply, tokenPath(id), secret)
        return tokenPath(id)
      },
    }),
  )

  app.get(tokenPath(':id'), one, async (request, reply) => {
    const token = await findToken(app.prisma, request.asking, request.params.id)
    const told = toldAt(request)
    const secret = told !== '' && hashOfSecret(told) === token.secretHash ? told : ''
    forgetTold(request, reply, tokenPath(token.id))
    return reply.page('tokens/one', tokenPage(token, secret, { now: app.clock.now(), coop: request.asking.coop }))
  })

  app.get(tokenRemovalPath(':id'), one, async (request, reply) => {
    const { id, name } = await findToken(app.prisma, request.asking, request.params.id)
    const page = {
      goes: ['Programs that call with it are refused from then on.'],
      action: tokenRemovalPath(id),
      back: { href: tokenPath(id), text: 'Keep it' },
    }
    return reply.page('coop/removal', { ...removalPage(`the token ${name}`, page), place: null })
  })

  app.post(tokenRemovalPath(':id'), one, async (request, reply) =>
    reply.once(async (transaction) => {
      await revokeToken(writingOf(request, transaction), request.params.id)
      return tokensPath()
    }),
  )
}
