import type { FastifyPluginAsync, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { idParams, idText } from '../../../ids.ts'
import { answerForm, hiddenIn, only } from '../../../web/answers.ts'
import { formatFor } from '../../../web/format.ts'
import { blankForm, typedBody } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { mayShareOut } from '../access.ts'
import { newShareOutPath, shareOutPath, sharesPath } from '../paths.ts'
import { newShareOutTyped, readShareOutForm, shareOutTypedLike, sinceText } from './forms.ts'
import { newShareOutPage } from './new-page.ts'
import { proposed, type ShareFacts, shareFacts, tryToPropose } from './propose.ts'
import { addShareOut, findShareOut } from './queries.ts'
import { shareOutPage } from './share-page.ts'

const newQuery = z.object({ since: sinceText, like: idText.optional() })
const hiddenFields = z.object({
  since: sinceText,
  like: z.union([z.literal('').transform(() => undefined), idText]).optional(),
})

export const proposalRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const share = only(mayShareOut)

  const factsOf = ({ asking }: FastifyRequest, since?: string): Promise<ShareFacts> =>
    shareFacts(app.prisma, asking, todayIn(app.clock, asking.coop.timeZone), since)

  app.get(newShareOutPath(), { ...share, schema: { querystring: newQuery } }, async (request, reply) => {
    const { asking, query } = request
    const { coop } = asking
    if (query.like === undefined) {
      const facts = await factsOf(request, query.since)
      const name = `Shares of ${formatFor(coop).date(facts.period.until)}`
      const form = blankForm(newShareOutTyped(facts, name))
      return reply.page('shares/new', newShareOutPage(form, facts, { since: query.since ?? '', like: '' }, coop))
    }
    const like = await findShareOut(app.prisma, asking, query.like)
    const newest = await factsOf(request)
    // it was counted from a day that somebody chose
    const chosen = like.question.from !== null && like.question.from !== newest.period.from
    const since = chosen ? (like.question.from ?? '') : ''
    const facts = chosen ? await factsOf(request, since) : newest
    const form = blankForm(shareOutTypedLike(facts, like))
    return reply.page('shares/new', newShareOutPage(form, facts, { since, like: like.id }, coop))
  })

  app.post(sharesPath(), { ...share, schema: { body: typedBody } }, async (request, reply) => {
    const { since, like } = hiddenIn(hiddenFields, { since: request.body['since'], like: request.body['like'] })
    const facts = await factsOf(request, since)
    const form = readShareOutForm(request.body, facts)
    // before the transaction: it may take a second
    const proposal = tryToPropose(facts, form.ok ? form.values : null)
    return answerForm(reply, form, {
      show: (shown, status) =>
        reply.page(
          'shares/new',
          newShareOutPage(shown, facts, { since: since ?? '', like: like ?? '' }, request.asking.coop),
          { status },
        ),
      act: async (transaction, { name }) => {
        const worked = proposed(proposal)
        const replaced = like === undefined ? {} : { replaces: like }
        const { id } = await addShareOut(writingOf(request, transaction), { name, ...worked, ...replaced })
        return shareOutPath(id)
      },
    })
  })

  app.get(shareOutPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { asking, params } = request
    const shareOut = await findShareOut(app.prisma, asking, params.id)
    const page = shareOutPage(shareOut, '', asking.coop)
    return reply.page('shares/share-out', { ...page, ...(await lastChange(request, 'shares', shareOut.id)) })
  })
}
