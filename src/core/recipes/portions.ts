import type { PublishedFormula } from '../process/formulas/index.ts'
import { crop } from '../produce/crops.ts'
import { gramsOf, mlOf } from './departures.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import type { Ingredient, IngredientKind, Pack, RecipeDefinition, RecipeInput } from './recipe.ts'

/** What goes with each kilogram of produce as bought: grams, and millilitres of liquids. */
export type Portions = {
  lowAcid: number
  lemon: number
  vinegar: number
  citric: number
  sugar: number
  modifiedStarch: number
  starch: number
}

/** Sugar in honey, as a part of its weight (USDA FoodData Central, memory). */
const sugarInHoney = 0.82
/**
 * Fruit for a weight of juice, where a jelly starts from juice: 3 lb of apples give the 4 cups (about 0.99 kg) of the
 * published recipe (Guide 7, memory).
 */
const fruitPerJuice = 1.37

/** The published recipe's portions; null where it names no weight of produce. */
export function publishedPortions(formula: PublishedFormula): Portions | null {
  const kg = (formula.acidProduceGrams + formula.lowAcidGrams) / 1000
  if (!(kg > 0)) return null
  return {
    lowAcid: formula.lowAcidGrams / kg,
    lemon: formula.bottledLemonMl / kg,
    vinegar: formula.vinegarMl / kg,
    citric: formula.citricAcidGrams / kg,
    sugar: formula.sugarGrams / kg,
    modifiedStarch: formula.modifiedStarchGrams / kg,
    starch: formula.otherStarchGrams / kg,
  }
}

/**
 * A recipe's own portions in one pack, at the worst of its free shares. What is counted by the piece has no known
 * weight: of what may not be too little it counts for nothing, of what may not be too much it is without end.
 */
export function portionsOf(definition: RecipeDefinition, pack: Pack, fromJuice: boolean): Portions {
  const of = (kind: IngredientKind, measure: (one: Ingredient, amount: number) => number) =>
    definition.ingredients
      .filter((one) => one.kind === kind)
      .reduce((total, one) => total + measure(one, ingredientPerUnit(one, pack)), 0)
  const raw = pack.gramsPerUnit
  const vegetables = of('low-acid-vegetable', gramsOf)
  const fruit = raw * fruitOf(definition.inputs, fromJuice ? fruitPerJuice : 1)
  const kg = (fruit + (Number.isFinite(vegetables) ? vegetables : 0) + of('acid-fruit', knownGrams)) / 1000
  return {
    lowAcid: (vegetables + raw * mostLowAcid(definition.inputs)) / kg,
    lemon: of('bottled-lemon-juice', mlOf) / kg,
    vinegar: of('vinegar-5', mlOf) / kg,
    citric: of('citric-acid', knownGrams) / kg,
    sugar: (of('sugar', knownGrams) + of('honey', knownGrams) * sugarInHoney) / kg,
    modifiedStarch: of('modified-starch', gramsOf) / kg,
    starch: of('starch', gramsOf) / kg,
  }
}

/** A low-acid vegetable, as published recipes count them: onions, peppers, cucumbers, not tomatoes. */
export function isLowAcidVegetable({ from }: RecipeInput): boolean {
  const known = 'crop' in from ? crop(from.crop) : undefined
  return known?.kind === 'vegetable' && known.acidity === 'low-acid'
}

function knownGrams(ingredient: Ingredient, amount: number): number {
  const weight = gramsOf(ingredient, amount)
  return Number.isFinite(weight) ? weight : 0
}

/** The most that low-acid vegetables can make up, as a part of the raw weight. */
function mostLowAcid(inputs: readonly RecipeInput[]): number {
  const [low, rest] = [inputs.filter(isLowAcidVegetable), inputs.filter((input) => !isLowAcidVegetable(input))]
  const most = low.reduce((total, { share }) => total + share.max, 0)
  const others = rest.reduce((total, { share }) => total + share.min, 0)
  return Math.max(0, Math.min(most, 1 - others))
}

/** Raw weight counted as fruit as bought, for each gram of it: juice stands for more fruit than it weighs. */
function fruitOf(inputs: readonly RecipeInput[], perJuice: number): number {
  const juice = inputs.filter(({ from }) => 'material' in from && from.material.endsWith('-juice'))
  const most = juice.reduce((total, input) => total + input.share.max, 0)
  return 1 + Math.min(1, most) * (perJuice - 1)
}
