import { formatFor } from '../../web/format.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { supplyAmount } from '../recipes/index.ts'
import { writeEntry } from '../shelf/index.ts'
import type { Finish } from './batch.ts'
import { type Making, suppliesFor } from './making.ts'
import { lockSupply } from './queries.ts'

/**
 * Takes what a batch used out of the supplies that the kitchen counts. Where fewer are noted than were used, the count
 * was wrong: it is raised first, and the batch's history says so.
 */
export async function useSupplies(
  writing: Writing,
  making: Making,
  finish: Finish,
  { batchId, note }: { batchId: string; note: string },
): Promise<void> {
  const format = formatFor(writing.asking.coop)
  const byRecipe = suppliesFor(making, finish.units + finish.unsealed)
  for (const [key, expected] of Object.entries(byRecipe).sort(([a], [b]) => (a < b ? -1 : 1))) {
    const used = finish.supplies[key] ?? expected
    if (used === 0) continue
    const supply = await lockSupply(writing, key)
    if (supply === null) continue
    const { id: supplyId, name, unit, onHand } = supply
    if (onHand < used) {
      await writeEntry(writing, { supplyId, kind: 'count', units: used - onHand, note: `more were there: ${note}` })
      const amounts = [onHand, used].map((amount) => supplyAmount(amount, unit, format))
      await noteChange(
        writing,
        'batch',
        batchId,
        `${name}: ${amounts[0]} noted, ${amounts[1]} used, so the count was raised first. Count what is left`,
      )
    }
    await writeEntry(writing, { supplyId, kind: 'use', units: -used, note })
  }
}
