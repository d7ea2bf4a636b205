import { type RipenessClass, ripenessClasses } from '../../core/produce/index.ts'
import { conflict } from '../../errors.ts'
import { refuseProblems } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import type { Lot } from './lot.ts'
import { classWords, lotName } from './names.ts'
import { findLot, insertSorting, lockLots } from './queries.ts'
import { standingOn } from './standing.ts'
import { lotAfterUse, type TakenGrams } from './used.ts'

/** What a batch took out of one lot, whole grams by class; classes of which nothing was taken may be missing. */
export type LotUse = { lotId: string; grams: Partial<TakenGrams> }

/** The form's field for what was taken of a class; refusals of `useLots` name it. */
export const usedField = (lotId: string, name: RipenessClass): string => `lot.${lotId}.${name}`

/**
 * Takes out of lots what a batch used. Each lot's forecast on that morning, or on that of its newest sorting where that
 * is later, is set down less what was taken. Lots that two batches use at once are taken out of one after the other.
 *
 * @param more on: ISO date on which it was taken; `sure`: take more than the forecast has; `note`: which batch
 * @returns the lots as they were before
 * @throws not-found for a lot of another co-op as for none; conflict for a closed one; refused by `usedField`, or at
 * `sure`, where more was taken than should be there
 */
export async function useLots(
  writing: Writing,
  uses: readonly LotUse[],
  { on, sure, note }: { on: string; sure: boolean; note: string },
): Promise<Lot[]> {
  const { transaction, asking } = writing
  await lockLots(
    writing,
    uses.map(({ lotId }) => lotId),
  )
  const format = formatFor(asking.coop)
  const problems: Record<string, string> = {}
  const lots: Lot[] = []
  for (const { lotId, grams } of uses) {
    const lot = await findLot(transaction, asking, lotId)
    lots.push(lot)
    const name = lotName(lot)
    if (lot.closedOn !== null) throw conflict(`The ${name} are closed: open that lot again first.`)
    const taken: TakenGrams = { firm: 0, ripe: 0, soft: 0, damaged: 0, ...grams }
    const morning = on > lot.sorting.sortedOn ? on : lot.sorting.sortedOn
    const after = lotAfterUse(standingOn(lot, morning), taken, sure)
    if (after.ok) {
      await insertSorting(writing, lotId, { ...after.sorting, how: 'used', note })
      const all = ripenessClasses.reduce((sum, one) => sum + taken[one], 0)
      await noteChange(writing, 'lot', lotId, `${format.weight(all)} of ${name} used in ${note}`)
    } else if ('problem' in after) problems[usedField(lotId, 'ripe')] = after.problem
    else
      for (const [short, there] of Object.entries(after.short) as [RipenessClass, number][])
        problems[usedField(lotId, short)] =
          `${format.weight(there)} of the ${name} should be ${classWords[short].name}: weigh again, or tick that so much was taken`
  }
  const [first] = Object.values(problems)
  refuseProblems(first === undefined ? {} : { ...problems, sure: 'Tick this when the weights of the lots are right' })
  return lots
}
