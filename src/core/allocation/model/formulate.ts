import { at } from '../arrays.ts'
import type { Kitchen } from '../kitchen.ts'
import { type BuiltModel, type ModelBuilder, modelBuilder, type Terms } from './builder.ts'
import { addRunCuts } from './cuts.ts'
import { addLimits } from './limits.ts'
import { mostUnits } from './most.ts'
import { addMaterialEndings, addPoolEndings } from './outlets.ts'
import { addProduce } from './produce.ts'
import { addRuns } from './runs.ts'
import { addSupplies } from './supplies.ts'
import { addWishes } from './wishes.ts'

/** A division as a mixed-integer programme: kilograms and minutes (not grams: tolerances), worth divided by `scale`. */
export type Formulation = {
  model: BuiltModel
  /** Minor units for one of the model's. A power of two times the largest worth, so that scaling prices changes nothing. */
  scale: number
  columns: Columns
}

/** Column numbers; -1 where a thing cannot happen and has no column. */
export type Columns = {
  /** By `slot`. */
  units: number[]
  /** By `slot`, then cycle. */
  starts: number[][]
  draws: number[]
  uses: number[]
  /** By product: units over all days. */
  totals: number[]
  packs: number[]
}

/** What the parts of the formulation share while it is being built. */
export type Building = {
  kitchen: Kitchen
  builder: ModelBuilder
  columns: Columns
  most: number[][]
  /** Turns minor units into the model's worth. */
  worth(minorUnits: number): number
  /** What ends in each outlet, in kg. */
  outletTerms: Terms[]
}

export function formulate(kitchen: Kitchen): Formulation {
  const scale = scaleOf(kitchen)
  const building: Building = {
    kitchen,
    builder: modelBuilder(),
    columns: { units: [], starts: [], draws: [], uses: [], totals: [], packs: [] },
    most: mostUnits(kitchen),
    worth: (minorUnits) => minorUnits / scale,
    outletTerms: kitchen.problem.outlets.map(() => []),
  }
  addRuns(building)
  addProduce(building)
  addRunCuts(building, addWishes(building))
  addLimits(building)
  addSupplies(building)
  addPoolEndings(building)
  addMaterialEndings(building)
  for (const [o, outlet] of kitchen.problem.outlets.entries()) {
    const terms = at(building.outletTerms, o)
    if (outlet.capacityGrams !== null && terms.length > 0) {
      building.builder.row(Number.NEGATIVE_INFINITY, outlet.capacityGrams / 1000, terms)
    }
  }
  return { model: building.builder.finish(), scale, columns: building.columns }
}

function scaleOf(kitchen: Kitchen): number {
  const { products } = kitchen.problem
  const largest = Math.max(
    0,
    ...products.map(({ wish }) => Math.max(wish.worth, wish.worthBeyond, wish.shortfallWorth)),
  )
  return largest > 0 ? largest / 8 : 1
}
