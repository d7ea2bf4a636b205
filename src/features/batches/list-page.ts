import type { CoopWays } from '../../web/asking.ts'
import { formModel, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import { blankForm } from '../../web/forms.ts'
import { unitsText } from '../shelf/index.ts'
import { batchesPath, batchPath, newBatchPath } from './paths.ts'
import type { BatchLine } from './queries.ts'

/** Batches, newest first. */
export function batchesPage(
  { batches, more }: { batches: readonly BatchLine[]; more: boolean },
  { page, q }: { page: number; q: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const form = blankForm({ q })
  const at = (number: number) =>
    `${batchesPath()}?${new URLSearchParams({ ...(q === '' ? {} : { q }), page: String(number) }).toString()}`
  return {
    title: 'Batches',
    place: 'shelf' as const,
    add: newBatchPath(),
    action: batchesPath(),
    none:
      q === '' ? 'Nothing was finished yet. What is finished stands here with its code.' : `No batch is called “${q}”.`,
    rows: batches.map((batch) => ({
      href: batchPath(batch.id),
      name: batch.variety === null ? batch.product : `${batch.product} (${batch.variety})`,
      code: batch.code,
      made: format.date(batch.madeOn),
      units: unitsText(batch.units, batch, format),
      bestBy: batch.bestBy === null ? '' : format.date(batch.bestBy),
      recalled: batch.recalled,
    })),
    newer: page > 1 ? at(page - 1) : '',
    older: more ? at(page + 1) : '',
    form: formModel({ q: textField(form, { name: 'q', label: 'Product, variety or code', optional: true }) }, form),
  }
}
