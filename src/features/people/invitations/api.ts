import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams, idText } from '../../../ids.ts'
import { callText, nothing, only } from '../../../web/answers.ts'
import { personRoles } from '../../../web/roles.ts'
import { hashOfSecret, type NewSecret } from '../../../web/sessions/index.ts'
import { type Writing, writingOf } from '../../changes/index.ts'
import { mayKeepPeople } from '../access.ts'
import { passwordAgain } from '../stewards.ts'
import { linkFor } from './link.ts'
import {
  beginReset,
  type Invitation,
  inviteMember,
  inviteSomebody,
  listInvitations,
  type Sealed,
  takeBackInvitation,
} from './queries.ts'

const invitationAnswer = z.object({
  id: z.string(),
  kind: z.enum(['join', 'reset']),
  forName: z.string(),
  memberId: z.string().nullable().describe('null: somebody new'),
  role: z.enum(personRoles).nullable(),
  householdName: z.string().nullable(),
  madeBy: z.string(),
  madeAt: z.iso.datetime(),
  expiresAt: z.iso.datetime(),
  state: z.enum(['open', 'used', 'taken-back', 'over']),
  endedAt: z.iso.datetime().nullable().describe('When it was used or taken back'),
})
const madeAnswer = invitationAnswer.extend({
  link: z
    .string()
    .optional()
    .describe('The secret address, told with the first answer alone: a repeat with the same Idempotency-Key lacks it'),
})

const days = z.union([z.literal(1), z.literal(7), z.literal(30)]).describe('How long the link holds')
const forSomebody = { forName: callText(80), role: z.enum(personRoles), days }
const invitationBody = z.union([
  z.strictObject({ ...forSomebody, householdId: idText }).describe('Somebody new, into this household'),
  z.strictObject({ ...forSomebody, newHousehold: callText(80) }).describe('Somebody new, into a new household'),
  z.strictObject({ memberId: idText, days }).describe('A member who is there and has no account'),
])

/** The same as the pages, for programs; nothing is sent by mail from here. */
export const invitationsApi: FastifyPluginAsync<{ newSecret: NewSecret }> = async (plain, { newSecret }) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepPeople)
  const tags = ['people']

  /** Makes a link: what it answers is kept to be told again, the link itself is not. */
  async function made(
    request: FastifyRequest,
    make: (writing: Writing, sealed: Sealed) => Promise<Invitation>,
    transaction: Writing['transaction'],
  ) {
    const secret = newSecret()
    const sealed = { secretHash: hashOfSecret(secret), byMail: false }
    const invitation = await make(writingOf(request, transaction), sealed)
    return { status: 201, body: told(invitation), once: { link: linkFor(request, invitation.kind, secret) } }
  }

  app.get(
    '/api/invitations',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Invitations and links for new passwords, the newest first, without their secrets',
        response: { 200: z.object({ invitations: z.array(invitationAnswer) }) },
      },
    },
    async ({ asking }) => ({
      invitations: (await listInvitations(app.prisma, asking, app.clock.now())).map(told),
    }),
  )

  app.post(
    '/api/invitations',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Invite somebody, or a member who has no account yet',
        description: 'A steward is invited by a token only where its owner has no password',
        body: invitationBody,
        response: { 201: madeAnswer },
      },
    },
    async (request, reply) => {
      const { body } = request
      const again = await passwordAgain(request, '')
      return reply.answerOnce((transaction) =>
        made(
          request,
          (writing, sealed) => {
            if ('memberId' in body) return inviteMember(writing, body.memberId, body.days, sealed, again)
            const { forName, role } = body
            const household = 'householdId' in body ? { id: body.householdId } : { name: body.newHousehold }
            return inviteSomebody(writing, { forName, role, household, days: body.days }, sealed, again)
          },
          transaction,
        ),
      )
    },
  )

  app.post(
    '/api/people/:id/reset',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Make a link by which a member chooses a new password; it holds a day',
        description: 'For a steward by a token only where its owner has no password',
        params: idParams,
        body: z.strictObject({}),
        response: { 201: madeAnswer },
      },
    },
    async (request, reply) => {
      const again = await passwordAgain(request, '')
      return reply.answerOnce((transaction) =>
        made(request, (writing, sealed) => beginReset(writing, request.params.id, sealed, again), transaction),
      )
    },
  )

  app.delete(
    '/api/invitations/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Take a link back; one that was used stays used',
        params: idParams,
        response: { 204: nothing },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await takeBackInvitation(writingOf(request, transaction), request.params.id)
        return { status: 204, body: {} }
      }),
  )
}

function told({ madeAt, expiresAt, endedAt, mailing: _, ...rest }: Invitation) {
  return {
    ...rest,
    madeAt: madeAt.toISOString(),
    expiresAt: expiresAt.toISOString(),
    endedAt: endedAt?.toISOString() ?? null,
  }
}
