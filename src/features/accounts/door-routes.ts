import type { FastifyPluginAsync, FastifyReply } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { inTransaction } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { only } from '../../web/answers.ts'
import { safeNext } from '../../web/door.ts'
import { noteEvent } from '../../web/events.ts'
import { blankForm, readForm, refusedForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { hasCoop } from '../../web/queries.ts'
import { mayBeThere } from '../../web/roles.ts'
import {
  beginSessionHere,
  endSession,
  giveToken,
  isSignedOutHere,
  takeToken,
  tokenHere,
} from '../../web/sessions/index.ts'
import { waitInWords } from '../../web/tries.ts'
import { passkeyDoorOptionsPath, passkeyDoorPath } from '../passkeys/paths.ts'
import { pairPath } from '../screens/paths.ts'
import { doorPage } from './door-page.ts'
import { demonstrationForm, signInForm } from './forms.ts'
import { demonstrationPath, doorPath, setUpPath, signOutPath } from './paths.ts'
import { type DemonstrationMember, dropOldDemonstrationSessions, listDemonstrationMembers } from './queries.ts'
import { hasUsableCode } from './set-up/queries.ts'
import { signIn } from './signing-in.ts'

/** Signing in and out, and entering the demonstration. */
export const doorRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const open = { config: { open: true } }

  /** With DEMO=no a demonstration that is there from before is closed. */
  const demonstrationMembers = async (): Promise<DemonstrationMember[]> =>
    app.settings.demo ? listDemonstrationMembers(app.prisma) : []

  const showDoor = async (reply: FastifyReply, form: TypedForm, next: string, status = 200) =>
    reply.page(
      'accounts/sign-in',
      {
        ...doorPage(form, next, {
          members: await demonstrationMembers(),
          canSetUp: await hasUsableCode(app.prisma, app.clock.now()),
          signedOut: await isSignedOutHere(reply.request),
        }),
        passkey: { action: passkeyDoorPath(), options: passkeyDoorOptionsPath(), script: app.assets.passkeys },
        pair: pairPath(),
      },
      { status },
    )

  app.get(
    doorPath(),
    { ...open, schema: { querystring: z.object({ next: z.unknown().optional() }) } },
    async (request, reply) => {
      if (!(await hasCoop(app.prisma))) return reply.redirect(setUpPath(), 303)
      return showDoor(reply, blankForm(), safeNext(request.query.next))
    },
  )

  app.post(doorPath(), { ...open, schema: { body: typedBody } }, async (request, reply) => {
    const next = safeNext(request.body['next'])
    const form = readForm(signInForm, request.body)
    if (!form.ok) return showDoor(reply, form, next, 422)
    const came = await signIn(request, form.values)
    if (came.kind === 'wrong') {
      const problem = 'The name or the password is not right. Look whether capitals are on, and try again.'
      return showDoor(reply, refusedForm(form, { '': problem }), next, 422)
    }
    if (came.kind === 'wait') {
      reply.header('retry-after', came.seconds)
      const problem = `There were too many wrong tries for this name or from this address. Wait ${waitInWords(came.seconds)}, then try again: until then the right password does not help either.`
      return showDoor(reply, refusedForm(form, { '': problem }), next, 429)
    }
    giveToken(reply, came.token)
    return reply.redirect(next, 303)
  })

  app.post(demonstrationPath(), { ...open, schema: { body: demonstrationForm } }, async (request, reply) => {
    const member = (await demonstrationMembers()).find(({ id }) => id === request.body.member)
    if (member === undefined) throw notFound('such member of a demonstration')
    const token = await inTransaction(app.prisma, async (transaction) => {
      const who = { coopId: member.coop.id, memberId: member.id }
      await dropOldDemonstrationSessions(transaction, member.coop.id)
      return beginSessionHere(request, transaction, who)
    })
    giveToken(reply, token)
    return reply.redirect(safeNext(request.body.next), 303)
  })

  app.post(signOutPath(), { ...only(mayBeThere), schema: { body: typedBody } }, async (request, reply) => {
    const { coopId, name: who, memberId } = request.asking
    const event = { kind: 'signed-out', coopId, memberId, who, what: 'signed out' } as const
    const token = tokenHere(request)
    await inTransaction(app.prisma, async (transaction) => {
      if (token !== null) await endSession(transaction, token)
      await noteEvent(transaction, event, { now: app.clock.now(), newId: app.newId })
    })
    takeToken(reply)
    return reply.redirect(doorPath(), 303)
  })
}
