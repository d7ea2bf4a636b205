import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { tellAt, toldAt } from '../../web/told-once.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepScreens } from './access.ts'
import { screensApi } from './api.ts'
import { type NewCode, randomCode } from './codes.ts'
import { screenForm } from './forms.ts'
import { codeHasher } from './hash.ts'
import { screenCodePage, screensPage } from './pages.ts'
import { pairRoutes } from './pair-routes.ts'
import { pairPath, screenCodePath, screenRemovalPath, screensPath } from './paths.ts'
import { addPairing, findPairing, findScreen, listScreens, removeScreen } from './queries.ts'

export type ScreensOptions = { newCode?: NewCode }

/** @param options how codes are made (by chance where not given) */
export const screensRoutes: FastifyPluginAsync<ScreensOptions> = async (plain, { newCode = randomCode }) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepScreens)
  const hashOf = codeHasher(app)
  await app.register(screensApi, { newCode })
  await app.register(pairRoutes)

  const pageOf = async (asking: Asking, form: TypedForm) =>
    screensPage(await listScreens(app.prisma, asking, app.clock.now()), form, asking.coop)

  app.get(screensPath(), keep, async (request, reply) =>
    reply.page('screens/list', await pageOf(request.asking, blankForm())),
  )

  app.post(screensPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(screenForm, request.body), {
      show: async (form, status) => reply.page('screens/list', await pageOf(request.asking, form), { status }),
      act: async (transaction, { name }) => {
        const code = newCode()
        const { id } = await addPairing(writingOf(request, transaction), { name, codeHash: hashOf(code) })
        tellAt(reply, screenCodePath(id), code)
        return screenCodePath(id)
      },
    }),
  )

  app.get(screenCodePath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const pairing = await findPairing(app.prisma, request.asking, request.params.id)
    const told = toldAt(request)
    // as long as it holds: whoever makes it may have to look twice on the way
    const code = told !== '' && hashOf(told) === pairing.codeHash ? told : ''
    const now = app.clock.now()
    const address = `${request.protocol}://${request.headers.host}${pairPath()}`
    return reply.page('screens/code', screenCodePage(pairing, code, { now, address, coop: request.asking.coop }))
  })

  app.get(screenRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, name } = await findScreen(app.prisma, request.asking, request.params.id)
    const page = {
      goes: [`${name} shows nothing any more from then on. What was ticked there stays ticked.`],
      action: screenRemovalPath(id),
      back: { href: screensPath(), text: 'Keep it' },
    }
    return reply.page('coop/removal', removalPage(`the screen ${name}`, page))
  })

  app.post(screenRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeScreen(writingOf(request, transaction), request.params.id)
      return screensPath()
    }),
  )
}
