import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { forbidden, notFound, refused } from '../../errors.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import { memberOf } from '../../web/asking.ts'
import { type EventKind, noteEvent } from '../../web/events.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { endSessionById, endSessionsOf, isHttps, listSessionsOf, takeToken } from '../../web/sessions/index.ts'
import { accountPage, ownNamePage, passwordPage, signInNamesPage } from './account-page.ts'
import { ownNameForm, passwordForm, signInNamesForm } from './forms.ts'
import { ownPasswordProblem } from './own-password.ts'
import { passwordProblem } from './password-rules.ts'
import { hashPassword } from './passwords.ts'
import {
  accountPath,
  doorPath,
  endDevicePath,
  endOthersPath,
  ownNamePath,
  passwordPath,
  signInNamesPath,
  signOutEverywherePath,
} from './paths.ts'
import { findOwnAccount, type OwnAccount, setOwnName, setPassword, setSignInNames } from './queries.ts'

/** Everybody's own account: name, password, devices. */
export const accountRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const may = only(mayLook)
  const sent = { ...may, schema: { body: typedBody } }

  const who = ({ asking }: FastifyRequest) => ({ coopId: asking.coopId, memberId: memberOf(asking) })
  const eventOf = (request: FastifyRequest, kind: EventKind, what: string) =>
    [
      { kind, ...who(request), who: request.asking.name, what },
      { now: app.clock.now(), newId: app.newId },
    ] as const

  /** The account that is to be changed. In a demonstration nobody has one. */
  const accountOf = async (request: FastifyRequest): Promise<OwnAccount> => {
    const account = await findOwnAccount(app.prisma, request.asking)
    if (account === null) throw forbidden('Whoever entered the demonstration has no account of their own there.')
    return account
  }

  app.get(accountPath(), may, async (request, reply) => {
    const account = await findOwnAccount(app.prisma, request.asking)
    const sessions = await listSessionsOf(app.prisma, who(request), app.clock.now())
    return reply.page('accounts/account', accountPage(request.asking, account, sessions, isHttps(app.settings)))
  })

  app.get(ownNamePath(), may, async ({ asking }, reply) =>
    reply.page('accounts/name', ownNamePage(blankForm({ name: asking.name }))),
  )
  app.post(ownNamePath(), sent, async (request, reply) => {
    if (request.asking.coop.demonstration) throw forbidden('Those who enter the demonstration share its names.')
    return answerForm(reply, readForm(ownNameForm, request.body), {
      show: (form, status) => reply.page('accounts/name', ownNamePage(form), { status }),
      act: async (transaction, { name }) => {
        await setOwnName(transaction, request.asking, name)
        return accountPath()
      },
    })
  })

  app.get(signInNamesPath(), may, async (request, reply) => {
    const { signInName, mail, hasPassword } = await accountOf(request)
    const form = blankForm({ signInName, mail: mail ?? '' })
    return reply.page('accounts/sign-in-name', signInNamesPage(form, hasPassword))
  })
  app.post(signInNamesPath(), sent, async (request, reply) => {
    const { hasPassword } = await accountOf(request)
    const show = (form: TypedForm, status: number): FastifyReply =>
      reply.page('accounts/sign-in-name', signInNamesPage(form, hasPassword), { status })
    const form = readForm(signInNamesForm(hasPassword), request.body)
    const problem = form.ok ? await ownPasswordProblem(request, form.values.currentPassword) : null
    return answerForm(reply, form, {
      show,
      act: async (transaction, { signInName, mail }) => {
        if (problem !== null) throw refused(problem, { currentPassword: problem })
        await setSignInNames(transaction, { ...who(request), signInName, mail })
        return accountPath()
      },
    })
  })

  app.get(passwordPath(), may, async (request, reply) =>
    reply.page('accounts/password', passwordPage(blankForm(), await accountOf(request))),
  )
  app.post(passwordPath(), sent, async (request, reply) => {
    const account = await accountOf(request)
    const form = readForm(passwordForm(account.hasPassword), request.body)
    const problems = form.ok ? await problemsOf(request, account, form.values) : {}
    const passwordHash =
      form.ok && Object.keys(problems).length === 0 ? await hashPassword(form.values.newPassword) : null
    return answerForm(reply, form, {
      show: (again, status) => reply.page('accounts/password', passwordPage(again, account), { status }),
      act: async (transaction) => {
        if (passwordHash === null) throw refused('The password was not changed.', problems)
        await setPassword(transaction, who(request), passwordHash, app.clock.now())
        await endSessionsOf(transaction, who(request), hereOf(request))
        await noteEvent(transaction, ...eventOf(request, 'password-changed', 'changed the own password'))
        return accountPath()
      },
    })
  })

  async function problemsOf(
    request: FastifyRequest,
    { signInName }: OwnAccount,
    { currentPassword, newPassword }: { currentPassword: string; newPassword: string },
  ): Promise<Record<string, string>> {
    const { asking } = request
    const current = await ownPasswordProblem(request, currentPassword)
    const chosen = passwordProblem(newPassword, [signInName, asking.name, asking.coop.name])
    return {
      ...(current === null ? {} : { currentPassword: current }),
      ...(chosen === null ? {} : { newPassword: chosen }),
    }
  }

  app.post(endDevicePath(':id'), { ...may, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    await accountOf(request)
    const { id } = request.params
    await reply.once(async (transaction) => {
      if ((await endSessionById(transaction, who(request), id)) === 0) throw notFound('such device')
      await noteEvent(transaction, ...eventOf(request, 'sessions-ended', 'signed out on one device'))
      return id === hereOf(request) ? doorPath() : accountPath()
    })
    return reply
  })

  app.post(endOthersPath(), sent, async (request, reply) => {
    await accountOf(request)
    return reply.once(async (transaction) => {
      const ended = await endSessionsOf(transaction, who(request), hereOf(request))
      await noteEvent(transaction, ...eventOf(request, 'sessions-ended', `signed out on all other devices (${ended})`))
      return accountPath()
    })
  })

  app.post(signOutEverywherePath(), sent, async (request, reply) => {
    await accountOf(request)
    takeToken(reply)
    return reply.once(async (transaction) => {
      await endSessionsOf(transaction, who(request))
      await noteEvent(transaction, ...eventOf(request, 'sessions-ended', 'signed out on all devices'))
      return doorPath()
    })
  })
}

/** The session by which a page was asked for; undefined for a program. */
function hereOf({ asking: { via } }: FastifyRequest): string | undefined {
  return via.kind === 'session' ? via.id : undefined
}
