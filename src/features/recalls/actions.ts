import { conflict, refused } from '../../errors.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { findRecall, insertRecall, lockBatches, markLifted, type Recall, releaseBatches } from './queries.ts'

/** So many batches go into one recall at most. */
export const MOST_BATCHES = 200

export type RecallValues = { batchIds: readonly string[]; reason: string; todo: string }

/**
 * Recalls batches: from now on nothing of them can be taken, given, shared out or used. Who is taking of them at this
 * moment is waited for, and then stands among those to tell. Refused for no batch, and for one that is not there.
 */
export async function recallBatches(writing: Writing, values: RecallValues): Promise<Recall> {
  const batchIds = [...new Set(values.batchIds)]
  if (batchIds.length === 0) refuse('Choose at least one batch')
  if (batchIds.length > MOST_BATCHES) refuse(`Choose ${MOST_BATCHES} batches or fewer: make several recalls`)
  if ((await lockBatches(writing, batchIds)) < batchIds.length) refuse('Choose from the batches of this co-op')
  const id = await insertRecall(writing, { ...values, batchIds })
  const recall = await findRecall(writing.transaction, writing.asking, id)
  await noteChange(writing, 'recall', id, `${recall.batches.map(({ code }) => code).join(', ')} recalled`)
  return recall
}

/** Lifts a recall: its batches can be taken again, save those for which another recall stands. A conflict where it was lifted before. */
export async function liftRecall(writing: Writing, id: string): Promise<Recall> {
  const { batches } = await findRecall(writing.transaction, writing.asking, id)
  if (!(await markLifted(writing, id))) throw conflict('Somebody lifted this recall already.')
  const batchIds = batches.map((batch) => batch.id)
  // The lock before the look at other recalls: of two that are lifted at once, the second sees that the first is.
  await lockBatches(writing, batchIds)
  await releaseBatches(writing, batchIds)
  await noteChange(writing, 'recall', id, `recall of ${batches.map(({ code }) => code).join(', ')} lifted`)
  return findRecall(writing.transaction, writing.asking, id)
}

function refuse(words: string): never {
  throw refused(`${words}.`, { batchIds: words })
}
