import { bestByOf, type Judged, judgeBatch, keepingIn } from '../../core/batches/index.ts'
import type { SealCheck } from '../../core/process/record.ts'
import type { Keeping } from '../../core/shelf/index.ts'
import { refused } from '../../errors.ts'
import { refuseProblems } from '../../web/answers.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { type Lot, type LotUse, useLots } from '../lots/index.ts'
import { jarBatchFor, writeEntry } from '../shelf/index.ts'
import { findPlace, type Place } from '../shelf/places/queries.ts'
import type { Finish } from './batch.ts'
import { finishProblems } from './check.ts'
import {
  cannedBatch,
  cropsOf,
  gramsOfOne,
  handMinutesFor,
  type Making,
  materialsOf,
  productsMaking,
  readMaking,
} from './making.ts'
import { plannedBatch, refuseFinished } from './planned.ts'
import { processStored, type StoredProcess } from './process-document.ts'
import { findJars, finishedOfPlan, insertBatch, type NewBatch, nextNumber } from './queries.ts'
import { useSupplies } from './supplies.ts'
import { departureWords, processField } from './words.ts'

/**
 * Finishes a batch: gives it the co-op's next number, takes its produce out of the lots, jars and supplies it used, and
 * puts what came of it on the shelf. All in the transaction of `writing`.
 *
 * What departs from the tested process of its recipe, or has none, is put in a refrigerator or freezer only; a pantry or
 * a cellar is refused with what differs.
 *
 * @returns the batch's id
 * @throws refused by field (names of the form); conflict where fewer jars are left than were used, a lot is closed, or
 * somebody finished that planned batch meanwhile; not-found for things of another co-op
 */
export async function finishBatch(writing: Writing, finish: Finish): Promise<string> {
  const { transaction, asking } = writing
  const making = await readMaking(transaction, asking, finish.recipeId, finish.pack)
  const planned = finish.plan === null ? null : await plannedBatch(transaction, asking, finish.plan)
  if (planned !== null && (planned.recipeId !== finish.recipeId || planned.pack !== finish.pack))
    throw refused('The plan has another product there: begin again from the plan.')
  const checked = await finishProblems(writing, making, finish)
  const place = await openPlace(writing, finish.placeId)
  const { keeping, process } = keepingAndProcess(writing, making, finish, place, checked.problems)
  refuseProblems(checked.problems)
  if (keeping === null) throw new Error('a place that does not keep it was not refused')

  const jars = await jarsUsed(writing, making, finish)

  // From here on whoever else finishes a batch waits: all that only reads stands above.
  const { number, code } = await nextNumber(writing)
  // Two that finish the same planned batch at once: the second finds it done.
  if (finish.plan !== null && planned !== null)
    refuseFinished(planned.id, await finishedOfPlan(transaction, asking, finish.plan.planId, planned.since))
  const note = `batch ${code}`
  const lots = await useLots(writing, usesOf(finish), { on: finish.madeOn, sure: finish.sure, note })
  const inGrams = sum(finish.lots.map(({ grams }) => grams)) + sum(jars.map(({ grams }) => grams)) + finish.otherGrams
  const id = await insertBatch(writing, {
    number,
    code,
    ...madeOf(making, lots),
    keeping,
    madeOn: finish.madeOn,
    bestBy:
      finish.bestBy ?? bestByOf({ method: making.recipe.method, keeping, crops: cropsIn(making, lots) }, finish.madeOn),
    planId: finish.plan?.planId ?? null,
    planned: finish.plan?.planned ?? null,
    inGrams,
    units: finish.units,
    unsealed: finish.unsealedWent === 'reprocessed' ? 0 : finish.unsealed,
    handMinutes: finish.handMinutes,
    ...expectedOf(making, inGrams),
    process,
    allergens: finish.allergens,
    note: finish.note,
    inputs: [...finish.lots.filter(({ grams }) => grams > 0), ...jars],
    trim: finish.trim.filter(({ grams }) => grams > 0),
    helpers: checked.helpers,
  })
  await noteChange(writing, 'batch', id, `${making.recipe.name} ${code} finished`)
  for (const { jarBatchId, units } of [...jars].sort((a, b) => (a.jarBatchId < b.jarBatchId ? -1 : 1)))
    await writeEntry(writing, { jarBatchId, kind: 'use', units: -units, note })
  await useSupplies(writing, making, finish, { batchId: id, note })
  const jarBatchId = await jarBatchFor(writing, { batchId: id, placeId: place.id, householdId: finish.householdId })
  if (finish.units > 0) await writeEntry(writing, { jarBatchId, kind: 'put', units: finish.units })
  return id
}

async function openPlace({ transaction, asking }: Writing, id: string): Promise<Place> {
  const place = await findPlace(transaction, asking, id)
  if (place.closed)
    throw refused(`${place.name} is closed.`, { placeId: `${place.name} is closed: choose another place` })
  return place
}

/** What it is kept in there, and its process record; adds to the problems what keeps it out of that place. */
function keepingAndProcess(
  { asking }: Writing,
  making: Making,
  finish: Finish,
  place: Place,
  problems: Record<string, string>,
): { keeping: Keeping | null; process: StoredProcess | null } {
  const { method, definition } = making.recipe
  if (!making.canned || finish.process === null) {
    const keeping = keepingIn(method, false, place.kind)
    if (keeping === null && making.canned) {
      problems['placeId'] ??= departureWords(making, null)
      if (making.verdict.shelfStable) problems['process.reachedAt'] ??= 'Enter when it was reached, like 14:05'
    } else if (keeping === null) problems['placeId'] ??= `${place.name} does not keep it: choose another place`
    return { keeping, process: null }
  }
  const { units, unsealed, unsealedWent } = finish
  const again = unsealedWent === 'reprocessed' ? unsealed : 0
  const jarsIn = units + unsealed - again
  const seals = sealsOf(finish, units - again)
  const { altitudeM } = asking.coop
  const { sealsCheckedAt: _, ...noted } = finish.process
  const judged = judgeBatch(cannedBatch(making, { altitudeM, jarsIn, notes: finish.note ?? '' }), { ...noted, seals })
  for (const { kind, says } of judged.problems) if (kind === 'kept-late') problems['unsealedWent'] ??= says
  const keeping = keepingIn(method, judged.shelfStable, place.kind)
  if (keeping === null) refuseShelf(making, judged, place, problems)
  const facts = { seals, jarsIn, altitudeM, pack: definition.process?.pack ?? null }
  return { keeping, process: processStored(finish.process, judged, facts) }
}

function refuseShelf(making: Making, judged: Judged, place: Place, problems: Record<string, string>): void {
  if (judged.shelfStable) {
    problems['placeId'] ??= `${place.name} is a freezer, where glass cracks and a seal can lift: choose another place`
    return
  }
  problems['placeId'] ??= departureWords(making, judged)
  for (const { at, says } of judged.problems) if (at !== 'recipe') problems[processField(at)] ??= says
}

function sealsOf({ process, unsealed, unsealedWent }: Finish, sealed: number): SealCheck | null {
  if (process === null || process.sealsCheckedAt === null) return null
  const at = process.sealsCheckedAt
  const notSealed = unsealed > 0 && unsealedWent !== null ? [{ jars: unsealed, went: unsealedWent, at }] : []
  return { checkedAt: at, by: process.by[0] ?? '', sealed, broken: 0, notSealed }
}

function usesOf({ lots }: Finish): LotUse[] {
  const byLot = new Map<string, LotUse>()
  for (const { lotId, class: name, grams } of lots) {
    if (grams === 0) continue
    const use = byLot.get(lotId) ?? { lotId, grams: {} }
    use.grams[name] = (use.grams[name] ?? 0) + grams
    byLot.set(lotId, use)
  }
  return [...byLot.values()]
}

/** Jars of other batches that went in, with their grams. They must be of what the recipe takes. */
async function jarsUsed(
  { transaction, asking }: Writing,
  making: Making,
  finish: Finish,
): Promise<{ jarBatchId: string; units: number; grams: number }[]> {
  const used = finish.jars.filter(({ units }) => units > 0)
  if (used.length === 0) return []
  const products = await productsMaking(transaction, asking, materialsOf(making).made)
  const lines = await findJars(
    transaction,
    asking,
    used.map(({ jarBatchId }) => jarBatchId),
  )
  return used.map(({ jarBatchId, units, grams }) => {
    const line = lines.find((one) => one.jarBatchId === jarBatchId)
    const each = line === undefined ? null : gramsOfOne(products, line)
    const field = `jars.${jarBatchId}.units`
    if (each === null)
      throw refused('This recipe is not made of such jars.', { [field]: 'This recipe is not made of such jars' })
    return { jarBatchId, units, grams: grams ?? units * each }
  })
}

/** What is written down of recipe and pack, so that it stays true when the recipe changes. */
function madeOf({ recipe, pack }: Making, lots: readonly Lot[]) {
  const varieties = new Set(lots.map(({ crop, variety }) => (variety === null ? null : `${crop} ${variety}`)))
  return {
    recipeId: recipe.id,
    recipeVersion: recipe.version,
    pack: pack.key,
    product: recipe.name,
    variety: varieties.size === 1 ? (lots[0]?.variety ?? null) : null,
    method: recipe.method,
    unit: pack.unit,
    unitsName: pack.units,
    jar: pack.jar,
    worthMinor: pack.worthMinor,
  } satisfies Partial<NewBatch>
}

/** What the recipe as it stands says of so much, whatever was planned: batches are learnt from against it. */
function expectedOf(making: Making, inGrams: number) {
  const expectedUnits = inGrams / making.pack.gramsPerUnit
  return { expectedUnits, expectedHandMinutes: handMinutesFor(making, expectedUnits) }
}

function cropsIn(making: Making, lots: readonly Lot[]): string[] {
  return lots.length === 0 ? cropsOf(making) : [...new Set(lots.map(({ crop }) => crop))]
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0)
}
