import { todayIn } from '../../clock.ts'
import { isCanned } from '../../core/recipes/index.ts'
import type { Writing } from '../changes/index.ts'
import { listHelpers, listHouseholds } from '../helpers/queries.ts'
import { usedField } from '../lots/index.ts'
import { listLots } from '../lots/queries.ts'
import { listOutlets } from '../outlets/index.ts'
import type { Finish } from './batch.ts'
import { cropsOf, type Making, suppliesFor } from './making.ts'

/**
 * What is wrong with a batch as it was entered, in words by the form's field, save what its place and its lots decide;
 * and the helpers by name.
 */
export async function finishProblems(
  { transaction, asking, now }: Writing,
  making: Making,
  finish: Finish,
): Promise<{ problems: Record<string, string>; helpers: { name: string; helperId: string }[] }> {
  const problems: Record<string, string> = {}
  const today = todayIn({ now: () => now }, asking.coop.timeZone)
  if (finish.madeOn > today) problems['madeOn'] = 'Enter today or a day before'
  if (finish.bestBy !== null && finish.bestBy < finish.madeOn)
    problems['bestBy'] = 'Enter a day that is not before it was made'
  for (const [name, instant] of [
    ['process.endedAt', finish.process?.endedAt],
    ['process.sealsAt', finish.process?.sealsCheckedAt],
  ] as const)
    if (instant != null && Date.parse(instant) > now.getTime())
      problems[name] = 'Enter a time that is not still to come'
  whatWentIn(finish, problems)
  whatCameOut(making, finish, problems)

  const crops = cropsOf(making)
  const lots = finish.lots.length === 0 ? [] : await listLots(transaction, asking)
  for (const { lotId, class: name } of finish.lots) {
    const lot = lots.find(({ id }) => id === lotId)
    if (lot !== undefined && !crops.includes(lot.crop))
      problems[usedField(lotId, name)] = `${making.recipe.name} is not made of that: choose another lot`
  }
  const outlets = new Set((await listOutlets(transaction, asking)).map(({ id }) => id))
  for (const { kind, outletId } of finish.trim)
    if (outletId !== null && !outlets.has(outletId)) problems[`trim.${kind}.outlet`] = 'Choose one of the outlets shown'
  const known = suppliesFor(making, 1)
  for (const key of Object.keys(finish.supplies))
    if (known[key] === undefined) problems[`supply.${key}`] = 'The recipe does not take that'
  if (finish.householdId !== null) {
    const households = await listHouseholds(transaction, asking)
    if (!households.some(({ id }) => id === finish.householdId)) problems['householdId'] = 'Choose whose they are'
  }
  const helpers = (await listHelpers(transaction, asking)).filter(({ id }) => finish.helperIds.includes(id))
  if (new Set(finish.helperIds).size !== helpers.length) problems['helpers'] = 'Choose from the helpers shown'
  return { problems, helpers: helpers.map(({ id, name }) => ({ helperId: id, name })) }
}

function whatWentIn({ lots, jars, otherGrams }: Finish, problems: Record<string, string>): void {
  const something = otherGrams > 0 || lots.some(({ grams }) => grams > 0) || jars.some(({ units }) => units > 0)
  if (!something) problems[''] = 'Enter what went in: a weight of one lot at least'
}

function whatCameOut({ recipe, pack }: Making, finish: Finish, problems: Record<string, string>): void {
  const { units, unsealed, unsealedWent, process } = finish
  if (units + unsealed === 0) problems['units'] = `Enter how many ${pack.units} were filled`
  if (unsealed === 0) return
  if (!isCanned(recipe.method)) problems['unsealed'] = 'Only jars that were canned can fail to seal: enter 0'
  else if (unsealedWent === null) problems['unsealedWent'] = 'Say what became of the jars that did not seal'
  else if (unsealedWent === 'reprocessed' && unsealed > units)
    problems['units'] = 'Count the jars that were processed again among those filled'
  if (process?.sealsCheckedAt === null || process === null)
    problems['process.sealsOn'] =
      'Say when the seals were tried: an unsealed jar must be cold or processed again within a day'
}
