import type { Asking } from '../../web/asking.ts'
import { checkboxesField, formModel, textareaField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { recallsPath } from './paths.ts'
import type { RecalledBatch } from './queries.ts'
import { botulismCaution, healthAuthority, standardTodo } from './texts.ts'
import { batchName } from './trace/parts.ts'
import type { TracedBatch } from './trace/queries.ts'

/** What the form was opened from, and the batches that it offers. */
export type Offered = {
  from: { batchId?: string; lotId?: string }
  /** "of damsons of 4 Sep": what the batches have in common; '' for none. */
  common: string
  batches: TracedBatch[]
  kinds: Pick<RecalledBatch, 'method' | 'process'>[]
}

/** What a new form begins with: every batch ticked. */
export function recallTyped({ batches }: Offered) {
  return { batchIds: batches.map(({ id }) => id), codes: '', reason: '', todo: standardTodo, reach: '' }
}

export function recallFormPage(form: TypedForm, { from, common, batches, kinds }: Offered, { coop, name }: Asking) {
  const format = formatFor(coop)
  const codes = textField(form, {
    name: 'codes',
    label: batches.length === 0 ? 'Codes of the batches' : 'Other batches, by their codes',
    hint: 'As on the labels, with a space between them.',
    optional: batches.length > 0,
  })
  const texts = {
    reason: textareaField(form, { name: 'reason', label: 'What is wrong', hint: 'What was found, and when.', rows: 3 }),
    todo: textareaField(form, { name: 'todo', label: 'What people should do', rows: 6 }),
    reach: textField(form, {
      name: 'reach',
      label: `How to reach you, ${name}`,
      hint: 'A telephone number, or where you are.',
    }),
  }
  const boxes = checkboxesField(form, {
    name: 'batchIds',
    label: common === '' ? 'Batches' : `Batches ${common}`,
    hint: 'Leave out a tick only where you are certain of that batch.',
    options: batches.map((batch) => ({
      value: batch.id,
      text: batchName(batch),
      hint: `${format.count(batch.units, batch.unit, batch.unitsName)}, made on ${format.date(batch.madeOn)}${batch.recalled ? ', recalled already' : ''}`,
    })),
  })
  return {
    title: 'Recall',
    place: 'shelf' as const,
    action: recallsPath(),
    fromBatch: from.batchId ?? '',
    fromLot: from.lotId ?? '',
    nothingMade: from.lotId !== undefined && batches.length === 0,
    boxes: batches.length > 0 ? boxes : null,
    cautions: [botulismCaution(kinds), healthAuthority].filter((text) => text !== ''),
    back: recallsPath(),
    form: formModel(batches.length > 0 ? { batchIds: boxes, codes, ...texts } : { codes, ...texts }, form),
  }
}
