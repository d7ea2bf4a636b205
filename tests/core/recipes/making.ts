import {
  type Ingredient,
  type IngredientKind,
  type Pack,
  type ProcessClaim,
  type RecipeDefinition,
  type RecipeToJudge,
  verdictOn,
} from '../../../src/core/recipes/index.ts'
import type { KitchenPlace } from '../../../src/core/recipes/verdict-types.ts'

/** 200 m: within the first band of every table (up to 1,000 ft, 305 m). */
export const lowKitchen: KitchenPlace = { altitudeM: 200, gauges: ['dial', 'weighted'], local: [] }

export function packOf(changes: Partial<Pack> = {}): Pack {
  return {
    key: 'quart',
    unit: 'quart',
    units: 'quarts',
    jar: 'quart',
    gramsPerUnit: 900,
    worthMinor: 500,
    runs: [
      {
        name: 'canner load',
        unitsPerRun: 7,
        fillAtLeast: 0.5,
        machineMinutes: { canner: 35, burner: 35 },
        work: { stove: 8 },
        process: true,
      },
    ],
    workPerUnit: {},
    machineMinutesPerUnit: {},
    supplies: { 'jar-quart': 1, lid: 1 },
    freezerMl: 0,
    makes: null,
    ...changes,
  }
}

export function ingredientOf(kind: IngredientKind, changes: Partial<Ingredient> = {}): Ingredient {
  return { supply: kind, name: kind.replaceAll('-', ' '), kind, unit: 'g', perKg: 0, perUnit: {}, ...changes }
}

export function claimOf(changes: Partial<ProcessClaim> = {}): ProcessClaim {
  return { product: 'plums', form: null, pack: 'hot', local: null, minutes: null, headspaceMm: null, ...changes }
}

/** Plums in quarts by the guide, 14 lb for 7 quarts (Guide 2 p. 2-21): 907 g each. Tests change what they are about. */
export function definitionOf(changes: Partial<RecipeDefinition> = {}): RecipeDefinition {
  return {
    inputs: [cropInput('plum')],
    packs: [packOf()],
    ingredients: [],
    process: claimOf(),
    steps: [],
    workPerKg: {},
    cautions: [],
    source: 'invented for tests',
    ...changes,
  }
}

export function cropInput(key: string, min = 1, max = min): RecipeDefinition['inputs'][number] {
  return { from: { crop: key }, suits: { ripe: 1 }, share: { min, max }, trim: [] }
}

/** Plums in a boiling-water canner; tests change what they are about. */
export const canned = (changes: Partial<RecipeDefinition> = {}): RecipeToJudge => ({
  method: 'water-bath-canned',
  definition: definitionOf(changes),
})

/** The only pack's standing, and its departures as "kind at". */
export function judged(recipe: RecipeToJudge, place = lowKitchen) {
  const verdict = verdictOn(recipe, place)
  const pack = verdict.packs[0]
  if (pack === undefined) throw new Error('no pack')
  const found = pack.departures.map((one) => `${one.kind} ${one.at}`)
  return { ...pack, verdict, found, says: pack.departures.map((one) => one.says).join(' ') }
}
