import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { conflict, Failure } from '../../../errors.ts'
import { idParams, idText } from '../../../ids.ts'
import { only } from '../../../web/answers.ts'
import { mayLook } from '../../../web/roles.ts'
import { writingOf } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { mayUseShelf } from '../access.ts'
import { jarBatchPath, ledgerPath, undoEntryPath } from '../paths.ts'
import { undoOnShelf } from './actions.ts'
import { ENTRIES_PER_PAGE, ledgerPage } from './pages.ts'
import { type Entry, findEntry, listEntries } from './queries.ts'

const ledgerQuery = z.object({
  household: z.union([z.literal(''), idText]).default(''),
  before: z.coerce.number().int().min(1).max(2_147_483_647).optional(),
})

export const entriesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(ledgerPath(), { ...only(mayLook), schema: { querystring: ledgerQuery } }, async (request, reply) => {
    const { household, before } = request.query
    const households = await listHouseholds(app.prisma, request.asking)
    const choice = {
      ...(household === '' ? {} : { householdId: household }),
      ...(before === undefined ? {} : { before }),
    }
    const entries = await listEntries(app.prisma, request.asking, choice, ENTRIES_PER_PAGE + 1)
    const page = ledgerPage(entries, { households, householdId: household, before }, request.asking.coop)
    return reply.page('shelf/ledger', page)
  })

  app.post(undoEntryPath(':id'), { ...only(mayUseShelf), schema: { params: idParams } }, async (request, reply) => {
    const { id } = request.params
    const onward = pageOf(await findEntry(app.prisma, request.asking, id))
    try {
      return await reply.once(async (transaction) => {
        await undoOnShelf(writingOf(request, transaction), id)
        return onward
      })
    } catch (error) {
      if (!(error instanceof Failure) || error.meaning === 'not-found' || error.onward !== undefined) throw error
      throw conflict(error.message, { href: onward, text: 'Look at the shelf as it is now' })
    }
  })
}

function pageOf({ of }: Entry): string {
  return 'jarBatchId' in of ? jarBatchPath(of.jarBatchId) : ledgerPath()
}
