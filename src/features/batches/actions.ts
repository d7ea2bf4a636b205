import { refused } from '../../errors.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { listHelpers } from '../helpers/queries.ts'
import type { BatchChange } from './batch.ts'
import { findBatch, updateBatch } from './queries.ts'

/**
 * Corrects what is written of a batch. Helpers who left since stay named; its units are changed on the shelf alone.
 *
 * @throws conflict where somebody changed it meanwhile; refused for a helper of another co-op and for a best-by date
 * before the day on which it was made
 */
export async function changeBatch(writing: Writing, id: string, version: number, change: BatchChange): Promise<void> {
  const { transaction, asking } = writing
  const { product, code, madeOn, helpers: before } = await findBatch(transaction, asking, id)
  if (change.bestBy !== null && change.bestBy < madeOn) {
    const words = 'Enter a day that is not before it was made'
    throw refused(words, { bestBy: words })
  }
  const known = (await listHelpers(transaction, asking)).filter((helper) => change.helperIds.includes(helper.id))
  if (known.length !== new Set(change.helperIds).size) {
    const words = 'Choose from the helpers shown'
    throw refused(words, { helpers: words })
  }
  const gone = before.filter(({ helperId }) => helperId === null)
  const helpers = [...known.map(({ id: helperId, name }) => ({ name, helperId })), ...gone]
  const { note, bestBy, handMinutes } = change
  await updateBatch(writing, id, version, { note, bestBy, handMinutes, helpers })
  await noteChange(writing, 'batch', id, `${product} ${code} corrected`)
}
