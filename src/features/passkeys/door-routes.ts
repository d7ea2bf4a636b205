import { generateAuthenticationOptions, verifyAuthenticationResponse } from '@simplewebauthn/server'
import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { inTransaction } from '../../db/transaction.ts'
import { safeNext, signInPath } from '../../web/door.ts'
import { noteEvent } from '../../web/events.ts'
import { typedBody } from '../../web/forms.ts'
import { beginSessionHere, giveToken } from '../../web/sessions/index.ts'
import { giveChallenge, takeChallenge } from './challenge.ts'
import { answerBody, readAnswer, usedAnswer } from './forms.ts'
import { partyOf } from './party.ts'
import { passkeyDoorOptionsPath, passkeyDoorPath } from './paths.ts'
import { type Credential, findCredential, noteUse } from './queries.ts'

/** Signing in by passkey: the browser finds the right one, nobody types a name. */
export const passkeyDoorRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const open = { config: { open: true } }

  // asked by script before the browser uses a passkey
  app.post(passkeyDoorOptionsPath(), { ...open, schema: { body: typedBody } }, async (request, reply) => {
    const made = await generateAuthenticationOptions({ rpID: partyOf(request).id, userVerification: 'preferred' })
    giveChallenge(reply, 'in', made.challenge)
    return reply.send(made)
  })

  app.post(passkeyDoorPath(), { ...open, schema: { body: answerBody } }, async (request, reply) => {
    const next = safeNext(request.body.next)
    const challenge = await takeChallenge(request, reply, 'in')
    const used = challenge === null ? null : await verified(request, challenge)
    const noting = { now: app.clock.now(), newId: app.newId }
    const token =
      used === null
        ? null
        : await inTransaction(app.prisma, async (transaction) => {
            const { credential, newCounter } = used
            if (!(await noteUse(transaction, credential, newCounter, noting.now))) return null
            const { coopId, memberId, memberName: who } = credential
            const event = { kind: 'signed-in', coopId, memberId, who, what: 'signed in by passkey' } as const
            await noteEvent(transaction, event, noting)
            return beginSessionHere(request, transaction, { coopId, memberId })
          })
    if (token === null) {
      const page = { title: 'Not signed in', place: null, again: signInPath(next) }
      return reply.page('passkeys/refused', page, { status: 422 })
    }
    giveToken(reply, token)
    return reply.redirect(next, 303)
  })
}

/** The credential that answered the challenge, and its new counter; null where the answer is not right. */
async function verified(
  request: FastifyRequest<{ Body: { answer: string } }>,
  challenge: string,
): Promise<{ credential: Credential; newCounter: number } | null> {
  const { server, log } = request
  const response = readAnswer(usedAnswer, request.body.answer)
  const credential = response === null ? null : await findCredential(server.prisma, response.id)
  if (response === null || credential === null) return null
  const { userHandle } = response.response
  const isTheirs = userHandle === undefined || Buffer.from(userHandle, 'base64url').toString() === credential.handle
  const party = partyOf(request)
  const answer = await verifyAuthenticationResponse({
    response,
    expectedChallenge: challenge,
    expectedOrigin: party.origin,
    expectedRPID: party.id,
    credential: { id: credential.id, publicKey: credential.publicKey, counter: credential.counter },
    requireUserVerification: false,
  }).catch((error: Error) => {
    log.info({ reason: error.message }, 'a passkey was not accepted')
    return null
  })
  if (answer?.verified === true && isTheirs) {
    return { credential, newCounter: answer.authenticationInfo.newCounter }
  }
  const { coopId, memberName } = credential
  const what = `a passkey of ${memberName} that was not right`
  const event = { kind: 'sign-in-failed', coopId, memberId: null, who: '', what } as const
  await noteEvent(server.prisma, event, { now: server.clock.now(), newId: server.newId })
  return null
}
