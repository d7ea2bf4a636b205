import type { PackStyle } from '../../process/types.ts'
import type { Method, Station, WorkKind } from '../../produce/vocabulary.ts'
import { slug } from '../../units/slug.ts'
import type { Ingredient, Pack, PackRun, ProcessClaim, RecipeDefinition, RecipeInput, Step } from '../recipe.ts'
import { byPressure, byWater, knives } from './cautions.ts'

/** A recipe that a co-op can take over as it is. It is copied when it is taken: its own is then changed freely. */
export type Starter = { key: string; name: string; method: Method; definition: RecipeDefinition }

/** A pack without the minutes of hands: those come from the steps. */
export type PackDraft = Omit<Pack, 'workPerUnit' | 'runs'> & { runs: RunDraft[] }
export type RunDraft = Omit<PackRun, 'work'>

export type StarterDraft = {
  name: string
  method: Method
  inputs: RecipeInput[]
  ingredients?: Ingredient[]
  process?: ProcessClaim
  steps: Step[]
  packs: PackDraft[]
  /** Beside those that follow from the method and from knives. */
  cautions?: string[]
  source: string
}

/**
 * A starter from its draft. Minutes of hands are added up from the steps, cautions of method and knives are put first,
 * and an ingredient's amounts by the jar are kept for the packs that the recipe has.
 */
export function starter(draft: StarterDraft): Starter {
  const keys = new Set(draft.packs.map(({ key }) => key))
  return {
    key: slug(draft.name),
    name: draft.name,
    method: draft.method,
    definition: {
      inputs: draft.inputs,
      packs: draft.packs.map((pack) => ({
        ...pack,
        workPerUnit: workOfUnit(draft.steps),
        runs: pack.runs.map((run) => ({ ...run, work: workOfRun(draft.steps, run) })),
      })),
      ingredients: (draft.ingredients ?? []).map((one) => ({
        ...one,
        perUnit: Object.fromEntries(Object.entries(one.perUnit).filter(([key]) => keys.has(key))),
      })),
      process: draft.process ?? null,
      steps: draft.steps,
      workPerKg: workOfKg(draft.steps),
      cautions: [...new Set([...usualCautions(draft), ...(draft.cautions ?? [])])],
      source: draft.source,
    },
  }
}

/** Minutes of hands for each kilogram of raw weight, by the work it is: the sum over the steps. */
export function workOfKg(steps: readonly Step[]): RecipeDefinition['workPerKg'] {
  return addUp(steps, (step) => step.minutes.perKg)
}

/** Minutes of hands for one unit. */
export function workOfUnit(steps: readonly Step[]): Pack['workPerUnit'] {
  return addUp(steps, (step) => step.minutes.perUnit)
}

/** Minutes of hands for one load: those of the steps at the station where the load's machines stand. */
export function workOfRun(steps: readonly Step[], run: Pick<PackRun, 'machineMinutes'>): PackRun['work'] {
  const station = stationOf(run)
  return addUp(
    steps.filter((step) => step.station === station),
    (step) => step.minutes.perRun,
  )
}

/** Where a load is made, by the machines it keeps busy: a canner also stands on a burner, but a pot does not. */
export function stationOf({ machineMinutes }: Pick<PackRun, 'machineMinutes'>): Station {
  if ('canner' in machineMinutes || 'pressure-canner' in machineMinutes || 'steam-canner' in machineMinutes) {
    return 'canner'
  }
  if ('dehydrator' in machineMinutes || 'oven' in machineMinutes) return 'oven'
  if ('press' in machineMinutes) return 'press'
  if ('freezer' in machineMinutes) return 'freezer'
  return 'stove'
}

/** A claim to a row of the published tables, with the table's own time and headspace. */
export function follows(product: string, form: string | null, pack: PackStyle): ProcessClaim {
  return { product, form, pack, local: null, minutes: null, headspaceMm: null }
}

function addUp(steps: readonly Step[], minutes: (step: Step) => number): Partial<Record<WorkKind, number>> {
  const total: Partial<Record<WorkKind, number>> = {}
  for (const step of steps) {
    if (step.work !== null && minutes(step) > 0) total[step.work] = (total[step.work] ?? 0) + minutes(step)
  }
  return total
}

function usualCautions({ method, steps }: StarterDraft): string[] {
  return [
    ...(method === 'pressure-canned' ? [byPressure] : []),
    ...(method === 'water-bath-canned' ? [byWater] : []),
    ...(steps.some((step) => step.station === 'cut') ? [knives] : []),
  ]
}
