import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Pack, PackRun, Recipe } from './recipe.ts'
import { verdictOn } from './verdict.ts'
import type { Departure, KitchenPlace, PackVerdict } from './verdict-types.ts'

/** A recipe as it can be divided with here, and the packs that cannot stand on a shelf here, with what differs. */
export type SettledRecipe = { recipe: Recipe; leftOut: { pack: string; departures: Departure[] }[] }

/**
 * A recipe as the division should see it. Runs that are heated (`process: true`) keep each of their machines busy for
 * the tested minutes at this altitude as well, the longest of the gauges at hand; that done, they no longer ask for it.
 * Packs that are canned and follow no tested process are left out. A recipe that is not canned comes back as it is.
 */
export function settleRecipe(recipe: Recipe, place: KitchenPlace): SettledRecipe {
  const verdict = verdictOn(recipe, place)
  const leftOut: SettledRecipe['leftOut'] = []
  const packs: Pack[] = []
  for (const [number, pack] of recipe.definition.packs.entries()) {
    const found = verdict.packs[number]
    if (found === undefined || found.standing === 'not-canned') packs.push(pack)
    else if (found.shelfStable) packs.push(withProcess(pack, minutesOf(found)))
    else leftOut.push({ pack: pack.key, departures: found.departures })
  }
  return { recipe: { ...recipe, definition: { ...recipe.definition, packs } }, leftOut }
}

function minutesOf({ process, local }: PackVerdict): number {
  return process?.minutes ?? local?.minutes ?? 0
}

function withProcess(pack: Pack, minutes: number): Pack {
  return { ...pack, runs: pack.runs.map((run) => (run.process ? heated(run, minutes) : run)) }
}

function heated(run: PackRun, minutes: number): PackRun {
  const machineMinutes: Partial<Record<EquipmentKind, number>> = {}
  for (const [kind, many] of Object.entries(run.machineMinutes) as [EquipmentKind, number][]) {
    machineMinutes[kind] = many + minutes
  }
  return { ...run, machineMinutes, process: false }
}
