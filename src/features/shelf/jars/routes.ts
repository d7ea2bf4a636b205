import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { readBatchCode } from '../../../core/labels/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { Failure, refused } from '../../../errors.ts'
import { idParams } from '../../../ids.ts'
import { answerForm, only } from '../../../web/answers.ts'
import { blankForm, type ReadForm, readForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { type Writing, writingOf } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { mayUseShelf } from '../access.ts'
import { listEntries } from '../entries/queries.ts'
import { jarBatchPath, jarCodePath, jarEntryPath, shelfPath } from '../paths.ts'
import { listOpenPlaces } from '../places/queries.ts'
import { breakUnits, countLine, giveUnits, moveLine, takeUnits } from './actions.ts'
import { breakForm, countForm, giveForm, moveForm, takeForm } from './forms.ts'
import { codePage, LINE_ENTRIES, type LineDoing, type LineFacts, linePage, lineTyped } from './pages.ts'
import { findByCode, findLine, listLines, listRecalls } from './queries.ts'

/** A batch stands in fewer places than this. */
const MOST_LINES_OF_A_BATCH = 200

const beforeQuery = z.object({ before: z.coerce.number().int().min(1).max(2_147_483_647).optional() })

export const jarsRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const use = only(mayUseShelf)

  const factsOf = async ({ asking }: FastifyRequest, id: string, before?: number): Promise<LineFacts> => {
    const line = await findLine(app.prisma, asking, id)
    const { batchId } = line
    const lines = await listLines(app.prisma, asking, { batchId }, { take: MOST_LINES_OF_A_BATCH })
    return {
      line,
      recalls: line.recalled ? await listRecalls(app.prisma, asking, batchId) : [],
      others: lines.filter((other) => other.id !== id),
      entries: await listEntries(
        app.prisma,
        asking,
        { jarBatchId: id, ...(before === undefined ? {} : { before }) },
        LINE_ENTRIES + 1,
      ),
      before,
      households: await listHouseholds(app.prisma, asking),
      places: await listOpenPlaces(app.prisma, asking),
      taker: asking.householdId,
      today: todayIn(app.clock, asking.coop.timeZone),
    }
  }

  app.get(
    jarBatchPath(':id'),
    { ...only(mayLook), schema: { params: idParams, querystring: beforeQuery } },
    async (request, reply) => {
      const facts = await factsOf(request, request.params.id, request.query.before)
      return reply.page('shelf/jars', linePage(facts, blankForm(lineTyped(facts)), request.asking.coop))
    },
  )

  /** One of the forms of a line. `act` gives the line to show then. */
  const answer = async <V>(
    request: FastifyRequest<{ Params: { id: string } }>,
    reply: FastifyReply,
    does: LineDoing,
    form: ReadForm<V>,
    act: (writing: Writing, id: string, values: V) => Promise<string>,
  ): Promise<FastifyReply> => {
    const { id } = request.params
    await findLine(app.prisma, request.asking, id)
    return answerForm(reply, form, {
      show: async (sent: TypedForm, status) => {
        const facts = await factsOf(request, id)
        // a count that came too late is shown beside the stock as it is now
        const newest = status === 409 ? { 'count.shown': String(facts.line.stock) } : {}
        const typed = { ...lineTyped(facts), ...sent.typed, ...newest }
        return reply.page('shelf/jars', linePage(facts, { ...sent, typed }, request.asking.coop), { status })
      },
      act: (transaction: TransactionClient, values) =>
        underName(does, async () => jarBatchPath(await act(writingOf(request, transaction), id, values))),
    })
  }

  const schema = { params: idParams, body: typedBody }

  app.post(jarEntryPath(':id', 'take'), { ...use, schema }, async (request, reply) =>
    answer(request, reply, 'take', readForm(takeForm, request.body), async (writing, id, typed) => {
      await takeUnits(writing, id, { units: typed['take.units'], householdId: typed['take.householdId'] })
      return id
    }),
  )

  app.post(jarEntryPath(':id', 'give'), { ...use, schema }, async (request, reply) =>
    answer(request, reply, 'give', readForm(giveForm, request.body), async (writing, id, typed) => {
      await giveUnits(writing, id, { units: typed['give.units'], note: typed['give.note'] })
      return id
    }),
  )

  app.post(jarEntryPath(':id', 'break'), { ...use, schema }, async (request, reply) =>
    answer(request, reply, 'break', readForm(breakForm, request.body), async (writing, id, typed) => {
      await breakUnits(writing, id, { units: typed['break.units'], note: typed['break.note'] })
      return id
    }),
  )

  app.post(jarEntryPath(':id', 'move'), { ...use, schema }, async (request, reply) =>
    answer(request, reply, 'move', readForm(moveForm, request.body), async (writing, id, typed) =>
      moveLine(writing, id, {
        units: typed['move.units'],
        placeId: typed['move.placeId'],
        householdId: typed['move.householdId'],
      }),
    ),
  )

  app.post(jarEntryPath(':id', 'count'), { ...use, schema }, async (request, reply) =>
    answer(request, reply, 'count', readForm(countForm, request.body), async (writing, id, typed) => {
      await countLine(writing, id, { shown: typed['count.shown'], counted: typed['count.counted'] })
      return id
    }),
  )

  app.get(
    jarCodePath(':code'),
    { ...only(mayLook), schema: { params: z.object({ code: z.string().max(100) }) } },
    async (request, reply) => {
      const { asking } = request
      const batch = await findByCode(app.prisma, asking, printed(request.params.code))
      if (batch === null) throw unknownCode(request.params.code)
      const lines = await listLines(app.prisma, asking, { batchId: batch.id }, { take: MOST_LINES_OF_A_BATCH })
      const [only] = lines
      // The page of the line begins with the recall's notice, where there is one.
      if (only !== undefined && lines.length === 1) return reply.redirect(jarBatchPath(only.id), 302)
      const recalls = await listRecalls(app.prisma, asking, batch.id)
      return reply.page('shelf/code', codePage(batch, lines, recalls, asking.coop))
    },
  )
}

/** A code as it is printed; what is none is looked for as it stands. */
function printed(typed: string): string {
  const reading = readBatchCode(typed)
  return reading.ok
    ? reading.code
    : typed
        .replace(/\p{Cc}/gu, '')
        .trim()
        .toUpperCase()
}

function unknownCode(typed: string): Failure {
  const reading = readBatchCode(typed)
  const shown = typed
    .replace(/\p{Cc}/gu, '')
    .trim()
    .slice(0, 20)
  const why = reading.ok
    ? 'It may be of another kitchen.'
    : 'One character may have been misread: look at the label once more.'
  return new Failure('not-found', `No batch here has the code ${shown}. ${why}`, {
    onward: { href: shelfPath(), text: 'Look for it on the shelf' },
  })
}

/** A refusal of an action names the fields of calls; on this page they stand under the form's name. */
async function underName<T>(does: LineDoing, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (error) {
    if (!(error instanceof Failure) || error.meaning !== 'refused') throw error
    const fields = Object.entries(error.fields).map(([name, words]) => [`${does}.${name}`, words])
    throw refused(error.message, Object.fromEntries(fields))
  }
}
