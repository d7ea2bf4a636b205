import { refused } from '../../../errors.ts'
import type { Writing } from '../../changes/index.ts'
import { findSupply } from '../../supplies/queries.ts'
import { MOST_HELD, writeEntry } from '../ledger.ts'

/** No more packs are bought at once. */
export const MOST_PACKS = 10_000

/**
 * Writes packs of a supply that were bought. Not found for a supply that is not there; refused where there would be more
 * on hand than can be.
 *
 * @returns the entry's id
 */
export async function buyPacks(
  writing: Writing,
  supplyId: string,
  { packs, note }: { packs: number; note: string | null },
): Promise<string> {
  const { packSize, onHand } = await findSupply(writing.transaction, writing.asking, supplyId)
  const most = Math.max(0, Math.floor((MOST_HELD - onHand) / packSize))
  if (packs > most) {
    const words = `So many packs are more than can be on hand: enter ${most} at most`
    throw refused(words, { packs: words })
  }
  return (await writeEntry(writing, { supplyId, kind: 'buy', units: packs * packSize, note })).id
}
