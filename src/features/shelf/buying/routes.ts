import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../../ids.ts'
import { answerForm, only } from '../../../web/answers.ts'
import { formModel, numberField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import { blankForm, optionalText, readForm, type TypedForm, typedBody, wholeNumber } from '../../../web/forms.ts'
import { writingOf } from '../../changes/index.ts'
import { suppliesPath, supplyPath } from '../../supplies/paths.ts'
import { findSupply, type Supply } from '../../supplies/queries.ts'
import { mayUseShelf } from '../access.ts'
import { buySupplyPath } from '../paths.ts'
import { buyPacks, MOST_PACKS } from './actions.ts'

const buyForm = z.object({
  packs: wholeNumber(`Enter how many packs, from 1 to ${MOST_PACKS}`, 1, MOST_PACKS),
  note: optionalText(200),
})

/** Packs of a supply that were bought, written in the ledger. */
export const buyingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const use = only(mayUseShelf)

  app.get(buySupplyPath(':id'), { ...use, schema: { params: idParams } }, async (request, reply) => {
    const supply = await findSupply(app.prisma, request.asking, request.params.id)
    return reply.page('shelf/buy', buyPage(blankForm({ packs: '1' }), supply, formatFor(request.asking.coop)))
  })

  app.post(buySupplyPath(':id'), { ...use, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const { id } = request.params
    await findSupply(app.prisma, request.asking, id)
    return answerForm(reply, readForm(buyForm, request.body), {
      show: async (form, status) => {
        const supply = await findSupply(app.prisma, request.asking, id)
        return reply.page('shelf/buy', buyPage(form, supply, formatFor(request.asking.coop)), { status })
      },
      act: async (transaction, values) => {
        await buyPacks(writingOf(request, transaction), id, values)
        return suppliesPath()
      },
    })
  })
}

function buyPage(form: TypedForm, supply: Supply, format: ReturnType<typeof formatFor>) {
  const { id, name, unit, packSize, onHand } = supply
  const amount = (many: number): string =>
    unit === 'g' ? format.weight(many) : unit === 'ml' ? format.volume(many) : format.number(many)
  return {
    title: `${name} bought`,
    place: 'coop' as const,
    sentence: `${amount(onHand)} on hand; a pack has ${amount(packSize)}.`,
    action: buySupplyPath(id),
    back: supplyPath(id),
    form: formModel(
      {
        packs: numberField(form, { name: 'packs', label: 'Packs that were bought' }),
        note: textField(form, { name: 'note', label: 'Where, or for how much', optional: true }),
      },
      form,
    ),
  }
}
