import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { inTransaction } from '../../db/transaction.ts'
import { forbidden, notFound } from '../../errors.ts'
import { idParams } from '../../ids.ts'
import { deleteCoop, eraseFormerMember } from '../../keeping/deleting.ts'
import { lastBackupKnown } from '../../keeping/status.ts'
import { coopAsJson, ownAsJson } from '../../keeping/taking-out.ts'
import { only } from '../../web/answers.ts'
import { memberOf } from '../../web/asking.ts'
import { signInPath } from '../../web/door.ts'
import { noteEvent } from '../../web/events.ts'
import { blankForm, readForm, refusedForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { takeToken } from '../../web/sessions/index.ts'
import { findOwnPasswordHash, ownPasswordProblem } from '../accounts/index.ts'
import { mayKeepData } from './access.ts'
import { coopRemovalForm } from './forms.ts'
import { coopRemovalPage, dataPage, demonstrationStays, erasurePage, ownDataPage } from './pages.ts'
import {
  coopRemovalPath,
  dataPath,
  erasurePath,
  everythingPath,
  ownDataPath,
  ownEverythingPath,
  tablesPath,
} from './paths.ts'
import { findFormerMember, listFormerMembers } from './queries.ts'
import { coopAsZip } from './zip.ts'

/** Taking a co-op's or one's own data out, and deleting it. Files are asked for by forms, since that is noted. */
export const dataRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepData)
  const sent = { schema: { body: typedBody } }
  const stamp = () => ({ now: app.clock.now(), newId: app.newId })

  const noteTaken = ({ asking }: FastifyRequest, what: string) =>
    inTransaction(app.prisma, (transaction) => {
      const { coopId, name: who, memberId } = asking
      return noteEvent(transaction, { kind: 'data-taken-out', coopId, who, memberId, what }, stamp())
    })

  app.get(dataPath(), keep, async ({ asking }, reply) => {
    const status = await lastBackupKnown(app.settings)
    const former = await listFormerMembers(app.prisma, asking)
    const used = await app.rooms.look(asking.coopId)
    const { settings } = app
    return reply.page('data/home', dataPage(asking, { status, former, used, now: app.clock.now(), settings }))
  })

  app.post(everythingPath(), { ...keep, ...sent }, async (request, reply) => {
    const { coopId, coop } = request.asking
    const file = await coopAsJson(app.longTransactions, { coopId, coopName: coop.name, at: app.clock.now() })
    await noteTaken(request, 'took all data of the co-op out, as JSON')
    return asFile(reply, 'co-op.json', 'application/json; charset=utf-8').send(file)
  })

  app.post(tablesPath(), { ...keep, ...sent }, async (request, reply) => {
    const file = await coopAsZip(app.longTransactions, request.asking.coopId)
    await noteTaken(request, 'took all data of the co-op out, as tables')
    return asFile(reply, 'co-op-tables.zip', 'application/zip').send(file)
  })

  app.get(ownDataPath(), only(mayLook), async (_request, reply) => reply.page('data/own', ownDataPage()))

  app.post(ownEverythingPath(), { ...only(mayLook), ...sent }, async (request, reply) => {
    const { asking } = request
    const { coopId, coop, householdId, name } = asking
    const whose = { coopId, coopName: coop.name, at: app.clock.now(), name, householdId: householdId ?? '' }
    const file = await ownAsJson(app.longTransactions, { ...whose, memberId: memberOf(asking) })
    await noteTaken(request, 'took out what is known of them')
    return asFile(reply, 'my-data.json', 'application/json; charset=utf-8').send(file)
  })

  app.get(erasurePath(':id'), { ...keep, schema: { params: idParams } }, async ({ asking, params }, reply) => {
    const member = await findFormerMember(app.prisma, asking, params.id)
    return reply.page('data/erasure', erasurePage(member, asking, app.settings))
  })

  app.post(erasurePath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { asking, params } = request
    const { coopId, name, memberId } = asking
    const erasing = { coopId, memberId: params.id, by: { name, memberId } }
    const outcome = await eraseFormerMember(app.longTransactions, erasing, stamp())
    if (outcome === 'not-former') throw notFound('such former member')
    return reply.redirect(dataPath(), 303)
  })

  const refuseDemonstration = ({ asking }: FastifyRequest) => {
    if (asking.coop.demonstration) {
      throw forbidden(demonstrationStays)
    }
  }
  const showRemoval = async (request: FastifyRequest, reply: FastifyReply, form: TypedForm, status = 200) => {
    const asksPassword = (await findOwnPasswordHash(app.prisma, request.asking)) !== null
    return reply.page('data/removal', coopRemovalPage(form, request.asking, app.settings, asksPassword), { status })
  }

  app.get(coopRemovalPath(), keep, async (request, reply) => showRemoval(request, reply, blankForm()))

  // Not by `reply.once`: what that notes is deleted along. A second sending finds nobody signed in.
  app.post(coopRemovalPath(), { ...keep, ...sent }, async (request, reply) => {
    refuseDemonstration(request)
    const { coop, coopId } = request.asking
    const form = readForm(coopRemovalForm, request.body)
    if (!form.ok) return showRemoval(request, reply, form, 422)
    if (form.values.name !== coop.name.normalize('NFC').trim()) {
      return showRemoval(request, reply, refusedForm(form, { name: `That is not its name: ${coop.name}` }), 422)
    }
    const problem = await ownPasswordProblem(request, form.values.currentPassword)
    if (problem !== null) return showRemoval(request, reply, refusedForm(form, { currentPassword: problem }), 422)
    await deleteCoop(app.longTransactions, coopId, stamp())
    takeToken(reply)
    return reply.redirect(signInPath(), 303)
  })
}

function asFile(reply: FastifyReply, name: string, type: string): FastifyReply {
  return reply.type(type).header('content-disposition', `attachment; filename="${name}"`)
}
