import { type PublishedBatch, publishedBatch } from '../../process/formulas/index.ts'
import type { PackStyle } from '../../process/types.ts'
import { crop } from '../../produce/crops.ts'
import type { Ingredient, ProcessClaim, RecipeInput } from '../recipe.ts'
import { follows, type PackDraft, type RunDraft } from './build.ts'
import { ciderVinegar, lemonJuice, modifiedStarch, sugar, vinegar } from './ingredients.ts'
import { batch, cannerLoad, ingredient, jar, pot, pressureLoad } from './parts.ts'

type Size = 'half-pint' | 'pint' | 'quart'
const pints: Readonly<Record<string, number>> = { 'half-pint': 0.5, pint: 1, quart: 2 }

type Plan = {
  product: string
  form: string | null
  pack: PackStyle
  /** Which classes suit, and trim where it is not the crop's usual one. Every crop of the batch is named. */
  crops: Readonly<Record<string, RecipeInput['suits'] | readonly [RecipeInput['suits'], RecipeInput['trim']]>>
  /** Jar and what one is worth, minor units. */
  jars: readonly (readonly [Size, number])[]
  /** Pints in a pot, and its minutes; null: nothing is cooked. */
  pot: readonly [pints: number, minutes: number] | null
  vinegar?: 'white' | 'cider'
  canner?: 'water' | 'pressure'
  /** What else goes in, by what the batch gives for each kilogram. */
  more?: (per: (amount: number) => number) => Ingredient[]
}

type Made = { inputs: RecipeInput[]; ingredients: Ingredient[]; packs: PackDraft[]; process: ProcessClaim }

/**
 * Inputs, ingredients, packs and claim of a starter that follows a published recipe, in its proportions. Vegetables that
 * are no crop here are bought: they become ingredients. @throws RangeError where the recipe is not written down, or a
 * crop of it is not named.
 */
export function asPublished(plan: Plan): Made {
  const recipe = publishedBatch(plan.product)
  if (recipe === undefined) throw new RangeError(`the proportions of ${plan.product} are not written down`)
  const parts = Object.entries({ ...recipe.fruit, ...recipe.vegetables })
  const grown = parts.filter(([name]) => crop(name) !== undefined)
  const bought = parts.filter(([name]) => crop(name) === undefined)
  const made = batch(
    ...grown.map(([name, grams]) => {
      const suits = plan.crops[name]
      if (suits === undefined) throw new RangeError(`${plan.product} needs ${name}`)
      return isPair(suits) ? ([name, suits[0], grams, suits[1]] as const) : ([name, suits, grams] as const)
    }),
  )
  const yields = ((recipe.yields.least + recipe.yields.most) / 2) * (pints[recipe.yields.jar] ?? 1)
  return {
    inputs: made.inputs,
    ingredients: [
      ...bought.map(([name, grams]) => vegetable(name, Math.floor((grams / made.grams) * 10_000) / 10)),
      ...kept(recipe, made.per, plan.vinegar ?? 'white'),
      ...(plan.more?.(made.per) ?? []),
    ],
    packs: plan.jars.map(([size, worth]) => jar(size, made.each(yields / (pints[size] ?? 1)), worth, runs(plan, size))),
    process: follows(plan.product, plan.form, plan.pack),
  }
}

function isPair(
  suits: RecipeInput['suits'] | readonly [RecipeInput['suits'], RecipeInput['trim']],
): suits is readonly [RecipeInput['suits'], RecipeInput['trim']] {
  return Array.isArray(suits)
}

function kept(recipe: PublishedBatch, per: (amount: number) => number, kind: 'white' | 'cider'): Ingredient[] {
  const sour = kind === 'white' ? vinegar : ciderVinegar
  return [
    ...(recipe.sugar > 0 ? [sugar(per(recipe.sugar))] : []),
    ...(recipe.vinegar > 0 ? [sour(per(recipe.vinegar))] : []),
    ...(recipe.lemon > 0 ? [lemonJuice(per(recipe.lemon))] : []),
    ...(recipe.modifiedStarch > 0 ? [modifiedStarch(Math.max(0.1, per(recipe.modifiedStarch) - 0.1))] : []),
  ]
}

function vegetable(name: string, perKg: number): Ingredient {
  return ingredient(name.replaceAll(' ', '-'), name, 'low-acid-vegetable', 'g', perKg)
}

function runs({ pot: cooking, canner }: Plan, size: Size): RunDraft[] {
  const load = canner === 'pressure' ? pressureLoad(size) : cannerLoad(size)
  if (cooking === null) return [load]
  const [many, minutes] = cooking
  return [pot(Math.max(1, Math.floor(many / (pints[size] ?? 1))), minutes), load]
}
