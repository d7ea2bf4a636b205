import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { conflict, Failure } from '../../../errors.ts'
import { idParams } from '../../../ids.ts'
import { answerForm, only, versionOf } from '../../../web/answers.ts'
import { blankForm, readForm, typedBody } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { mayKeepPlaces } from '../access.ts'
import { newPlacePath, placeClosingPath, placePath, placesPath, shelfPath } from '../paths.ts'
import { placeForm, placeTyped } from './forms.ts'
import { placePage, placesPage } from './pages.ts'
import { addPlace, changePlace, findPlace, listPlaces, setClosed, unitsByPlace } from './queries.ts'

export const placesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepPlaces)

  app.get(placesPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const page = placesPage(await listPlaces(app.prisma, asking), await unitsByPlace(app.prisma, asking), asking.coop)
    return reply.page('shelf/places', { ...page, ...(await lastChange(request, 'places')) })
  })

  app.get(newPlacePath(), keep, async (request, reply) => {
    const households = await listHouseholds(app.prisma, request.asking)
    return reply.page('shelf/place', placePage(blankForm(), { of: null, version: 0, households }))
  })

  app.post(placesPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(placeForm, request.body), {
      show: async (form, status) => {
        const households = await listHouseholds(app.prisma, request.asking)
        return reply.page('shelf/place', placePage(form, { of: null, version: 0, households }), { status })
      },
      act: async (transaction, values) => {
        await addPlace(writingOf(request, transaction), values)
        return placesPath()
      },
    }),
  )

  app.get(placePath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { asking } = request
    const place = await findPlace(app.prisma, asking, request.params.id)
    const households = await listHouseholds(app.prisma, asking)
    const page = placePage(blankForm(placeTyped(place)), { of: place, version: place.version, households })
    return reply.page('shelf/place', { ...page, ...(await lastChange(request, 'places', place.id)) })
  })

  app.post(placePath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    await findPlace(app.prisma, request.asking, id)
    const form = readForm(placeForm, request.body)
    return answerForm(reply, form, {
      show: async (form, status) => {
        const newest = await findPlace(app.prisma, request.asking, id)
        const version = status === 409 ? newest.version : versionOf(form)
        const households = await listHouseholds(app.prisma, request.asking)
        return reply.page('shelf/place', placePage(form, { of: newest, version, households }), { status })
      },
      act: async (transaction, values) => {
        await changePlace(writingOf(request, transaction), id, versionOf(form), values)
        return placesPath()
      },
    })
  })

  app.post(
    placeClosingPath(':id'),
    { ...keep, schema: { params: idParams, body: typedBody } },
    async (request, reply) => {
      const { id } = request.params
      const closed = request.body['closed'] !== 'no'
      try {
        return await reply.once(async (transaction) => {
          await setClosed(writingOf(request, transaction), id, closed)
          return placesPath()
        })
      } catch (error) {
        if (!(error instanceof Failure) || error.meaning !== 'conflict' || error.onward !== undefined) throw error
        throw conflict(error.message, { href: `${shelfPath()}?place=${id}`, text: 'See what stands there' })
      }
    },
  )
}
