import type { PublishedFormula } from '../process/formulas/index.ts'
import type { ProcessRow } from '../process/types.ts'
import { crop } from '../produce/crops.ts'
import { departure, grams, gramsOf, millilitres, mlOf } from './departures.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import type { Ingredient, IngredientKind, Pack, RecipeDefinition, RecipeInput } from './recipe.ts'
import type { Departure } from './verdict-types.ts'

/** Two in a hundred, for cups turned to grams: less than any spoon in a batch. Our choice. */
const slack = 0.02
/** Sugar in honey, as a part of its weight (USDA FoodData Central, memory). */
const sugarInHoney = 0.82
/**
 * Fruit for a weight of juice, where a jelly starts from juice: 3 lb of apples give the 4 cups (about 0.99 kg) of the
 * published recipe (Guide 7, memory).
 */
const fruitPerJuice = 1.37

/**
 * How a recipe that claims a published one differs from its proportions, for each kilogram of produce: acid not less
 * (bottled lemon juice may stand for vinegar one for one, not the reverse: Guide 3 p. 3-19), low-acid vegetables and
 * starch not more, sugar not less where it keeps it. Free shares are taken at their worst.
 */
export function formulaDepartures(
  definition: RecipeDefinition,
  pack: Pack,
  row: ProcessRow,
  formula: PublishedFormula,
): Departure[] {
  const has = portions(definition, pack, row.product.includes('jelly') ? fruitPerJuice : 1)
  const whole = formula.acidProduceGrams + formula.lowAcidGrams
  if (!(whole > 0) || !(has.produce > 0)) return [cannotCompare(row)]
  /** Of the published recipe for the produce of one unit. */
  const wants = (amount: number) => (amount / whole) * has.produce
  const each = (amount: number) => amount / (has.produce / 1000)
  const source = formula.source
  const found: Departure[] = []

  const lowAcid = wants(formula.lowAcidGrams)
  if (has.lowAcid > lowAcid * (1 + slack) + 1e-6) {
    const says = `${grams(each(has.lowAcid))} of low-acid vegetables in each kg; the tested recipe has ${grams(each(lowAcid))} at most.`
    found.push(departure('added-low-acid', lowAcidPlace(definition), says, source))
  }

  const lemon = wants(formula.bottledLemonMl)
  const vinegar = wants(formula.vinegarMl)
  const both = has.lemon + has.vinegar
  const fresh = definition.ingredients.findIndex(
    (one) => one.kind === 'fresh-citrus-juice' && ingredientPerUnit(one, pack) > 0,
  )
  const lacking = (of: number) => (fresh >= 0 ? 'fresh-citrus' : of === 0 ? 'no-acid' : 'less-acid')
  const acidPlace = (kind: IngredientKind) =>
    fresh >= 0 ? `ingredients.${fresh}` : (placeOf(definition, kind) ?? 'ingredients')
  if (has.lemon < lemon * (1 - slack)) {
    const says = `${millilitres(each(has.lemon))} of bottled lemon juice for each kg; the tested recipe has ${millilitres(each(lemon))}, and neither fresh juice nor vinegar stands for it.`
    found.push(departure(lacking(has.lemon), acidPlace('bottled-lemon-juice'), says, source))
  } else if (both < (lemon + vinegar) * (1 - slack)) {
    const says = `${millilitres(each(both))} of vinegar and bottled lemon juice for each kg; the tested recipe has ${millilitres(each(lemon + vinegar))}${fresh >= 0 ? ', and fresh juice does not stand for it' : ''}.`
    found.push(departure(lacking(both), acidPlace('vinegar-5'), says, source))
  }
  const citric = wants(formula.citricAcidGrams)
  if (has.citric < citric * (1 - slack)) {
    const says = `${grams(each(has.citric))} of citric acid for each kg; the tested recipe has ${grams(each(citric))}.`
    found.push(
      departure(
        has.citric === 0 ? 'no-acid' : 'less-acid',
        placeOf(definition, 'citric-acid') ?? 'ingredients',
        says,
        source,
      ),
    )
  }

  const modified = wants(formula.modifiedStarchGrams)
  if (formula.modifiedStarchGrams > 0 && has.modifiedStarch > modified * (1 + slack)) {
    const says = `${grams(each(has.modifiedStarch))} of starch for each kg; the tested recipe has ${grams(each(modified))}.`
    found.push(
      departure('too-much-modified-starch', placeOf(definition, 'modified-starch') ?? 'ingredients', says, source),
    )
  }
  const starch = wants(formula.otherStarchGrams)
  if (formula.otherStarchGrams > 0 && has.otherStarch > starch * (1 + slack)) {
    const says = `${grams(each(has.otherStarch))} of starch for each kg; the tested recipe has ${grams(each(starch))}.`
    found.push(departure('starch', placeOf(definition, 'starch') ?? 'ingredients', says, source))
  }

  const sugar = wants(formula.sugarGrams)
  if (formula.sugarCounts && has.sugar < sugar * (1 - slack)) {
    const says = `${grams(each(has.sugar))} of sugar for each kg; the tested recipe keeps by its ${grams(each(sugar))}.`
    found.push(
      departure(
        'less-sugar',
        placeOf(definition, 'sugar') ?? placeOf(definition, 'honey') ?? 'ingredients',
        says,
        source,
      ),
    )
  }
  return found
}

/** For a published recipe whose proportions are not written down here: nothing can be held against them. */
export function cannotCompare(row: ProcessRow): Departure {
  const says = `“${row.product}” holds only for the published recipe; its proportions are not known here and cannot be compared.`
  return departure('other-recipe', 'process', says, row.source)
}

/** What one unit holds, at the worst of its free shares. Grams, and millilitres of liquids. */
function portions(definition: RecipeDefinition, pack: Pack, perJuice: number) {
  const of = (kind: IngredientKind, measure: (one: Ingredient, amount: number) => number) =>
    definition.ingredients
      .filter((one) => one.kind === kind)
      .reduce((total, one) => total + measure(one, ingredientPerUnit(one, pack)), 0)
  const raw = pack.gramsPerUnit
  const vegetables = of('low-acid-vegetable', gramsOf)
  const lowAcid = vegetables + raw * mostLowAcid(definition.inputs)
  return {
    produce:
      raw * fruitOf(definition.inputs, perJuice) +
      (Number.isFinite(vegetables) ? vegetables : 0) +
      of('acid-fruit', gramsOf),
    lowAcid,
    lemon: of('bottled-lemon-juice', mlOf),
    vinegar: of('vinegar-5', mlOf),
    citric: of('citric-acid', gramsOf),
    sugar: of('sugar', gramsOf) + of('honey', gramsOf) * sugarInHoney,
    modifiedStarch: of('modified-starch', gramsOf),
    otherStarch: of('starch', gramsOf),
  }
}

/** The most that low-acid vegetables can make up, as a part of the raw weight. */
function mostLowAcid(inputs: readonly RecipeInput[]): number {
  const [low, rest] = [inputs.filter(isLowAcid), inputs.filter((input) => !isLowAcid(input))]
  const most = low.reduce((total, { share }) => total + share.max, 0)
  const others = rest.reduce((total, { share }) => total + share.min, 0)
  return Math.max(0, Math.min(most, 1 - others))
}

function isLowAcid({ from }: RecipeInput): boolean {
  const known = 'crop' in from ? crop(from.crop) : undefined
  return known?.kind === 'vegetable' && known.acidity === 'low-acid'
}

/** Raw weight counted as produce as bought: juice stands for more fruit than it weighs. */
function fruitOf(inputs: readonly RecipeInput[], perJuice: number): number {
  const juice = inputs.filter(({ from }) => 'material' in from && from.material.endsWith('-juice'))
  const share = Math.min(
    1,
    juice.reduce((total, input) => total + input.share.max, 0),
  )
  return 1 + share * (perJuice - 1)
}

function placeOf({ ingredients }: RecipeDefinition, kind: IngredientKind): string | undefined {
  const number = ingredients.findIndex((one) => one.kind === kind)
  return number < 0 ? undefined : `ingredients.${number}`
}

function lowAcidPlace(definition: RecipeDefinition): string {
  const number = definition.inputs.findIndex(isLowAcid)
  return placeOf(definition, 'low-acid-vegetable') ?? (number < 0 ? 'inputs' : `inputs.${number}`)
}
