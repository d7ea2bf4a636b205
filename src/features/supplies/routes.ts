import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { packSupplies } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listRecipes } from '../recipes/queries.ts'
import { mayKeepSupplies } from './access.ts'
import { suppliesApi } from './api.ts'
import { readCountsForm, readNewSupplyForm, readSupplyForm, supplyTyped } from './forms.ts'
import { countsTyped, type Needs, suppliesPage, supplyFormPage } from './pages.ts'
import { newSupplyPath, suppliesPath, supplyCountsPath, supplyPath, supplyRemovalPath } from './paths.ts'
import { addSupply, changeSupply, countSupplies, findSupply, listSupplies, removeSupply } from './queries.ts'

export const suppliesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepSupplies)
  await app.register(suppliesApi)

  const needsOf = async (asking: Asking): Promise<Needs> => {
    const needs = new Map<string, number>()
    for (const { retired, definition } of await listRecipes(app.prisma, asking)) {
      const keys = retired ? [] : definition.packs.flatMap((pack) => Object.keys(packSupplies(definition, pack)))
      for (const key of new Set(keys)) needs.set(key, (needs.get(key) ?? 0) + 1)
    }
    return needs
  }

  app.get(suppliesPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const supplies = await listSupplies(app.prisma, asking)
    const page = suppliesPage(supplies, await needsOf(asking), blankForm(countsTyped(supplies)), asking.coop)
    return reply.page('supplies/list', { ...page, ...(await lastChange(request, 'supplies')) })
  })

  app.post(supplyCountsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const { asking } = request
    const supplies = await listSupplies(app.prisma, asking)
    return answerForm(reply, readCountsForm(request.body, supplies), {
      show: async (form, status) => {
        const newest = await listSupplies(app.prisma, asking)
        const typed = { ...countsTyped(newest), ...form.typed }
        const page = suppliesPage(newest, await needsOf(asking), { ...form, typed }, asking.coop)
        return reply.page('supplies/list', page, { status })
      },
      act: async (transaction, counts) => {
        await countSupplies(writingOf(request, transaction), counts)
        return suppliesPath()
      },
    })
  })

  app.get(newSupplyPath(), keep, async (_request, reply) =>
    reply.page('supplies/form', supplyFormPage(blankForm({ onHand: '0' }), null, 0)),
  )

  app.post(suppliesPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readNewSupplyForm(request.body), {
      show: (form, status) => reply.page('supplies/form', supplyFormPage(form, null, 0), { status }),
      act: async (transaction, values) => {
        await addSupply(writingOf(request, transaction), values)
        return suppliesPath()
      },
    }),
  )

  app.get(supplyPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const supply = await findSupply(app.prisma, request.asking, request.params.id)
    const page = supplyFormPage(blankForm(supplyTyped(supply)), supply, supply.version)
    return reply.page('supplies/form', { ...page, ...(await lastChange(request, 'supplies', supply.id)) })
  })

  app.post(supplyPath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    await findSupply(app.prisma, request.asking, id)
    const form = readSupplyForm(request.body)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findSupply(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        return reply.page('supplies/form', supplyFormPage(form, newest, version), { status })
      },
      act: async (transaction, values) => {
        await changeSupply(writingOf(request, transaction), id, versionOf(form), values)
        return suppliesPath()
      },
    })
  })

  app.get(supplyRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, key, name } = await findSupply(app.prisma, request.asking, request.params.id)
    const recipes = (await needsOf(request.asking)).get(key) ?? 0
    const goes = [
      recipes === 0
        ? 'No recipe in use names it.'
        : `Recipes name it (${recipes} of those in use): plans will find none of it.`,
    ]
    const page = { goes, action: supplyRemovalPath(id), back: { href: supplyPath(id), text: 'Keep it' } }
    return reply.page('coop/removal', removalPage(name, page))
  })

  app.post(supplyRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await removeSupply(writingOf(request, transaction), request.params.id)
      return suppliesPath()
    }),
  )
}
