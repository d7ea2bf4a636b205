import { keepsIn } from '../../../core/shelf/index.ts'
import { refused } from '../../../errors.ts'
import type { Writing } from '../../changes/index.ts'
import { countStock, moveUnits, writeEntry } from '../ledger.ts'
import { findPlace } from '../places/queries.ts'
import { keepingWords } from '../words.ts'
import { findLine, hasHousehold } from './queries.ts'

/** How many, above 0; what was noted. */
export type Amount = { units: number; note: string | null }

/** A household takes units for itself. */
export async function takeUnits(
  writing: Writing,
  id: string,
  { units, householdId }: { units: number; householdId: string },
): Promise<void> {
  await checkHousehold(writing, householdId, 'Choose who takes them')
  await writeEntry(writing, { jarBatchId: id, kind: 'take', units: -units, householdId })
}

/** Units go to somebody outside the co-op. */
export async function giveUnits(writing: Writing, id: string, { units, note }: Amount): Promise<void> {
  await writeEntry(writing, { jarBatchId: id, kind: 'give', units: -units, note })
}

/** Units broke, spoiled or were thrown out. */
export async function breakUnits(writing: Writing, id: string, { units, note }: Amount): Promise<void> {
  await writeEntry(writing, { jarBatchId: id, kind: 'break', units: -units, note })
}

/**
 * Units go to another place or owner (null: shared). Refused for a place that does not keep them: what was frozen stays
 * frozen.
 *
 * @returns the line on which they stand now
 */
export async function moveLine(
  writing: Writing,
  id: string,
  { units, placeId, householdId }: { units: number; placeId: string; householdId: string | null },
): Promise<string> {
  const { transaction, asking } = writing
  if (householdId !== null) await checkHousehold(writing, householdId, 'Choose whose they are')
  const { keeping } = await findLine(transaction, asking, id)
  const place = await findPlace(transaction, asking, placeId)
  if (!keepsIn(keeping, place.kind)) {
    const words = `They must be kept ${keepingWords[keeping]}: choose another place than ${place.name}`
    throw refused(words, { placeId: words })
  }
  return (await moveUnits(writing, id, { placeId, householdId }, units)).toId
}

/** Writes what was counted; a conflict where the stock is no longer what was shown. */
export async function countLine(
  writing: Writing,
  id: string,
  { shown, counted }: { shown: number; counted: number },
): Promise<void> {
  await countStock(writing, { jarBatchId: id }, shown, counted)
}

async function checkHousehold({ transaction, asking }: Writing, id: string, words: string): Promise<void> {
  if (!(await hasHousehold(transaction, asking, id))) throw refused(words, { householdId: words })
}
