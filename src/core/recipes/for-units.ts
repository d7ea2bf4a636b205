import type { EquipmentKind, WorkKind } from '../produce/vocabulary.ts'
import { packSupplies } from './pack-supplies.ts'
import type { Pack, RecipeDefinition, RecipeInput } from './recipe.ts'

/** What so many units of a pack take and give. Weights are grams (not rounded), times minutes. */
export type UnitFigures = {
  units: number
  rawGrams: number
  /** Of each input the least and the most by its share, in the recipe's order. */
  inputs: { from: RecipeInput['from']; leastGrams: number; mostGrams: number }[]
  /** Loads and pots, each a whole number. */
  runs: { name: string; many: number; unitsPerRun: number }[]
  handMinutes: Partial<Record<WorkKind, number>>
  machineMinutes: Partial<Record<EquipmentKind, number>>
  /** What it is put up in and what goes in beside produce, by key, in the supply's own unit. */
  supplies: Record<string, number>
  freezerMl: number
}

/**
 * What `units` (a whole number, at least 1) of a pack take: raw weight, hands, machines, supplies. Runs are started
 * whole, so that eight jars of a load of seven are two loads.
 *
 * @throws RangeError for any other number of units
 */
export function forUnits(definition: RecipeDefinition, pack: Pack, units: number): UnitFigures {
  if (!Number.isSafeInteger(units) || units < 1) throw new RangeError('units are a whole number of at least 1')
  const rawGrams = units * pack.gramsPerUnit
  const runs = pack.runs.map((run) => ({ run, many: Math.ceil(units / run.unitsPerRun) }))
  return {
    units,
    rawGrams,
    inputs: definition.inputs.map(({ from, share }) => ({
      from,
      leastGrams: rawGrams * share.min,
      mostGrams: rawGrams * share.max,
    })),
    runs: runs.map(({ run, many }) => ({ name: run.name, many, unitsPerRun: run.unitsPerRun })),
    handMinutes: addUp<WorkKind>(
      [definition.workPerKg, rawGrams / 1000],
      [pack.workPerUnit, units],
      ...runs.map(({ run, many }): [Minutes<WorkKind>, number] => [run.work, many]),
    ),
    machineMinutes: addUp<EquipmentKind>(
      [pack.machineMinutesPerUnit, units],
      ...runs.map(({ run, many }): [Minutes<EquipmentKind>, number] => [run.machineMinutes, many]),
    ),
    supplies: Object.fromEntries(
      Object.entries(packSupplies(definition, pack)).map(([key, amount]) => [key, amount * units]),
    ),
    freezerMl: pack.freezerMl * units,
  }
}

/** Units of the largest run, for showing a recipe by the load; 1 where it is made unit by unit. */
export function unitsOfALoad(pack: Pack): number {
  return Math.max(1, ...pack.runs.map((run) => run.unitsPerRun))
}

type Minutes<K extends string> = Partial<Record<K, number>>

function addUp<K extends string>(...parts: [Minutes<K>, number][]): Minutes<K> {
  const total: Minutes<K> = {}
  for (const [minutes, times] of parts) {
    for (const key of Object.keys(minutes) as K[]) total[key] = (total[key] ?? 0) + (minutes[key] ?? 0) * times
  }
  return total
}
