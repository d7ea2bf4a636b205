import type { FastifyPluginAsync, FastifyReply } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { type NewSecret, randomSecret } from '../../web/sessions/index.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepPeople } from './access.ts'
import { changePerson, letLeave } from './actions.ts'
import { peopleApi } from './api.ts'
import { householdForm, leavingForm, personForm } from './forms.ts'
import { invitationsApi } from './invitations/api.ts'
import { invitationsRoutes } from './invitations/routes.ts'
import { linkRoutes } from './links/routes.ts'
import { makeMailer, makePost } from './mail.ts'
import { householdPage, leavingPage, peoplePage, personPage } from './pages.ts'
import { householdPath, householdsPath, leavingPath, peoplePath, personPath } from './paths.ts'
import {
  addHousehold,
  findHousehold,
  findPerson,
  lastSignIns,
  listHouseholds,
  listPeople,
  renameHousehold,
} from './queries.ts'
import { hasPassword, passwordAgain } from './stewards.ts'

export type PeopleOptions = { newSecret?: NewSecret }

/** Who is in the co-op and what they may; how somebody comes in, gets a new password, and leaves. */
export const peopleRoutes: FastifyPluginAsync<PeopleOptions> = async (plain, { newSecret = randomSecret }) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const { prisma } = app
  const keep = only(mayKeepPeople)
  const withId = { ...keep, schema: { params: idParams } }
  const withForm = { ...keep, schema: { params: idParams, body: typedBody } }

  const mailer = makeMailer(app.settings)
  const post = mailer === null ? null : makePost(mailer, app.log)
  app.addHook('onClose', async () => {
    await post?.settled()
    mailer?.close()
  })
  await app.register(peopleApi)
  await app.register(invitationsApi, { newSecret })
  await app.register(invitationsRoutes, { newSecret, post })
  await app.register(linkRoutes)

  async function listPage(asking: Asking, form: TypedForm) {
    const seen = mayKeepPeople(asking) ? await lastSignIns(prisma, asking) : new Map<string, Date>()
    const people = await listPeople(prisma, asking)
    return peoplePage(people, await listHouseholds(prisma, asking), seen, form, asking)
  }

  app.get(peoplePath(), only(mayLook), async (request, reply) => {
    const page = await listPage(request.asking, blankForm())
    return reply.page('people/list', { ...page, ...(await lastChange(request, 'people')) })
  })

  app.post(householdsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(householdForm, request.body), {
      show: async (form, status) => reply.page('people/list', await listPage(request.asking, form), { status }),
      act: async (transaction, { name }) => {
        await addHousehold(writingOf(request, transaction), name)
        return peoplePath()
      },
    }),
  )

  app.get(householdPath(':id'), withId, async ({ asking, params }, reply) => {
    const household = await findHousehold(prisma, asking, params.id)
    return reply.page('people/household', householdPage(household, blankForm({ name: household.name })))
  })

  app.post(householdPath(':id'), withForm, async (request, reply) => {
    const household = await findHousehold(prisma, request.asking, request.params.id)
    return answerForm(reply, readForm(householdForm, request.body), {
      show: (form, status) => reply.page('people/household', householdPage(household, form), { status }),
      act: async (transaction, { name }) => {
        await renameHousehold(writingOf(request, transaction), request.params.id, name)
        return peoplePath()
      },
    })
  })

  async function showPerson(reply: FastifyReply, asking: Asking, id: string, form: TypedForm | null, status = 200) {
    const person = await findPerson(prisma, asking, id)
    const { role, householdId } = person
    const page = personPage(
      person,
      await listHouseholds(prisma, asking),
      form ?? blankForm({ role, householdId }),
      await hasPassword(prisma, asking),
      asking.coop,
      (await lastSignIns(prisma, asking)).get(id),
    )
    return reply.page('people/one', page, { status })
  }

  app.get(personPath(':id'), withId, async ({ asking, params }, reply) => showPerson(reply, asking, params.id, null))

  app.post(personPath(':id'), withForm, async (request, reply) => {
    const { asking, params, body } = request
    const households = await listHouseholds(prisma, asking)
    const form = readForm(personForm(households.map(({ id }) => id)), body)
    const again = await passwordAgain(request, form.ok ? form.values.password : '')
    return answerForm(reply, form, {
      show: (shown, status) => showPerson(reply, asking, params.id, shown, status),
      act: async (transaction, { role, householdId }) => {
        await changePerson(writingOf(request, transaction), params.id, { role, householdId }, again)
        return peoplePath()
      },
    })
  })

  async function showLeaving(reply: FastifyReply, asking: Asking, id: string, form: TypedForm, status = 200) {
    const person = await findPerson(prisma, asking, id)
    return reply.page('people/leaving', leavingPage(person, form, await hasPassword(prisma, asking)), { status })
  }

  app.get(leavingPath(':id'), withId, async ({ asking, params }, reply) =>
    showLeaving(reply, asking, params.id, blankForm()),
  )

  app.post(leavingPath(':id'), withForm, async (request, reply) => {
    const { asking, params, body } = request
    const form = readForm(leavingForm, body)
    const again = await passwordAgain(request, form.ok ? form.values.password : '')
    return answerForm(reply, form, {
      show: (shown, status) => showLeaving(reply, asking, params.id, shown, status),
      act: async (transaction) => {
        await letLeave(writingOf(request, transaction), params.id, again)
        return peoplePath()
      },
    })
  })
}
