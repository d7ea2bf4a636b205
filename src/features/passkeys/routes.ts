import { generateRegistrationOptions, verifyRegistrationResponse } from '@simplewebauthn/server'
import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { forbidden, refused } from '../../errors.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, refuseProblems } from '../../web/answers.ts'
import { blankForm, readForm, refusedForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { ownPasswordProblem } from '../accounts/index.ts'
import { writingOf } from '../changes/index.ts'
import { mayHavePasskeys } from './access.ts'
import { passkeysApi } from './api.ts'
import { giveChallenge, type Purpose, takeChallenge } from './challenge.ts'
import { passkeyDoorRoutes } from './door-routes.ts'
import { answerBody, madeAnswer, passkeyForm, proofForm, readAnswer } from './forms.ts'
import { passkeysPage } from './pages.ts'
import { partyOf } from './party.ts'
import { passkeyOptionsPath, passkeyRemovalPath, passkeysPath } from './paths.ts'
import { addPasskey, findHolder, findPasskey, isOnlyWayIn, listPasskeys, onlyWayIn, removePasskey } from './queries.ts'

/** Adding passkeys and removing them; signing in by one is in door-routes. */
export const passkeysRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const own = only(mayHavePasskeys)
  const one = { ...own, schema: { params: idParams } }
  await app.register(passkeysApi)
  await app.register(passkeyDoorRoutes)

  const pageOf = async ({ asking }: FastifyRequest, form: TypedForm) =>
    passkeysPage(await listPasskeys(app.prisma, asking), await findHolder(app.prisma, asking), form, {
      script: app.assets.passkeys,
      coop: asking.coop,
    })

  app.get(passkeysPath(), own, async (request, reply) =>
    reply.page('passkeys/list', await pageOf(request, blankForm())),
  )

  // asked by script before the browser makes a passkey: who asks proves again who they are, and gets a challenge
  app.post(passkeyOptionsPath(), { ...own, schema: { body: typedBody } }, async (request, reply) => {
    const holder = await findHolder(app.prisma, request.asking)
    if (holder === null) throw forbidden('Passkeys are for members with an account.')
    const form = readForm(passkeyForm.extend(proofForm.shape), request.body)
    if (!form.ok) throw refused(Object.values(form.errors).join('. '), { ...form.errors })
    const problem = await ownPasswordProblem(request, form.values.password ?? '')
    refuseProblems(problem === null ? {} : { password: problem })
    const party = partyOf(request)
    const made = await generateRegistrationOptions({
      rpID: party.id,
      rpName: party.name,
      userID: new TextEncoder().encode(holder.handle),
      userName: holder.signInName,
      userDisplayName: request.asking.name,
      attestationType: 'none',
      excludeCredentials: (await listPasskeys(app.prisma, request.asking)).map(({ credentialId: id }) => ({ id })),
      authenticatorSelection: { residentKey: 'required', userVerification: 'preferred' },
    })
    giveChallenge(reply, purposeOf(request), made.challenge)
    return reply.send(made)
  })

  app.post(passkeysPath(), { ...own, schema: { body: answerBody } }, async (request, reply) => {
    const form = readForm(passkeyForm, { name: request.body.name })
    const challenge = await takeChallenge(request, reply, purposeOf(request))
    const response = readAnswer(madeAnswer, request.body.answer)
    const party = partyOf(request)
    const made =
      challenge === null || response === null
        ? null
        : await verifyRegistrationResponse({
            response,
            expectedChallenge: challenge,
            expectedOrigin: party.origin,
            expectedRPID: party.id,
            requireUserVerification: false,
          }).catch((error: Error) => {
            request.log.info({ reason: error.message }, 'a passkey was not accepted')
            return null
          })
    const shown = made?.verified ? form : refusedForm(form, { '': notAccepted })
    return answerForm(reply, shown, {
      show: async (typed, status) => reply.page('passkeys/list', await pageOf(request, typed), { status }),
      act: async (transaction, { name }) => {
        if (!made?.verified) throw refused(notAccepted)
        await addPasskey(writingOf(request, transaction), { name, credential: made.registrationInfo.credential })
        return passkeysPath()
      },
    })
  })

  app.get(passkeyRemovalPath(':id'), one, async (request, reply) => {
    const { id, name } = await findPasskey(app.prisma, request.asking, request.params.id)
    const page = {
      goes: [`Nobody signs in with it any more. The device itself keeps its part: remove ${name} there as well.`],
      stays: (await isOnlyWayIn(app.prisma, request.asking)) ? [onlyWayIn] : [],
      action: passkeyRemovalPath(id),
      back: { href: passkeysPath(), text: 'Keep it' },
    }
    return reply.page('coop/removal', { ...removalPage(`the passkey ${name}`, page), place: null })
  })

  app.post(passkeyRemovalPath(':id'), one, async (request, reply) =>
    reply.once(async (transaction) => {
      await removePasskey(writingOf(request, transaction), request.params.id)
      return passkeysPath()
    }),
  )
}

const notAccepted =
  'The passkey was not accepted: it took longer than 5 minutes, or was asked for elsewhere. Try again.'

/** A challenge for adding holds for the session that it was asked in. */
function purposeOf({ asking: { via } }: FastifyRequest): Purpose {
  if (via.kind !== 'session') throw forbidden('Passkeys are added in a browser.')
  return `add ${via.id}`
}
