import type { Ingredient, RecipeInput, Step } from '../recipe.ts'
import type { PackDraft } from './build.ts'
import { lemonJuice, sugar } from './ingredients.ts'
import { type Batch, cannerLoad, jar, pot } from './parts.ts'
import * as steps from './steps.ts'

type Made = { inputs: RecipeInput[]; ingredients: Ingredient[]; packs: PackDraft[] }

/** Jam without added pectin from crushed fruit: sugar and lemon juice for the batch, half-pints that it gives. */
export function jamOf(fruit: Batch, sugarGrams: number, lemonMl: number, yields: number, worth: number): Made {
  return {
    inputs: fruit.inputs,
    ingredients: [sugar(fruit.per(sugarGrams)), ...(lemonMl > 0 ? [lemonJuice(fruit.per(lemonMl))] : [])],
    packs: [jar('half-pint', fruit.each(yields), worth, [pot(8, 45), cannerLoad('half-pint')])],
  }
}

/** Cooking and filling jam; minutes at the stove for one pot. */
export function boiledJam(perRun = 35): Step[] {
  return [
    steps.sterilise(),
    steps.cook('Boil fruit and sugar fast, stirring, until it sheets from the spoon; skim.', 0, perRun),
    ...steps.intoTheCanner(1.5, 'Fill the hot jars at once.'),
  ]
}
