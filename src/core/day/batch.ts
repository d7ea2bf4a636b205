import { productId } from '../division/ask.ts'
import type { Question } from '../division/question.ts'
import type { DivisionSummary } from '../division/summary-types.ts'
import type { ProcessMethod } from '../process/types.ts'
import type { EquipmentKind, Station, WorkKind } from '../produce/vocabulary.ts'
import type { Pack, PackRun, Recipe, Step } from '../recipes/recipe.ts'
import { stationOf } from '../recipes/starters/build.ts'
import { verdictOn } from '../recipes/verdict.ts'
import type { KitchenPlace } from '../recipes/verdict-types.ts'

/** What a division makes of one pack of a recipe on one day. */
export type Batch = {
  id: string
  recipe: Recipe
  pack: Pack
  /** Number of the work day. */
  day: number
  units: number
  /** Raw weight. */
  grams: number
  /** Starts of each of the pack's runs, in their order. */
  runs: number[]
  /** The heating of a load, where it is known; the run's machine minutes have its minutes in them. */
  process: { method: ProcessMethod; minutes: number } | null
  /** How much a minute of lateness counts beside that of other batches; absent: 1. */
  weight?: number
}

/** By how much a wish matters. What is wished for at least counts double. Our choice, so that what matters less is late. */
const weightOfWish = { 1: 1, 2: 2, 3: 4 } as const

/**
 * The batches of a division, in the products' order, each day by itself. `processOf` tells how a canned pack is heated
 * at the co-op's altitude; the question's recipes are settled, so their loads have these minutes in them already.
 */
export function batchesOf(
  question: Question,
  { products }: Pick<DivisionSummary, 'products'>,
  processOf: (recipe: Recipe, pack: Pack) => Batch['process'] = () => null,
): Batch[] {
  return products.flatMap((product) => {
    const found = question.recipes
      .flatMap((recipe) => recipe.definition.packs.map((pack) => ({ recipe, pack })))
      .find(({ recipe, pack }) => productId(recipe.id, pack.key) === product.productId)
    if (!found) return []
    const wish = question.wishes.find(({ recipeId, pack }) => recipeId === found.recipe.id && pack === found.pack.key)
    const weight = wish ? weightOfWish[wish.matters] * (wish.atLeast > 0 ? 2 : 1) : 1
    return product.byDay
      .filter(({ units }) => units > 0)
      .map(({ day, units, rawGrams, runs }) => ({
        id: `${product.productId}@${day}`,
        ...found,
        day,
        units,
        grams: rawGrams,
        runs,
        process: processOf(found.recipe, found.pack),
        ...(weight === 1 ? {} : { weight }),
      }))
  })
}

/**
 * How packs are heated at a place: by the tested process that they follow, or by the one the co-op noted itself; null
 * for what follows neither. For `batchesOf`.
 */
export function processAt(place: KitchenPlace): (recipe: Recipe, pack: Pack) => Batch['process'] {
  return (recipe, pack) => {
    const found = verdictOn(recipe, place).packs.find((one) => one.pack === pack.key)
    const heated = found?.shelfStable === true ? (found.process ?? found.local) : null
    return heated === null ? null : { method: heated.method, minutes: Math.ceil(heated.minutes) }
  }
}

/** A step of a batch, with the number it has in the recipe; null: it follows from the recipe's figures only. */
export type BatchStep = { number: number | null; step: Step; run: PackRun | null; machineMinutesPerUnit: number }

/**
 * The steps of a batch, each with the run that it starts, if any. A recipe without steps gets them from its minutes of
 * hands; a run or a machine that no step names gets a step of its own, so that nothing it keeps busy is forgotten.
 */
export function stepsOf({ recipe, pack }: Pick<Batch, 'recipe' | 'pack'>): BatchStep[] {
  const written = recipe.definition.steps.map((step, number) => ({ number, step: withKnives(step) }))
  const steps: { number: number | null; step: Step }[] = written.length > 0 ? written : madeUp(recipe, pack)
  for (const run of pack.runs) {
    if (steps.some(({ step }) => step.station === stationOf(run))) continue
    const label = steps.findIndex(({ step }) => step.station === 'label')
    steps.splice(label < 0 ? steps.length : label, 0, { number: null, step: stepOfRun(run) })
  }
  const perUnit = Object.entries(pack.machineMinutesPerUnit) as [EquipmentKind, number][]
  for (const [kind, minutes] of perUnit) {
    if (!(minutes > 0) || kind === 'freezer' || steps.some(({ step }) => step.equipment.includes(kind))) continue
    const after = steps.findLastIndex(({ step }) => step.station === 'wash' || step.station === 'cut')
    steps.splice(after + 1, 0, { number: null, step: bare(kind === 'press' ? 'press' : 'stove', null, 0, [kind]) })
  }
  const runOf = runSteps(steps, pack.runs)
  return steps.map(({ number, step }, index) => ({
    number,
    step,
    run: runOf.get(index) ?? null,
    machineMinutesPerUnit: perUnit.reduce(
      (most, [kind, minutes]) =>
        steps.findIndex((one) => one.step.equipment.includes(kind)) === index ? Math.max(most, minutes) : most,
      0,
    ),
  }))
}

/** Each run starts at one step of its station: the last that has minutes for each load, else the last. */
function runSteps(steps: readonly { step: Step }[], runs: readonly PackRun[]): Map<number, PackRun> {
  const found = new Map<number, PackRun>()
  for (const run of runs) {
    const here = (step: Step) => step.station === stationOf(run)
    const loaded = steps.findLastIndex(({ step }, index) => here(step) && step.minutes.perRun > 0 && !found.has(index))
    const index = loaded >= 0 ? loaded : steps.findLastIndex(({ step }, at) => here(step) && !found.has(at))
    if (index >= 0) found.set(index, run)
  }
  return found
}

const stationFor: Record<WorkKind, Station> = { wash: 'wash', cut: 'cut', stove: 'stove', fill: 'fill', pack: 'label' }

/** Where things are cut there are knives, whatever the recipe calls the work: children are kept from it. */
function withKnives(step: Step): Step {
  return step.station === 'cut' && step.work !== null ? { ...step, work: 'cut' } : step
}

/** Washing, cutting, pots, filling, loads, packing; what goes into a canner goes there at once. */
function madeUp({ definition }: Recipe, pack: Pack): { number: null; step: Step }[] {
  const of = (work: WorkKind): Step[] => {
    const perKg = definition.workPerKg[work] ?? 0
    const perUnit = pack.workPerUnit[work] ?? 0
    const step = bare(stationFor[work], work, 0, [])
    return perKg + perUnit > 0 ? [{ ...step, minutes: { perKg, perUnit, perRun: 0 } }] : []
  }
  const pots = pack.runs.filter((run) => stationOf(run) === 'stove')
  const loads = pack.runs.filter((run) => !pots.includes(run))
  const canned = loads.some((run) => stationOf(run) === 'canner')
  const hot = [...of('stove'), ...pots.map(stepOfRun), ...of('fill')].map((step) => ({ ...step, thenAtOnce: canned }))
  return [...of('wash'), ...of('cut'), ...hot, ...loads.map(stepOfRun), ...of('pack')].map((step) => ({
    number: null,
    step,
  }))
}

/** A load that no step tells of; its hands are counted as the work of which it needs most. */
function stepOfRun(run: PackRun): Step {
  const work = (Object.entries(run.work) as [WorkKind, number][]).filter(([, minutes]) => minutes > 0)
  const most = [...work].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
  const minutes = work.reduce((sum, [, many]) => sum + many, 0)
  return bare(stationOf(run), most, minutes, Object.keys(run.machineMinutes) as EquipmentKind[])
}

function bare(station: Station, work: WorkKind | null, perRun: number, equipment: EquipmentKind[]): Step {
  return {
    says: '',
    station,
    work,
    hands: 1,
    minutes: { perKg: 0, perUnit: 0, perRun },
    waitMinutes: 0,
    equipment,
    thenAtOnce: false,
  }
}
