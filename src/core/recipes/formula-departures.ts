import type { PublishedFormula } from '../process/formulas/index.ts'
import type { ProcessRow } from '../process/types.ts'
import { departure, grams, millilitres } from './departures.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import { isLowAcidVegetable, type Portions, portionsOf, publishedPortions } from './portions.ts'
import type { IngredientKind, Pack, RecipeDefinition } from './recipe.ts'
import type { Departure } from './verdict-types.ts'

/** Two in a hundred, for cups turned to grams: less than any spoon in a batch. Our choice. */
const slack = 0.02
const less = (has: number, wants: number) => has < wants * (1 - slack)
const more = (has: number, wants: number) => has > wants * (1 + slack) + 1e-6

/** What is compared: the recipe's portions with the published ones, and where in the definition a kind stands. */
type Compared = {
  has: Portions
  wants: Portions
  /** The first ingredient of these kinds that goes into the pack; undefined: there is none. */
  placeOf: (...kinds: IngredientKind[]) => string | undefined
  source: PublishedFormula['source']
}

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
  const wants = publishedPortions(formula)
  if (wants === null) return [cannotCompare(row)]
  const { ingredients, inputs } = definition
  const compared: Compared = {
    has: portionsOf(definition, pack, row.product.includes('jelly')),
    wants,
    placeOf: (...kinds) => {
      const number = ingredients.findIndex((one) => kinds.includes(one.kind) && ingredientPerUnit(one, pack) > 0)
      return number < 0 ? undefined : `ingredients.${number}`
    },
    source: formula.source,
  }
  const vegetable = inputs.findIndex(isLowAcidVegetable)
  return [
    ...tooManyVegetables(compared, vegetable < 0 ? 'inputs' : `inputs.${vegetable}`),
    ...tooLittleAcid(compared),
    ...tooMuchStarch(compared),
    ...(formula.sugarCounts ? tooLittleSugar(compared) : []),
  ]
}

/** For a published recipe whose proportions are not written down here: nothing can be held against them. */
export function cannotCompare(row: ProcessRow): Departure {
  const says = `“${row.product}” holds only for the published recipe; its proportions are not known here and cannot be compared.`
  return departure('other-recipe', 'process', says, row.source)
}

function tooManyVegetables({ has, wants, placeOf, source }: Compared, input: string): Departure[] {
  if (!more(has.lowAcid, wants.lowAcid)) return []
  const says = `${grams(has.lowAcid)} of low-acid vegetables in each kg; the tested recipe has ${grams(wants.lowAcid)} at most.`
  return [departure('added-low-acid', placeOf('low-acid-vegetable') ?? input, says, source)]
}

function tooLittleAcid({ has, wants, placeOf, source }: Compared): Departure[] {
  const fresh = placeOf('fresh-citrus-juice')
  const lacking = (of: number) => (fresh !== undefined ? 'fresh-citrus' : of === 0 ? 'no-acid' : 'less-acid')
  const found: Departure[] = []
  const both = has.lemon + has.vinegar
  if (less(has.lemon, wants.lemon)) {
    const says = `${millilitres(has.lemon)} of bottled lemon juice for each kg; the tested recipe has ${millilitres(wants.lemon)}, and neither fresh juice nor vinegar stands for it.`
    found.push(departure(lacking(has.lemon), fresh ?? placeOf('bottled-lemon-juice') ?? 'ingredients', says, source))
  } else if (less(both, wants.lemon + wants.vinegar)) {
    const not = fresh === undefined ? '' : ', and fresh juice does not stand for it'
    const says = `${millilitres(both)} of vinegar and bottled lemon juice for each kg; the tested recipe has ${millilitres(wants.lemon + wants.vinegar)}${not}.`
    const at = fresh ?? placeOf('vinegar-5', 'bottled-lemon-juice') ?? 'ingredients'
    found.push(departure(lacking(both), at, says, source))
  }
  if (less(has.citric, wants.citric)) {
    const says = `${grams(has.citric)} of citric acid for each kg; the tested recipe has ${grams(wants.citric)}.`
    const kind = has.citric === 0 ? 'no-acid' : 'less-acid'
    found.push(departure(kind, placeOf('citric-acid') ?? 'ingredients', says, source))
  }
  return found
}

/** Starch that the published recipe does not have at all is named with the ingredients. */
function tooMuchStarch({ has, wants, placeOf, source }: Compared): Departure[] {
  const found: Departure[] = []
  if (wants.modifiedStarch > 0 && more(has.modifiedStarch, wants.modifiedStarch)) {
    const says = `${grams(has.modifiedStarch)} of modified starch for each kg; the tested recipe has ${grams(wants.modifiedStarch)}.`
    found.push(departure('too-much-modified-starch', placeOf('modified-starch') ?? 'ingredients', says, source))
  }
  if (wants.starch > 0 && more(has.starch, wants.starch)) {
    const says = `${grams(has.starch)} of starch for each kg; the tested recipe has ${grams(wants.starch)}.`
    found.push(departure('starch', placeOf('starch') ?? 'ingredients', says, source))
  }
  return found
}

function tooLittleSugar({ has, wants, placeOf, source }: Compared): Departure[] {
  if (!less(has.sugar, wants.sugar)) return []
  const says = `${grams(has.sugar)} of sugar for each kg; the tested recipe keeps by its ${grams(wants.sugar)}.`
  return [departure('less-sugar', placeOf('sugar', 'honey') ?? 'ingredients', says, source)]
}
