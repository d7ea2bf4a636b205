import type { EquipmentOnHand } from '../division/question.ts'
import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Pack, PackRun, Recipe } from './recipe.ts'

const canners = ['canner', 'pressure-canner', 'steam-canner'] as const satisfies readonly EquipmentKind[]

/**
 * A recipe with canner loads that the canners at hand can hold: a run takes at most as many units as the smallest count
 * that is stated for its pack's jar among machines of its kind, as kinds are counted and not told apart. A load is never
 * made larger than the recipe says, and a size of which nothing is stated stays as it is.
 *
 * Minutes of a run are left alone, those of a load with a process too: the timetable puts stated minutes of coming up and
 * cooling down in their place. Brings back the same object when nothing changes, and never changes the one it was given.
 *
 * @throws RangeError for a stated count that is not a whole number of at least 1
 */
export function settleRuns(recipe: Recipe, equipment: readonly EquipmentOnHand[]): Recipe {
  const packs = recipe.definition.packs.map((pack) => settlePack(pack, equipment))
  if (packs.every((pack, number) => pack === recipe.definition.packs[number])) return recipe
  return { ...recipe, definition: { ...recipe.definition, packs } }
}

function settlePack(pack: Pack, equipment: readonly EquipmentOnHand[]): Pack {
  const runs = pack.runs.map((run): PackRun => {
    const most = mostIn(pack, run, equipment)
    return most < run.unitsPerRun ? { ...run, unitsPerRun: most } : run
  })
  return runs.every((run, number) => run === pack.runs[number]) ? pack : { ...pack, runs }
}

function mostIn({ jar }: Pack, run: PackRun, equipment: readonly EquipmentOnHand[]): number {
  const kinds = canners.filter((kind) => run.machineMinutes[kind] !== undefined)
  const counts = equipment.flatMap(({ kind, count, holds }) => {
    const held = jar === null || count === 0 || !kinds.some((one) => one === kind) ? undefined : holds?.[jar]
    return held === undefined ? [] : [held]
  })
  const wrong = counts.find((held) => !(Number.isSafeInteger(held) && held >= 1))
  if (wrong !== undefined) throw new RangeError(`a canner load is a whole number of jars, at least 1, not ${wrong}`)
  return Math.min(Number.POSITIVE_INFINITY, ...counts)
}
