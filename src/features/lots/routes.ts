import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import { storages } from '../../core/produce/index.ts'
import { idParams } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import { blankForm, choice, neededText, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayKeepLots, maySort } from './access.ts'
import { changeLot, closeLot, moveLot, sortAgain, takeBackSorting, takeIn } from './actions.ts'
import { lotsApi } from './api.ts'
import { changePage, intakePage } from './form-page.ts'
import { changeTyped, readChangeForm, readIntakeForm, readSortingForm } from './forms.ts'
import { assumed, type ReadBack, readBackLine } from './intake.ts'
import { closedLotsPage, lotsPage, lotsToday } from './list-page.ts'
import { lotPage } from './lot-page.ts'
import {
  closedLotsPath,
  lotChangePath,
  lotClosurePath,
  lotPath,
  lotReopeningPath,
  lotSortingsPath,
  lotStoragePath,
  lotsPath,
  newLotPath,
  newSortingPath,
  sortingReversalPath,
} from './paths.ts'
import {
  batchesOfLot,
  countClosedLots,
  findLot,
  listClosedLots,
  listLots,
  listNeighbours,
  listSortings,
} from './queries.ts'
import { isUnsorted } from './sorting.ts'
import { sortingPage } from './sorting-page.ts'

const lineForm = z.object({ line: neededText('Enter what came in, like “12 kg apples from Wilfred, cellar”', 500) })
const storageForm = z.object({ storage: choice(storages, 'Choose where to move it') })
const noFields = z.object({})

export const lotRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepLots)
  const sort = only(maySort)
  const byId = { params: idParams }
  const sent = { params: idParams, body: typedBody }
  await app.register(lotsApi)

  app.get(lotsPath(), only(mayLook), async (request, reply) => showLots(request, reply, blankForm(), 200))

  app.get(newLotPath(), keep, async (request, reply) =>
    showIntake(request, reply, blankForm({ ...assumed, broughtBy: request.asking.name, arrivedOn: 'today' }), 200),
  )

  // saves nothing: the line comes back as fields
  app.post(newLotPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const form = readForm(lineForm, request.body)
    if (!form.ok) return showLots(request, reply, form, 422)
    const neighbours = await listNeighbours(app.prisma, request.asking)
    const readBack = readBackLine(form.values.line, { name: request.asking.name, neighbours })
    return showIntake(request, reply, blankForm(readBack.typed), 200, readBack)
  })

  app.post(lotsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readIntakeForm(request.body, todayOf(request)), {
      show: (form, status) => showIntake(request, reply, form, status),
      act: async (transaction, values) => lotPath((await takeIn(writingOf(request, transaction), values)).id),
    }),
  )

  app.get(closedLotsPath(), only(mayLook), async (request, reply) => {
    const closed = await listClosedLots(app.prisma, request.asking)
    return reply.page('lots/closed', closedLotsPage(request.asking.coop, closed))
  })

  app.get(lotPath(':id'), { ...only(mayLook), schema: byId }, async (request, reply) =>
    showLot(request, reply, request.params.id, null, 200),
  )

  app.get(lotChangePath(':id'), { ...keep, schema: byId }, async (request, reply) => {
    const lot = await findLot(app.prisma, request.asking, request.params.id)
    return showChange(request, reply, lot.id, blankForm(changeTyped(lot)), 200)
  })

  app.post(lotChangePath(':id'), { ...keep, schema: sent }, async (request, reply) => {
    const { id } = request.params
    const lot = await findLot(app.prisma, request.asking, id)
    return answerForm(reply, readChangeForm(request.body, lot), {
      show: (form, status) => showChange(request, reply, id, form, status),
      act: async (transaction, change) =>
        lotPath(
          (await changeLot(writingOf(request, transaction), id, versionOf({ typed: request.body, errors: {} }), change))
            .id,
        ),
    })
  })

  app.post(lotStoragePath(':id'), { ...keep, schema: sent }, async (request, reply) => {
    const { id } = request.params
    const form = readForm(storageForm, request.body)
    return answerForm(reply, form, {
      show: (refused, status) => showLot(request, reply, id, refused, status),
      act: async (transaction, { storage }) => {
        const move = { storage, today: todayOf(request) }
        return lotPath((await moveLot(writingOf(request, transaction), id, versionOf(form), move)).id)
      },
    })
  })

  app.get(newSortingPath(':id'), { ...sort, schema: byId }, async (request, reply) =>
    showSorting(request, reply, request.params.id, blankForm({ how: 'weights' }), 200),
  )

  app.post(lotSortingsPath(':id'), { ...sort, schema: sent }, async (request, reply) => {
    const { id } = request.params
    const lot = await findLot(app.prisma, request.asking, id)
    const form = readSortingForm(request.body, lot)
    return answerForm(reply, form, {
      show: (refused, status) => showSorting(request, reply, id, refused, status),
      act: async (transaction, values) => {
        const found = { ...values, today: todayOf(request) }
        return lotPath((await sortAgain(writingOf(request, transaction), id, versionOf(form), found)).id)
      },
    })
  })

  app.post(sortingReversalPath(':id'), { ...sort, schema: sent }, async (request, reply) =>
    step(request, reply, request.params.id, request.body, takeBackSorting),
  )

  app.post(lotClosurePath(':id'), { ...keep, schema: sent }, async (request, reply) =>
    step(request, reply, request.params.id, request.body, (writing, id, version) =>
      closeLot(writing, id, version, todayOf(request)),
    ),
  )

  app.post(lotReopeningPath(':id'), { ...keep, schema: sent }, async (request, reply) =>
    step(request, reply, request.params.id, request.body, (writing, id, version) =>
      closeLot(writing, id, version, null),
    ),
  )
}

/** A step that has a button and no fields: refused, it shows the lot with the reason. */
async function step(
  request: FastifyRequest,
  reply: FastifyReply,
  id: string,
  body: TypedForm['typed'],
  act: typeof takeBackSorting,
): Promise<FastifyReply> {
  const form = readForm(noFields, body)
  return answerForm(reply, form, {
    show: (refused, status) => showLot(request, reply, id, refused, status),
    act: async (transaction) => lotPath((await act(writingOf(request, transaction), id, versionOf(form))).id),
  })
}

async function showLots(request: FastifyRequest, reply: FastifyReply, form: TypedForm, status: number) {
  const { prisma } = request.server
  const { asking } = request
  const lots = lotsToday(await listLots(prisma, asking), todayOf(request))
  const page = lotsPage(form, { coop: asking.coop, lots, closed: await countClosedLots(prisma, asking) })
  return reply.page('lots/list', { ...page, ...(await lastChange(request, 'lot')) }, { status })
}

async function showIntake(
  request: FastifyRequest,
  reply: FastifyReply,
  form: TypedForm,
  status: number,
  readBack?: ReadBack,
) {
  const neighbours = await listNeighbours(request.server.prisma, request.asking)
  const more = { coop: request.asking.coop, neighbours, today: todayOf(request), ...(readBack ? { readBack } : {}) }
  return reply.page('lots/new', intakePage(form, more), { status })
}

/** `refused` null: nobody has sent anything. */
async function showLot(
  request: FastifyRequest,
  reply: FastifyReply,
  id: string,
  refused: TypedForm | null,
  status: number,
) {
  const { prisma } = request.server
  const { coop } = request.asking
  const lot = await findLot(prisma, request.asking, id)
  const sortings = await listSortings(prisma, request.asking, id)
  const form = refused ?? blankForm({ storage: lot.storage })
  const batches = await batchesOfLot(prisma, request.asking, id)
  const page = lotPage(form, { coop, lot, sortings, batches, today: todayOf(request) })
  return reply.page('lots/lot', { ...page, ...(await lastChange(request, 'lot', id)) }, { status })
}

async function showChange(request: FastifyRequest, reply: FastifyReply, id: string, form: TypedForm, status: number) {
  const { prisma } = request.server
  const lot = await findLot(prisma, request.asking, id)
  const more = {
    coop: request.asking.coop,
    neighbours: await listNeighbours(prisma, request.asking),
    lot,
    version: versionFor(form, lot.version, status),
    unsorted: isUnsorted(await listSortings(prisma, request.asking, id)),
  }
  return reply.page('lots/change', changePage(form, more), { status })
}

async function showSorting(request: FastifyRequest, reply: FastifyReply, id: string, form: TypedForm, status: number) {
  const lot = await findLot(request.server.prisma, request.asking, id)
  const version = versionFor(form, lot.version, status)
  const page = sortingPage(form, { coop: request.asking.coop, lot, version, today: todayOf(request) })
  return reply.page('lots/sort', page, { status })
}

/** A refused form keeps the version that it read; a fresh one and one that was overtaken take the newest. */
function versionFor(form: TypedForm, newest: number, status: number): number {
  return status === 422 ? versionOf(form) : newest
}

function todayOf(request: FastifyRequest): string {
  return todayIn(request.server.clock, request.asking.coop.timeZone)
}
