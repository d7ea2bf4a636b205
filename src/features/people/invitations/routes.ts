import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import type { TransactionClient } from '../../../db/transaction.ts'
import { idParams } from '../../../ids.ts'
import { answerForm, only } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { blankForm, type ReadForm, readForm, refusedForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { hashOfSecret, type NewSecret } from '../../../web/sessions/index.ts'
import { forgetTold, tellAt, toldAt } from '../../../web/told-once.ts'
import { type Writing, writingOf } from '../../changes/index.ts'
import { mayKeepPeople } from '../access.ts'
import type { Post } from '../mail.ts'
import {
  invitationPath,
  invitationRemovalPath,
  invitationsPath,
  personInvitationPath,
  personResetPath,
} from '../paths.ts'
import { findPerson, listHouseholds } from '../queries.ts'
import { hasPassword, type PasswordAgain, passwordAgain } from '../stewards.ts'
import { invitationForm, memberInvitationForm, NEW_HOUSEHOLD, resetForm } from './forms.ts'
import { linkFor } from './link.ts'
import { messageFor } from './message.ts'
import {
  invitationPage,
  invitationRemovalPage,
  invitationsPage,
  memberInvitationPage,
  type Offers,
  resetPage,
} from './pages.ts'
import {
  beginReset,
  findInvitation,
  type Invitation,
  inviteMember,
  inviteSomebody,
  isHashOf,
  listInvitations,
  noteMailing,
  type Sealed,
  takeBackInvitation,
} from './queries.ts'

/** @param options how secrets are made, and who carries mail (null: nobody) */
export const invitationsRoutes: FastifyPluginAsync<{ newSecret: NewSecret; post: Post | null }> = async (
  plain,
  { newSecret, post },
) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const { prisma, clock } = app
  const keep = only(mayKeepPeople)
  const withId = { ...keep, schema: { params: idParams } }

  /** Anybody may enter a demonstration: it must not be a way to send mail to anybody. */
  const mayMail = ({ coop }: Asking): boolean => post !== null && !coop.demonstration
  const offersOf = async (asking: Asking): Promise<Offers> => ({
    mail: mayMail(asking),
    asksPassword: await hasPassword(prisma, asking),
  })

  /** Answers a form that makes a link: shows it on its own page afterwards, once, and sends it where that was wished. */
  async function answerMaking<V extends { mail: string | null; password: string }>(
    request: FastifyRequest,
    reply: FastifyReply,
    form: ReadForm<V>,
    does: {
      show(form: TypedForm, status: number): Promise<FastifyReply>
      make(writing: Writing, values: V, sealed: Sealed, again: PasswordAgain): Promise<Invitation>
    },
  ): Promise<FastifyReply> {
    const { asking } = request
    const again = await passwordAgain(request, form.ok ? form.values.password : '')
    const to = form.ok && mayMail(asking) ? form.values.mail : null
    let made: { invitation: Invitation; link: string } | null = null
    const act = async (transaction: TransactionClient, values: V): Promise<string> => {
      const secret = newSecret()
      const sealed = { secretHash: hashOfSecret(secret), byMail: to !== null }
      const invitation = await does.make(writingOf(request, transaction), values, sealed, again)
      made = { invitation, link: linkFor(request, invitation.kind, secret) }
      // not set again when the same form is sent twice: then nothing was made anew
      tellAt(reply, invitationPath(invitation.id), secret)
      return invitationPath(invitation.id)
    }
    await answerForm(reply, form, { show: does.show, act })
    if (made !== null && to !== null && post !== null && reply.statusCode === 303) send(post, made, to, asking)
    return reply
  }

  function send(
    by: Post,
    { invitation, link }: { invitation: Invitation; link: string },
    to: string,
    asking: Asking,
  ): void {
    by.send(messageFor(invitation, link, to, asking.coop), (state) => noteMailing(prisma, asking, invitation.id, state))
  }

  async function listPage(asking: Asking, form: TypedForm) {
    return invitationsPage(
      await listInvitations(prisma, asking, clock.now()),
      await listHouseholds(prisma, asking),
      form,
      await offersOf(asking),
      asking.coop,
    )
  }

  app.get(invitationsPath(), keep, async ({ asking }, reply) =>
    reply.page('people/invitations', await listPage(asking, blankForm({ role: 'member', days: '7' }))),
  )

  app.post(invitationsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const { asking, body } = request
    const households = await listHouseholds(prisma, asking)
    const read = readForm(invitationForm(households.map(({ id }) => id)), body)
    const nameless = read.ok && read.values.household === null && read.values.newHousehold === null
    const form = nameless ? refusedForm(read, { newHousehold: 'Enter the new household’s name' }) : read
    return answerMaking(request, reply, form, {
      show: async (shown, status) => reply.page('people/invitations', await listPage(asking, shown), { status }),
      make: (writing, { forName, role, household, newHousehold, days }, sealed, again) => {
        const into = household === null ? { name: newHousehold ?? NEW_HOUSEHOLD } : { id: household }
        return inviteSomebody(writing, { forName, role, household: into, days }, sealed, again)
      },
    })
  })

  app.get(personInvitationPath(':id'), withId, async ({ asking, params }, reply) => {
    const person = await findPerson(prisma, asking, params.id)
    const page = memberInvitationPage(person, blankForm({ days: '7' }), await offersOf(asking))
    return reply.page('people/member-invitation', page)
  })

  app.post(
    personInvitationPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const { asking, body, params } = request
      return answerMaking(request, reply, readForm(memberInvitationForm, body), {
        show: async (form, status) => {
          const person = await findPerson(prisma, asking, params.id)
          return reply.page('people/member-invitation', memberInvitationPage(person, form, await offersOf(asking)), {
            status,
          })
        },
        make: (writing, { days }, sealed, again) => inviteMember(writing, params.id, days, sealed, again),
      })
    },
  )

  app.get(personResetPath(':id'), withId, async ({ asking, params }, reply) => {
    const person = await findPerson(prisma, asking, params.id)
    return reply.page('people/new-password', resetPage(person, blankForm(), await offersOf(asking)))
  })

  app.post(
    personResetPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const { asking, body, params } = request
      return answerMaking(request, reply, readForm(resetForm, body), {
        show: async (form, status) => {
          const person = await findPerson(prisma, asking, params.id)
          return reply.page('people/new-password', resetPage(person, form, await offersOf(asking)), { status })
        },
        make: (writing, _values, sealed, again) => beginReset(writing, params.id, sealed, again),
      })
    },
  )

  app.get(invitationPath(':id'), withId, async (request, reply) => {
    const { asking, params } = request
    const invitation = await findInvitation(prisma, asking, params.id, clock.now())
    const secret = toldAt(request)
    forgetTold(request, reply, invitationPath(params.id))
    const isNew = invitation.state === 'open' && (await isHashOf(prisma, asking, params.id, hashOfSecret(secret)))
    const link = isNew ? linkFor(request, invitation.kind, secret) : null
    return reply.page('people/invitation', invitationPage(invitation, link, asking.coop))
  })

  app.get(invitationRemovalPath(':id'), withId, async ({ asking, params }, reply) =>
    reply.page('coop/removal', invitationRemovalPage(await findInvitation(prisma, asking, params.id, clock.now()))),
  )

  app.post(invitationRemovalPath(':id'), withId, async (request, reply) =>
    reply.once(async (transaction) => {
      await takeBackInvitation(writingOf(request, transaction), request.params.id)
      return invitationsPath()
    }),
  )
}
