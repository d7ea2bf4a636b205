import type { Method } from '../produce/vocabulary.ts'
import type { IngredientKind, Recipe } from './recipe.ts'

/** What can be dried with produce. Anything wet or fat keeps it from drying. Our choice. */
const driesWith: readonly IngredientKind[] = [
  'sugar',
  'honey',
  'spice',
  'salt',
  'ascorbic-acid',
  'citric-acid',
  'water',
  'acid-fruit',
]

/** Ways to keep a canned recipe that may not stand on a shelf: cold always, dried where only produce goes in. */
export function whatElse({ definition }: Pick<Recipe, 'definition'>): Method[] {
  const dries =
    definition.ingredients.every(({ kind }) => driesWith.includes(kind)) &&
    definition.inputs.every(({ from }) => 'crop' in from)
  return ['frozen', 'refrigerated', ...(dries ? (['dried'] as const) : [])]
}
