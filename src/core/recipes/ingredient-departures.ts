import type { PublishedFormula } from '../process/formulas/index.ts'
import { type Citation, seen } from '../process/sources.ts'
import type { ProcessRow } from '../process/types.ts'
import { departure } from './departures.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import { homeMadeVinegar } from './produce-departures.ts'
import type { Ingredient, IngredientKind, Pack } from './recipe.ts'
import type { Departure, DepartureKind } from './verdict-types.ts'

/**
 * What each kind of ingredient means for a tested row, by itself; amounts are compared elsewhere. `may`: it changes
 * nothing, or makes it more acid. A kind of departure: that, unless the published recipe has it.
 */
const rules: Record<IngredientKind, 'may' | DepartureKind> = {
  water: 'may',
  sugar: 'may',
  honey: 'may',
  salt: 'may',
  spice: 'may',
  'ascorbic-acid': 'may',
  'bottled-lemon-juice': 'may',
  'citric-acid': 'may',
  'vinegar-5': 'may',
  'fresh-citrus-juice': 'may',
  juice: 'may',
  'vinegar-unmeasured': 'unmeasured-vinegar',
  'modified-starch': 'too-much-modified-starch',
  starch: 'starch',
  'low-acid-vegetable': 'added-low-acid',
  'acid-fruit': 'other-produce',
  'dried-fruit': 'other-recipe',
  pectin: 'other-recipe',
  alcohol: 'other-recipe',
  other: 'other-recipe',
  oil: 'oil',
  dairy: 'dairy',
  egg: 'egg',
  meat: 'meat',
  nuts: 'nuts',
  lime: 'lime',
}

/** What no published recipe has unless it says so; the rest of an unknown recipe cannot be known to be missing from it. */
const neverUnsaid: readonly DepartureKind[] = ['starch', 'unmeasured-vinegar']

/**
 * Ingredients of one pack that the tested row does not have. Proportions of what it has are `formulaDepartures`'. Where
 * a row holds as published and the published recipe is not known here, only starch and unmeasured vinegar are named.
 */
export function ingredientDepartures(
  ingredients: readonly Ingredient[],
  pack: Pack,
  row: ProcessRow,
  formula: PublishedFormula | undefined,
): Departure[] {
  return ingredients.flatMap((ingredient, number) => {
    const rule = ruleFor(ingredient.kind, formula)
    if (rule === 'may' || !(ingredientPerUnit(ingredient, pack) > 0)) return []
    if (formula !== undefined && has(formula, ingredient.kind)) return []
    if (row.asPublished && formula === undefined && !neverUnsaid.includes(rule)) return []
    if (partOfProduct(row.product, ingredient.kind)) return []
    const kind = rule === 'added-low-acid' && row.acidity === 'low-acid' ? 'other-produce' : rule
    return [departure(kind, `ingredients.${number}`, wordsFor(ingredient, row), sourceOf(rule, row))]
  })
}

/** What a product is by its own name: soups hold meat and any vegetable that is canned (Guide 4 p. 4-18), pectin jams pectin. */
function partOfProduct(product: string, kind: IngredientKind): boolean {
  if (product.includes('added pectin')) return kind === 'pectin'
  return product.startsWith('soups') && (kind === 'meat' || kind === 'low-acid-vegetable')
}

/** Juice to cover plain fruit with changes nothing; a published recipe that has none is thinned by it. */
function ruleFor(kind: IngredientKind, formula: PublishedFormula | undefined): 'may' | DepartureKind {
  return kind === 'juice' && formula !== undefined ? 'other-recipe' : rules[kind]
}

/** Whether the published recipe has any of a kind; home-made vinegar is in none. */
function has(formula: PublishedFormula, kind: IngredientKind): boolean {
  if (kind === 'vinegar-unmeasured') return false
  if (kind === 'starch') return formula.otherStarchGrams > 0
  if (kind === 'modified-starch') return formula.modifiedStarchGrams > 0
  if (kind === 'low-acid-vegetable') return formula.lowAcidGrams > 0
  return formula.also.includes(kind)
}

function wordsFor({ name, kind }: Ingredient, row: ProcessRow): string {
  if (kind === 'vinegar-unmeasured') return homeMadeVinegar(name)
  if (kind === 'starch') {
    return `Heat goes more slowly through what ${name} thickens; only starch that a published recipe names was tested.`
  }
  return `“${row.product}” was tested without ${name}.`
}

function sourceOf(rule: DepartureKind, row: ProcessRow): Citation {
  if (rule === 'starch') return seen('usda-2015', 'Guide 2 p. 2-25, Guide 3 p. 3-21, Guide 4 p. 4-18')
  if (rule === 'unmeasured-vinegar') return seen('usda-2015', 'Guide 1 p. 1-28, Guide 3 p. 3-19')
  return row.source
}
