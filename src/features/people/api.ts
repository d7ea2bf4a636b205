import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams, idText } from '../../ids.ts'
import { callText, nothing, only } from '../../web/answers.ts'
import { mayLook, personRoles } from '../../web/roles.ts'
import { writingOf } from '../changes/index.ts'
import { mayKeepPeople } from './access.ts'
import { changePerson, letLeave } from './actions.ts'
import { addHousehold, lastSignIns, listHouseholds, listPeople, type Person, renameHousehold } from './queries.ts'
import { passwordAgain } from './stewards.ts'

const householdAnswer = z.object({ id: z.string(), name: z.string() })
const personAnswer = z.object({
  id: z.string(),
  name: z.string(),
  role: z.enum(personRoles),
  householdId: z.string(),
  householdName: z.string(),
})
const kept = {
  signInName: z.string().nullable().optional().describe('null: has no account; told to stewards only'),
  signedInAt: z.iso.datetime().nullable().optional().describe('null: never; told to stewards only'),
}
const householdBody = z.strictObject({ name: callText(80) })
const noted = 'A steward’s rights are given and taken by a token only where its owner has no password'

/** The same as the pages, for programs. */
export const peopleApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepPeople)
  const tags = ['people']

  app.get(
    '/api/people',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Who is in the co-op, with households and roles',
        response: {
          200: z.object({ people: z.array(personAnswer.extend(kept)), households: z.array(householdAnswer) }),
        },
      },
    },
    async ({ asking }) => {
      const keeps = mayKeepPeople(asking)
      const seen = keeps ? await lastSignIns(app.prisma, asking) : new Map<string, Date>()
      const people = (await listPeople(app.prisma, asking)).filter(({ leftAt }) => leftAt === null)
      return {
        people: people.map((person) => ({
          ...told(person),
          ...(keeps ? { signInName: person.signInName, signedInAt: seen.get(person.id)?.toISOString() ?? null } : {}),
        })),
        households: await listHouseholds(app.prisma, asking),
      }
    },
  )

  app.put(
    '/api/people/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Give a member another role or household',
        description: noted,
        params: idParams,
        body: z.strictObject({ role: z.enum(personRoles), householdId: idText }),
        response: { 200: personAnswer },
      },
    },
    async (request, reply) => {
      const again = await passwordAgain(request, '')
      return reply.answerOnce(async (transaction) => ({
        status: 200,
        body: told(await changePerson(writingOf(request, transaction), request.params.id, request.body, again)),
      }))
    },
  )

  app.delete(
    '/api/people/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'A member leaves: account, sessions and tokens end, the name stays in what was done',
        description: noted,
        params: idParams,
        response: { 204: nothing },
      },
    },
    async (request, reply) => {
      const again = await passwordAgain(request, '')
      return reply.answerOnce(async (transaction) => {
        await letLeave(writingOf(request, transaction), request.params.id, again)
        return { status: 204, body: {} }
      })
    },
  )

  app.post(
    '/api/households',
    {
      ...keep,
      schema: { tags, summary: 'Add a household', body: householdBody, response: { 201: householdAnswer } },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 201,
        body: await addHousehold(writingOf(request, transaction), request.body.name),
      })),
  )

  app.put(
    '/api/households/:id',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Give a household another name',
        params: idParams,
        body: householdBody,
        response: { 200: householdAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => ({
        status: 200,
        body: await renameHousehold(writingOf(request, transaction), request.params.id, request.body.name),
      })),
  )
}

function told({ id, name, role, householdId, householdName }: Person) {
  return { id, name, role, householdId, householdName }
}
