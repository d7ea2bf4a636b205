import { memory, seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { boilingWaterPickledVegetables } from './boiling-water-pickled-vegetables.ts'
import { boilingWaterRelishes } from './boiling-water-relishes.ts'
import { hot, publishedRecipe, raw } from './published-recipe.ts'
import { boilingWater, pints, pintsAndQuarts, quarts } from './rows.ts'

/** What lactic acid keeps; Guide 6. The salt is part of the process. */
const ferments: readonly ProcessRow[] = [
  ...boilingWater({
    product: 'dill pickles (fermented)',
    form: 'whole',
    headspaceIn: 0.5,
    source: seen('usda-2015', 'Guide 6 p. 6-7, 6-8'),
    rows: [raw(pints, 10, 15, 20), raw(quarts, 15, 20, 25)],
  }),
  ...boilingWater({
    product: 'sauerkraut',
    form: 'fermented cabbage',
    headspaceIn: 0.5,
    notes: ['Ferment it with 3 tablespoons of salt to 5 lb of cabbage: less salt is not tested.'],
    source: seen('usda-2015', 'Guide 6 p. 6-8, 6-9'),
    rows: [
      hot(pints, 10, 15, 15, 20),
      hot(quarts, 15, 20, 20, 25),
      raw(pints, 20, 25, 30, 35),
      raw(quarts, 25, 30, 35, 40),
    ],
  }),
]

/** Cucumbers in vinegar; Guide 6. */
const cucumbers: readonly ProcessRow[] = [
  ...publishedRecipe({
    product: 'bread-and-butter pickles',
    form: 'slices',
    source: seen('usda-2015', 'Guide 6 p. 6-9, 6-10'),
    rows: [hot(pintsAndQuarts, 10, 15, 20)],
  }),
  ...publishedRecipe({
    product: 'quick fresh-pack dill pickles',
    form: 'whole',
    source: seen('usda-2015', 'Guide 6 p. 6-10'),
    rows: [raw(pints, 10, 15, 20), raw(quarts, 15, 20, 25)],
  }),
  ...publishedRecipe({
    product: 'sweet gherkin pickles',
    form: 'whole',
    source: seen(
      'usda-1994',
      'Guide 6',
      'read in the copy at recipesource.com; 2015 edition p. 6-10, 6-11, from memory the same',
    ),
    rows: [raw(pints, 5, 10, 15)],
  }),
  ...publishedRecipe({
    product: '14-day sweet pickles',
    form: 'whole, strips or slices',
    source: memory(
      'usda-2015',
      'Guide 6 p. 6-11, 6-12',
      'copies of 1994 ask for sterile pint jars and only clean quart jars, which agrees with 5 and 10 minutes',
    ),
    rows: [raw(pints, 5, 10, 15), raw(quarts, 10, 15, 20)],
  }),
  ...publishedRecipe({
    product: 'quick sweet pickles',
    form: 'strips or slices',
    source: seen('usda-2015', 'Guide 6 p. 6-12, 6-13'),
    rows: [hot(pintsAndQuarts, 5, 10, 15), raw(pints, 10, 15, 20), raw(quarts, 15, 20, 25)],
  }),
  ...publishedRecipe({
    product: 'no sugar added sweet cucumber slices',
    form: 'slices',
    source: seen('usda-2015', 'Guide 6 p. 6-33'),
    rows: [hot(pints, 10, 15, 20)],
  }),
  ...publishedRecipe({
    product: 'reduced-sodium sliced dill pickles',
    form: 'slices',
    headspaceIn: 0.25,
    notes: ['Cucumbers stay half an inch below the rim, the liquid a quarter of an inch.'],
    source: seen('national-center', 'Reduced-Sodium Sliced Dill Pickles', 'adapted there from the USDA guide, p. 6-34'),
    rows: [raw(pints, 15, 20, 25)],
  }),
  ...publishedRecipe({
    product: 'reduced-sodium sliced sweet pickles',
    form: 'slices',
    source: seen('usda-2015', 'Guide 6 p. 6-34, 6-35'),
    rows: [hot(pints, 10, 15, 20)],
  }),
]

/** Pickles, ferments and relishes in a boiling-water canner. */
export const boilingWaterPickles: readonly ProcessRow[] = [
  ...ferments,
  ...cucumbers,
  ...boilingWaterPickledVegetables,
  ...boilingWaterRelishes,
]
