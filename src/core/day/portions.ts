import type { PackRun } from '../recipes/recipe.ts'
import type { Batch, BatchStep } from './batch.ts'

/** A part of a batch that goes through the kitchen by itself: what fills one canner load, one dehydrator, one pot. */
export type Portion = {
  units: number
  grams: number
  /** Starts of each run that belong to it. */
  starts: ReadonlyMap<PackRun, number>
}

/** Steps that follow each other without a pause. */
export type Group = { index: number; step: BatchStep }[]

export type Portions = {
  /** The run by which the batch is cut up; null: it is one portion. */
  run: PackRun | null
  portions: Portion[]
  /** Groups that every portion goes through, then those that the batch goes through as a whole. */
  each: Group[]
  whole: Group[]
}

/**
 * Cuts a batch into portions by the last run that its steps start, as many as the division starts of it, the units
 * spread evenly. A start of another run (a pot before the canner) belongs to the portion in which its first unit is, so
 * that pots and loads of different sizes both keep their number. Steps after that run are done for the batch as a whole.
 */
export function portionsOf(batch: Batch, steps: readonly BatchStep[]): Portions {
  const last = steps.findLast(({ run }) => run !== null)?.run ?? null
  const many = last === null ? 1 : Math.min(batch.units, startsOf(batch, last))
  // A pot for more loads than one cannot go into all of them at once: it stands hot for the later ones.
  const groups = groupsOf(steps, (run) => run !== last && startsOf(batch, run) < many)
  const cut =
    last === null ? groups.length - 1 : groups.findIndex((group) => group.some(({ step }) => step.run === last))
  const firsts = spread(batch.units, many)
  const others = batch.pack.runs.filter((run) => steps.some((step) => step.run === run) && run !== last)
  const portions = firsts.map((from, number) => {
    const to = firsts[number + 1] ?? batch.units
    const starts = new Map<PackRun, number>(last === null ? [] : [[last, 1]])
    for (const run of others) {
      const here = spread(batch.units, startsOf(batch, run)).filter((first) => first >= from && first < to)
      starts.set(run, here.length)
    }
    return { units: to - from, grams: (batch.grams * (to - from)) / batch.units, starts }
  })
  return { run: last, portions, each: groups.slice(0, cut + 1), whole: groups.slice(cut + 1) }
}

/** The whole batch, for the steps after its loads. */
export function wholeOf(batch: Batch): Portion {
  return { units: batch.units, grams: batch.grams, starts: new Map() }
}

function startsOf({ pack, units, runs }: Batch, run: PackRun): number {
  return Math.max(runs[pack.runs.indexOf(run)] ?? 0, Math.ceil(units / run.unitsPerRun), 1)
}

/** The first unit of each of so many nearly equal parts. */
function spread(units: number, parts: number): number[] {
  return Array.from({ length: parts }, (_, part) => Math.ceil((part * units) / parts))
}

function groupsOf(steps: readonly BatchStep[], stands: (run: PackRun) => boolean): Group[] {
  const groups: Group[] = []
  let open = false
  steps.forEach((step, index) => {
    const group = groups.at(-1)
    if (open && group) group.push({ index, step })
    else groups.push([{ index, step }])
    open = step.step.thenAtOnce && !(step.run !== null && stands(step.run))
  })
  return groups
}
