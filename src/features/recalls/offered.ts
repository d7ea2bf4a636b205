import type { TransactionClient } from '../../db/transaction.ts'
import { refused } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import type { Typed } from '../../web/forms.ts'
import { lotName } from '../lots/index.ts'
import type { Offered } from './form-page.ts'
import type { RecallFormValues } from './forms.ts'
import { batchesByCode, batchesById } from './queries.ts'
import { batchName } from './trace/parts.ts'
import { batchesMadeOf, batchesOfLot, tracedBatches, tracedLot } from './trace/queries.ts'

/** The batches that a new recall offers: all of a lot, or one and what was made of it; none where neither is named. */
export async function offered(prisma: TransactionClient, asking: Asking, from: Offered['from']): Promise<Offered> {
  const { batchId, lotId } = from
  if (lotId === undefined && batchId === undefined) return { from, common: '', batches: [], kinds: [] }
  const ids =
    lotId === undefined
      ? await batchesMadeOf(prisma, asking, batchId === undefined ? [] : [batchId])
      : await batchesOfLot(prisma, asking, lotId)
  const batches = await tracedBatches(prisma, asking, ids)
  const kinds = await batchesById(prisma, asking, ids)
  return { from, common: await commonWords(prisma, asking, from, batches), batches, kinds }
}

async function commonWords(
  prisma: TransactionClient,
  asking: Asking,
  { batchId, lotId }: Offered['from'],
  batches: Offered['batches'],
): Promise<string> {
  if (lotId !== undefined) {
    const lot = await tracedLot(prisma, asking, lotId)
    return `made of ${lotName(lot)} of ${formatFor(asking.coop).date(lot.arrivedOn)}`
  }
  const itself = batches.find(({ id }) => id === batchId)
  return itself === undefined || batches.length === 1 ? '' : `that have ${batchName(itself)} in them`
}

/** What a sent form was opened from. */
export function fromTyped(typed: Typed): Offered['from'] {
  const { batch, lot } = typed
  if (typeof lot === 'string' && lot !== '') return { lotId: lot }
  return typeof batch === 'string' && batch !== '' ? { batchId: batch } : {}
}

/** All batches that a form names, ticked or by code. Refused where a code is no batch's. */
export async function namedBatches(
  prisma: TransactionClient,
  asking: Asking,
  { batchIds, codes }: RecallFormValues,
): Promise<string[]> {
  const byCode = await batchesByCode(prisma, asking, codes)
  const unknown = codes.filter((code) => !byCode.has(code))
  if (unknown.length > 0) {
    const words = `No batch here has the code ${unknown.join(', ')}: look at the labels again`
    throw refused(`${words}.`, { codes: words })
  }
  return [...batchIds, ...byCode.values()]
}
