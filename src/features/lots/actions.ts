import type { RipenessClass, Storage } from '../../core/produce/index.ts'
import { conflict, refused } from '../../errors.ts'
import { refuseProblems } from '../../web/answers.ts'
import { noteChange, noteChanges, type Writing } from '../changes/index.ts'
import type { Lot, LotChange, LotValues } from './lot.ts'
import { lotName } from './names.ts'
import { findLot, insertLot, insertLots, insertSorting, listNeighbours, listSortings, updateLot } from './queries.ts'
import { beforeLastSorting, correctedArrival, isUnsorted, type Sorted, setDown, sortLot } from './sorting.ts'
import { standingOn } from './standing.ts'

/** A lot to be taken in, all of it in one class. */
export type Intake = LotValues & { class: RipenessClass }

/** Takes a lot in, with its first sorting; refuses a household that is not there. */
export async function takeIn(writing: Writing, { class: named, ...values }: Intake): Promise<Lot> {
  await refuseUnknownHousehold(writing, values.householdId)
  const id = await insertLot(writing, values)
  await insertSorting(writing, id, arrivalOf(values, named))
  await noteChange(writing, 'lot', id, `${lotName(values)} taken in, ${values.weightTyped}`)
  return findLot(writing.transaction, writing.asking, id)
}

/** Takes many lots in, each as `takeIn` does; as many statements whatever their number. */
export async function takeInMany(writing: Writing, intakes: readonly Intake[]): Promise<void> {
  await refuseUnknownHousehold(writing, ...intakes.map((intake) => intake.householdId))
  const lots = intakes.map(({ class: named, ...values }) => ({ ...values, sorting: arrivalOf(values, named) }))
  const ids = await insertLots(writing, lots)
  const changes = ids.flatMap((nounId, at) => {
    const lot = lots[at]
    return lot === undefined ? [] : [{ nounId, what: `${lotName(lot)} taken in, ${lot.weightTyped}` }]
  })
  await noteChanges(writing, 'lot', changes)
}

function arrivalOf({ arrivedOn, weightGrams }: LotValues, named: RipenessClass) {
  const grams = { firm: 0, ripe: 0, soft: 0, damaged: 0, [named]: weightGrams }
  const none = { setAsideGrams: 0, lostGrams: 0, usedGrams: 0 }
  return { sortedOn: arrivedOn, grams, ...none, how: 'arrival', note: null } as const
}

/** Another weight for a lot that nobody has sorted yet. */
export type Reweighed = { grams: number; typed: string }

/** Changes what is given. Another weight is refused once the lot was sorted or moved: sorting again corrects it then. */
export async function changeLot(
  writing: Writing,
  id: string,
  version: number,
  change: LotChange & { weight?: Reweighed },
): Promise<Lot> {
  const { transaction, asking } = writing
  const { weight, ...values } = change
  if (values.householdId !== undefined) await refuseUnknownHousehold(writing, values.householdId)
  const before = await findLot(transaction, asking, id)
  await updateLot(writing, id, version, {
    ...values,
    ...(weight === undefined ? {} : { weightGrams: weight.grams, weightTyped: weight.typed }),
  })
  if (weight !== undefined) {
    if (!isUnsorted(await listSortings(transaction, asking, id))) {
      const words = 'Sort the lot again to correct its weight: it was sorted or moved since it came in'
      throw refused(words, { weight: words })
    }
    const corrected = correctedArrival(before.sorting, weight.grams)
    await insertSorting(writing, id, { ...corrected, how: 'corrected', note: null })
  }
  await noteChange(writing, 'lot', id, `${lotName(before)} changed`)
  return findLot(transaction, asking, id)
}

/**
 * Moves a lot to another storage. What it is on that morning is set down as a sorting, because the forecast from the
 * older one holds for the old place only.
 */
export async function moveLot(
  writing: Writing,
  id: string,
  version: number,
  { storage, today }: { storage: Storage; today: string },
): Promise<Lot> {
  const { transaction, asking } = writing
  const before = await findLot(transaction, asking, id)
  refuseClosed(before)
  if (before.storage === storage) {
    throw refused('It is there already. Choose another place.', {
      storage: 'It is there already: choose another place',
    })
  }
  await updateLot(writing, id, version, { storage })
  await insertSorting(writing, id, { ...setDown(standingOn(before, today)), how: 'moved', note: null })
  await noteChange(writing, 'lot', id, `${lotName(before)} moved from ${before.storage} to ${storage}`)
  return findLot(transaction, asking, id)
}

/** Sorts what is there today; the older sortings stay as history. */
export async function sortAgain(
  writing: Writing,
  id: string,
  version: number,
  { sorted, note, today }: { sorted: Sorted; note: string | null; today: string },
): Promise<Lot> {
  const { transaction, asking } = writing
  const before = await findLot(transaction, asking, id)
  refuseClosed(before)
  await updateLot(writing, id, version, {})
  const found = sortLot(standingOn(before, today), sorted)
  if (!found.ok) {
    refuseProblems(found.problems)
    throw new Error('a sorting was refused without a problem')
  }
  await insertSorting(writing, id, { ...found.sorting, how: sorted.how, note })
  await noteChange(writing, 'lot', id, `${lotName(before)} sorted by ${sorted.how === 'weights' ? 'weight' : 'share'}`)
  return findLot(transaction, asking, id)
}

/** Takes the last sorting by hand back: the state before it is set down again, and the history shows both. */
export async function takeBackSorting(writing: Writing, id: string, version: number): Promise<Lot> {
  const { transaction, asking } = writing
  const lot = await findLot(transaction, asking, id)
  refuseClosed(lot)
  await updateLot(writing, id, version, {})
  const before = beforeLastSorting(await listSortings(transaction, asking, id))
  if (before === null) throw refused('There is no sorting to take back: the last step was not one.')
  const { sortedOn, grams, setAsideGrams, lostGrams, usedGrams } = before
  const again = { sortedOn, grams, setAsideGrams, lostGrams, usedGrams }
  await insertSorting(writing, id, { ...again, how: 'taken-back', note: null })
  await noteChange(writing, 'lot', id, `last sorting of ${lotName(lot)} taken back`)
  return findLot(transaction, asking, id)
}

/** Closes a lot on a date (nothing of it is left to plan with), or reopens it with null. */
export async function closeLot(writing: Writing, id: string, version: number, closedOn: string | null): Promise<Lot> {
  const { transaction, asking } = writing
  const before = await findLot(transaction, asking, id)
  await updateLot(writing, id, version, { closedOn })
  await noteChange(writing, 'lot', id, `${lotName(before)} ${closedOn === null ? 'opened again' : 'closed'}`)
  return findLot(transaction, asking, id)
}

function refuseClosed({ closedOn }: Lot): void {
  if (closedOn !== null) throw conflict('This lot is closed. Open it again first.')
}

async function refuseUnknownHousehold(
  { transaction, asking }: Writing,
  ...householdIds: (string | null)[]
): Promise<void> {
  const named = new Set(householdIds.filter((id) => id !== null))
  if (named.size === 0) return
  for (const { householdId } of await listNeighbours(transaction, asking)) named.delete(householdId)
  if (named.size === 0) return
  throw refused('Choose a household of the co-op.', { householdId: 'Choose a household of the co-op, or none' })
}
