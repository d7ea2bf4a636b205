import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { idParams } from '../../ids.ts'
import { answerForm, hiddenIn, only, refuseProblems, versionOf } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listMaterials } from '../recipes/queries.ts'
import { mayKeepOutlets } from './access.ts'
import { outletsApi, rankNumber } from './api.ts'
import { outletForm, outletProblems, outletTyped } from './forms.ts'
import { type Material, materialsFor, outletFormPage, outletsPage } from './pages.ts'
import { newOutletPath, outletPath, outletRankPath, outletRemovalPath, outletsPath } from './paths.ts'
import {
  addOutlet,
  changeOutlet,
  findOutlet,
  type KeptOutlet,
  listOutlets,
  rankOutlet,
  removeOutlet,
} from './queries.ts'

export const outletsRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepOutlets)
  await app.register(outletsApi)

  const materialsOf = async (asking: Asking, of: KeptOutlet | null): Promise<Material[]> =>
    materialsFor(await listMaterials(app.prisma, asking), of)
  const keysOf = (materials: readonly Material[]) => materials.map(({ key }) => key)

  app.get(outletsPath(), only(mayLook), async (request, reply) => {
    const outlets = await listOutlets(app.prisma, request.asking)
    const page = outletsPage(outlets, await listMaterials(app.prisma, request.asking), request.asking.coop)
    return reply.page('outlets/list', { ...page, ...(await lastChange(request, 'outlets')) })
  })

  app.get(newOutletPath(), keep, async (request, reply) => {
    const form = blankForm({ open: 'yes', worthPerKgMinor: '0' })
    return reply.page('outlets/form', outletFormPage(form, null, 0, await materialsOf(request.asking, null)))
  })

  app.post(outletsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const materials = await materialsOf(request.asking, null)
    return answerForm(reply, readForm(outletForm(keysOf(materials)), request.body), {
      show: (form, status) => reply.page('outlets/form', outletFormPage(form, null, 0, materials), { status }),
      act: async (transaction, values) => {
        refuseProblems(outletProblems(values))
        await addOutlet(writingOf(request, transaction), values)
        return outletsPath()
      },
    })
  })

  app.get(outletPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const outlet = await findOutlet(app.prisma, request.asking, request.params.id)
    const materials = await materialsOf(request.asking, outlet)
    const page = outletFormPage(blankForm(outletTyped(outlet)), outlet, outlet.version, materials)
    return reply.page('outlets/form', { ...page, ...(await lastChange(request, 'outlets', outlet.id)) })
  })

  app.post(outletPath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    const materials = await materialsOf(request.asking, await findOutlet(app.prisma, request.asking, id))
    const form = readForm(outletForm(keysOf(materials)), request.body)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findOutlet(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        return reply.page('outlets/form', outletFormPage(form, newest, version, materials), { status })
      },
      act: async (transaction, values) => {
        refuseProblems(outletProblems(values))
        await changeOutlet(writingOf(request, transaction), id, versionOf(form), values)
        return outletsPath()
      },
    })
  })

  app.post(
    outletRankPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const rank = hiddenIn(rankNumber, Number(request.body['rank']))
      return reply.once(async (transaction) => {
        await rankOutlet(writingOf(request, transaction), request.params.id, rank)
        return outletsPath()
      })
    },
  )

  app.get(outletRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, name } = await findOutlet(app.prisma, request.asking, request.params.id)
    const page = {
      goes: ['What it took goes to the outlets after it in plans that are worked out from now on.'],
      action: outletRemovalPath(id),
      back: { href: outletPath(id), text: 'Keep it' },
    }
    return reply.page('coop/removal', removalPage(name, page))
  })

  app.post(outletRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeOutlet(writingOf(request, transaction), request.params.id)
      return outletsPath()
    }),
  )
}
