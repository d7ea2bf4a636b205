import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import { apportionmentMethods } from '../../core/shares/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { refused } from '../../errors.ts'
import { idParams, idText } from '../../ids.ts'
import { callText, only, versionNumber } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { mayLook } from '../../web/roles.ts'
import { type Writing, writingOf } from '../changes/index.ts'
import { mayKeepShareRule, mayShareOut } from './access.ts'
import { shareAnswer, shareOutStates, shareQuestion } from './documents.ts'
import { handOut, undoHandOut } from './handing-out/actions.ts'
import { MOST_BROUGHT, MOST_WORTH } from './proposals/forms.ts'
import { proposed, type ShareChoice, type ShareFacts, shareFacts, tryToPropose } from './proposals/propose.ts'
import { addShareOut, dropShareOut, findShareOut, listShareOuts, type ShareOut } from './proposals/queries.ts'
import { MOST_PEOPLE, MOST_POINTS } from './rule/forms.ts'
import { findRule, listSharing, savePeople, saveRule } from './rule/queries.ts'
import { nothingBrought } from './standing/queries.ts'
import { standingNow } from './standing/standing.ts'

const points = z.number().min(0).max(MOST_POINTS)
const ruleBody = z.strictObject({
  method: z.enum(apportionmentMethods),
  pointsPerKg: points,
  pointsPerHour: points,
  pointsPerMoney: points.describe('For each whole unit of the currency'),
  byNeedPercent: z.int().min(0).max(100).describe('Part of everything that goes by people in all households'),
})
const ruleAnswer = ruleBody.extend({ version: z.int().describe('0: nobody has agreed on a rule yet') })

const household = z.object({ id: z.string(), name: z.string(), people: z.int() })
const standingAnswer = z.object({
  from: z.string().nullable().describe('First day that counts; null: from the beginning'),
  until: z.string(),
  households: z.array(
    household.extend({
      lots: z.array(
        z.object({
          id: z.string(),
          crop: z.string(),
          variety: z.string().nullable(),
          arrivedOn: z.string(),
          grams: z.int(),
          priceMinor: z.int().nullable().describe('Where it is given, the lot counts by it and not by weight too'),
        }),
      ),
      grams: z.int(),
      minutes: z.int(),
      moneyMinor: z.int(),
      points: z.number(),
      part: z.number().nullable().describe('Part of the next jars, of 1'),
      owedMinor: z.int().describe('Below 0 where it had more than its part'),
    }),
  ),
})

const rowAnswer = z.object({
  id: z.string(),
  number: z.int(),
  name: z.string(),
  state: z.enum(shareOutStates),
  by: z.string(),
  at: z.string(),
  handedOutAt: z.string().nullable(),
})
const shareOutAnswer = rowAnswer.extend({ question: shareQuestion, answer: shareAnswer, version: z.int() })

const since = z.iso.date().optional().describe('Count from this day on; else from the last hand-out on')
const proposalBody = z.strictObject({
  name: callText(80).optional(),
  since,
  products: z
    .array(
      z.strictObject({
        recipeId: idText,
        pack: z.string().min(1).max(60),
        units: z.int().min(0).max(1_000_000),
        worthMinor: z.int().min(0).max(MOST_WORTH).optional(),
      }),
    )
    .max(500)
    .optional()
    .describe('Shared jars by recipe and pack; all that there are where absent'),
  households: z
    .array(
      z.strictObject({
        id: idText,
        grams: z.int().min(0).max(MOST_BROUGHT.grams).optional(),
        minutes: z.int().min(0).max(MOST_BROUGHT.minutes).optional(),
        moneyMinor: z.int().min(0).max(MOST_BROUGHT.moneyMinor).optional(),
        declines: z
          .array(z.strictObject({ recipeId: idText, pack: z.string().min(1).max(60) }))
          .max(500)
          .default([]),
      }),
    )
    .max(500)
    .optional()
    .describe('Who takes part; everybody where absent. What is left out counts as it was found'),
})

/** The same as the pages, for programs. */
export const sharesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepShareRule)
  const share = only(mayShareOut, { bulk: true })
  const tags = ['shares']
  const today = ({ asking }: FastifyRequest) => todayIn(app.clock, asking.coop.timeZone)

  app.get(
    '/api/shares/standing',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'What households brought, their points, and what they are owed',
        querystring: z.object({ since }),
        response: { 200: standingAnswer },
      },
    },
    async (request) => {
      const { period, households } = await standingNow(app.prisma, request.asking, today(request), request.query.since)
      return { from: period.from, until: period.until, households }
    },
  )

  app.get(
    '/api/shares/rule',
    { ...only(mayLook), schema: { tags, summary: 'What counts how much', response: { 200: ruleAnswer } } },
    async (request) => findRule(app.prisma, request.asking),
  )

  app.put(
    '/api/shares/rule',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Set what counts how much',
        body: ruleBody.extend({ version: versionNumber.or(z.literal(0)) }),
        response: { 200: ruleAnswer },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        const { version, ...values } = request.body
        return { status: 200, body: await saveRule(writingOf(request, transaction), version, values) }
      }),
  )

  const people = z.object({ households: z.array(household) })
  app.get(
    '/api/shares/people',
    {
      ...only(mayLook),
      schema: { tags, summary: 'How many people live in each household', response: { 200: people } },
    },
    async (request) => ({ households: await listSharing(app.prisma, request.asking) }),
  )

  app.put(
    '/api/shares/people',
    {
      ...keep,
      schema: {
        tags,
        summary: 'Say how many people live in some households',
        body: z.strictObject({
          households: z.array(z.strictObject({ id: idText, people: z.int().min(0).max(MOST_PEOPLE) })).max(500),
        }),
        response: { 200: people },
      },
    },
    async (request, reply) =>
      reply.answerOnce(async (transaction) => {
        await savePeople(writingOf(request, transaction), request.body.households)
        return { status: 200, body: { households: await listSharing(transaction, request.asking) } }
      }),
  )

  app.get(
    '/api/shares',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Sharings out, the newest first, a hundred at a time',
        querystring: z.object({ before: z.coerce.number().int().min(1).max(2_147_483_647).optional() }),
        response: { 200: z.object({ shareOuts: z.array(rowAnswer) }) },
      },
    },
    async (request) => {
      const rows = await listShareOuts(app.prisma, request.asking, 100, request.query.before)
      return { shareOuts: rows.map(told) }
    },
  )

  app.get(
    '/api/shares/:id',
    {
      ...only(mayLook),
      schema: { tags, summary: 'One sharing out with its sums', params: idParams, response: { 200: shareOutAnswer } },
    },
    async (request) => told(await findShareOut(app.prisma, request.asking, request.params.id)),
  )

  app.post(
    '/api/shares',
    {
      ...share,
      schema: { tags, summary: 'Propose a sharing out', body: proposalBody, response: { 201: shareOutAnswer } },
    },
    async (request, reply) => {
      const { asking, body } = request
      const facts = await shareFacts(app.prisma, asking, today(request), body.since)
      const name = body.name ?? `Shares of ${formatFor(asking.coop).date(facts.period.until)}`
      // worked out before the transaction: it may take a second
      const proposal = tryToPropose(facts, chosen(facts, body))
      return reply.answerOnce(async (transaction) => ({
        status: 201,
        body: told(await addShareOut(writingOf(request, transaction), { name, ...proposed(proposal) })),
      }))
    },
  )

  const doing = (path: string, summary: string, act: (writing: Writing, id: string) => Promise<ShareOut>) =>
    app.post(
      `/api/shares/:id/${path}`,
      { ...share, schema: { tags, summary, params: idParams, response: { 200: shareOutAnswer } } },
      async (request, reply) =>
        reply.answerOnce(async (transaction: TransactionClient) => ({
          status: 200,
          body: told(await act(writingOf(request, transaction), request.params.id)),
        })),
    )
  doing('hand-out', 'Hand a proposal out: its jars go to their households', handOut)
  doing('undo', 'Take a hand-out back while its jars are there', undoHandOut)
  doing('drop', 'Drop a proposal', dropShareOut)
}

/** The body's choice, with what was found for what it leaves out. */
function chosen({ stock, members, brought }: ShareFacts, body: z.output<typeof proposalBody>): ShareChoice {
  const idOf = ({ recipeId, pack }: { recipeId: string; pack: string }) => `${recipeId}:${pack}`
  const products = body.products?.map((product) => {
    const known = stock.find(({ id }) => id === idOf(product))
    return { id: idOf(product), units: product.units, worthMinor: product.worthMinor ?? known?.worthMinor ?? 0 }
  })
  const households = body.households ?? members.map(({ id }) => ({ id, declines: [] }))
  refuseTwice('products', products ?? [])
  refuseTwice('households', households)
  return {
    products: products ?? stock,
    households: households.map(({ id, declines, ...given }) => ({
      id,
      ...(brought.by.get(id) ?? nothingBrought),
      ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
      declines: declines.map(idOf),
    })),
  }
}

function refuseTwice(field: string, named: readonly { id: string }[]): void {
  const twice = named.findIndex(({ id }, n) => named.findIndex((one) => one.id === id) < n)
  if (twice >= 0) throw refused('Name each one once.', { [`${field}.${twice}`]: 'Name each one once' })
}

/** As JSON tells it: instants as ISO text. */
function told<T extends { at: Date; handedOutAt: Date | null }>(shareOut: T) {
  return { ...shareOut, at: shareOut.at.toISOString(), handedOutAt: shareOut.handedOutAt?.toISOString() ?? null }
}
