import type { Pack, Recipe, RecipeInput } from '../recipes/recipe.ts'
import { type Belief, believe, strengths } from './shrink.ts'

/** What one finished batch shows of its recipe. */
export type Observation = {
  recipeId: string
  pack: string
  /** Raw grams that went in, and units that were filled, those that did not seal included. */
  inGrams: number
  units: number
  /** Grams of trim that were weighed; null: nobody weighed them. */
  trimGrams: number | null
  /** Minutes of all hands together; null: nobody noted. */
  handMinutes: number | null
  /** What the recipe as it was then said of such a batch. */
  expected: { units: number; trimGrams: number; handMinutes: number }
}

/** What batches taught of one recipe. Yield is by pack, trim and minutes by the recipe as a whole. */
export type Learnt = { yieldByPack: Record<string, Belief>; trim: Belief; minutes: Belief }

/** Units for each kilogram are told from no fewer than these: one jar more or less of two says little. Our choice. */
const fewestUnits = 4

/**
 * What a recipe's batches taught. Observations of other recipes are left out, as is a figure that nobody noted, and one
 * of which the recipe expected nothing.
 */
export function learn(recipe: Pick<Recipe, 'id' | 'definition'>, observations: readonly Observation[]): Learnt {
  const own = observations.filter(({ recipeId }) => recipeId === recipe.id)
  return {
    yieldByPack: Object.fromEntries(
      recipe.definition.packs.map(({ key }) => {
        const ratios = own
          .filter(({ pack, expected }) => pack === key && expected.units >= fewestUnits)
          .flatMap(({ units, expected }) => ratioOf(units, expected.units))
        return [key, believe(ratios, strengths.yield)]
      }),
    ),
    trim: believe(
      own.flatMap(({ trimGrams, expected }) => ratioOf(trimGrams, expected.trimGrams)),
      strengths.trim,
    ),
    minutes: believe(
      own.flatMap(({ handMinutes, expected }) => ratioOf(handMinutes, expected.handMinutes)),
      strengths.minutes,
    ),
  }
}

function ratioOf(came: number | null, expected: number): number[] {
  return came !== null && came > 0 && expected > 0 ? [came / expected] : []
}

/**
 * The recipe with what its batches taught in its figures: raw grams for a unit (whole grams, at least 1), shares of trim
 * (never more than all of it) and minutes of hands. What it says of its process stays: that is not learnt from yields.
 * Brings back the same object where there is nothing to change.
 */
export function withLearnt(recipe: Recipe, learnt: Learnt): Recipe {
  const { definition } = recipe
  const packs = definition.packs.map((pack) => withYield(pack, learnt.yieldByPack[pack.key]))
  const inputs = learnt.trim.batches === 0 ? definition.inputs : definition.inputs.map((one) => withTrim(one, learnt))
  const slower = learnt.minutes.batches === 0 ? 1 : learnt.minutes.factor
  const same = packs.every((pack, number) => pack === definition.packs[number])
  if (same && inputs === definition.inputs && slower === 1) return recipe
  return {
    ...recipe,
    definition: {
      ...definition,
      packs: packs.map((pack) => withMinutes(pack, slower)),
      inputs,
      workPerKg: scaled(definition.workPerKg, slower),
      steps: definition.steps.map((step) => ({
        ...step,
        minutes: {
          perKg: step.minutes.perKg * slower,
          perUnit: step.minutes.perUnit * slower,
          perRun: step.minutes.perRun * slower,
        },
      })),
    },
  }
}

function withYield(pack: Pack, belief: Belief | undefined): Pack {
  if (belief === undefined || belief.batches === 0) return pack
  return { ...pack, gramsPerUnit: Math.max(1, Math.round(pack.gramsPerUnit / belief.factor)) }
}

function withTrim(input: RecipeInput, { trim: { factor } }: Learnt): RecipeInput {
  const all = input.trim.reduce((sum, { share }) => sum + share, 0)
  // Trim is a part of the raw weight: however much more it was, something is left for the jar.
  const most = all > 0 ? Math.min(factor, mostTrim / all) : 1
  const trim = input.trim.map(({ kind, share, shareByClass }) => ({
    kind,
    share: share * most,
    ...(shareByClass === undefined
      ? {}
      : {
          shareByClass: Object.fromEntries(
            Object.entries(shareByClass).map(([name, part]) => [name, Math.min(mostTrim, part * most)]),
          ),
        }),
  }))
  return { ...input, trim }
}

const mostTrim = 0.95

function withMinutes(pack: Pack, slower: number): Pack {
  if (slower === 1) return pack
  return {
    ...pack,
    workPerUnit: scaled(pack.workPerUnit, slower),
    runs: pack.runs.map((run) => ({ ...run, work: scaled(run.work, slower) })),
  }
}

function scaled<K extends string>(minutes: Partial<Record<K, number>>, by: number): Partial<Record<K, number>> {
  if (by === 1) return minutes
  const made: Partial<Record<K, number>> = {}
  for (const key in minutes) {
    const own = minutes[key]
    if (own !== undefined) made[key] = own * by
  }
  return made
}
