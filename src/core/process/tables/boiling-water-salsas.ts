import { type Citation, memory, seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { hot, publishedRecipe } from './published-recipe.ts'
import { halfPints, pints } from './rows.ts'

/** All salsas of the guide share one line: pints, packed hot. */
function salsa(product: string, source: Citation, form = 'salsa'): ProcessRow[] {
  return publishedRecipe({
    product,
    form,
    notes: ['Thicken it when you serve it: with flour or starch in the jar the time does not hold.'],
    source,
    rows: [hot(pints, 15, 20, 25)],
  })
}

function ketchup(product: string, source: Citation): ProcessRow[] {
  return publishedRecipe({
    product,
    form: 'ketchup',
    headspaceIn: 0.125,
    source,
    rows: [hot(pints, 15, 20, 25)],
  })
}

/** Hot sauces, ketchups and salsas of Guide 3. Their vinegar or lemon juice is part of the recipe. */
export const boilingWaterSalsas: readonly ProcessRow[] = [
  ...publishedRecipe({
    product: 'easy hot sauce',
    form: 'sauce',
    headspaceIn: 0.25,
    source: seen('usda-2015', 'Guide 3 p. 3-16'),
    rows: [hot(halfPints, 10, 15, 20)],
  }),
  ...publishedRecipe({
    product: 'cayenne pepper sauce',
    form: 'sauce',
    source: seen('usda-2015', 'Guide 3 p. 3-17', 'read in the copy of the 2015 guide at meatsandsausages.com'),
    rows: [hot(pints, 10, 15, 20)],
  }),
  ...ketchup('tomato ketchup', seen('usda-2015', 'Guide 3 p. 3-17, 3-18')),
  ...ketchup(
    'country western ketchup',
    seen('usda-1994', 'Guide 3', 'read in Michigan sheet 01600880; 2015 edition p. 3-18, from memory the same'),
  ),
  ...ketchup(
    'blender ketchup',
    seen(
      'usda-1994',
      'Guide 3',
      'read in the copy at recipesource.com; 2015 edition p. 3-18, 3-19, from memory the same',
    ),
  ),
  ...salsa('chile salsa', seen('usda-2015', 'Guide 3 p. 3-21')),
  ...salsa('chile salsa II', memory('usda-2015', 'Guide 3 p. 3-22')),
  ...salsa('tomatillo green salsa', seen('usda-2015', 'Guide 3 p. 3-22', 'read in a manual that quotes the page')),
  ...salsa('tomato salsa (paste tomatoes)', seen('usda-2015', 'Guide 3 p. 3-23')),
  ...salsa('tomato salsa (slicing tomatoes)', seen('usda-2015', 'Guide 3 p. 3-24')),
  ...salsa('tomato/green chile salsa', memory('usda-2015', 'Guide 3 p. 3-24')),
  ...salsa('tomato/tomato paste salsa', seen('usda-2015', 'Guide 3 p. 3-25')),
  ...salsa('tomato taco sauce', memory('usda-2015', 'Guide 3 p. 3-26'), 'sauce'),
]
