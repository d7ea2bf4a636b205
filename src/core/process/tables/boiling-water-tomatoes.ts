import { seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { boilingWaterSalsas } from './boiling-water-salsas.ts'
import { hot, publishedRecipe, raw } from './published-recipe.ts'
import { boilingWater, pints, pintsAndQuarts, quarts, tomatoAcid } from './rows.ts'

const acidified = { acidity: 'acidified', acid: tomatoAcid, headspaceIn: 0.5 } as const
const copy = 'read in the copy of the 2015 guide at meatsandsausages.com'

/** Tomatoes and tomatillos by themselves: acid goes into every jar. */
const plain: readonly ProcessRow[] = [
  ...boilingWater({
    ...acidified,
    product: 'tomato juice',
    form: 'juice',
    source: seen('usda-2015', 'Guide 3 p. 3-6'),
    rows: [hot(pints, 35, 40, 45, 50), hot(quarts, 40, 45, 50, 55)],
  }),
  ...publishedRecipe({
    ...acidified,
    product: 'tomato and vegetable juice blend',
    form: 'juice',
    notes: ['No more than 3 cups of chopped celery, onion, carrot and pepper together to 22 lb of tomatoes.'],
    source: seen('usda-2015', 'Guide 3 p. 3-6, 3-7', `${copy}; the same in the 1994 tables, Michigan sheet 01600833`),
    rows: [hot(pints, 35, 40, 45, 50), hot(quarts, 40, 45, 50, 55)],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomatoes, crushed',
    form: 'no added liquid',
    source: seen('usda-2015', 'Guide 3 p. 3-7, 3-8'),
    rows: [hot(pints, 35, 40, 45, 50), hot(quarts, 45, 50, 55, 60)],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomato sauce, standard',
    form: 'thin or thick',
    headspaceIn: 0.25,
    source: seen('usda-2015', 'Guide 3 p. 3-8, 3-9'),
    rows: [hot(pints, 35, 40, 45, 50), hot(quarts, 40, 45, 50, 55)],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomatoes, whole or halved',
    form: 'packed in water',
    source: seen('usda-2015', 'Guide 3 p. 3-9'),
    rows: [
      hot(pints, 40, 45, 50, 55),
      hot(quarts, 45, 50, 55, 60),
      raw(pints, 40, 45, 50, 55),
      raw(quarts, 45, 50, 55, 60),
    ],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomatoes, whole or halved',
    form: 'packed in tomato juice',
    source: seen('usda-2015', 'Guide 3 p. 3-10', `${copy}; the same in the 1994 tables, Michigan sheet 01600828`),
    rows: [hot(pintsAndQuarts, 85, 90, 95, 100), raw(pintsAndQuarts, 85, 90, 95, 100)],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomatoes, whole or halved',
    form: 'raw, no added liquid',
    source: seen('usda-2015', 'Guide 3 p. 3-11'),
    rows: [raw(pintsAndQuarts, 85, 90, 95, 100)],
  }),
  ...boilingWater({
    ...acidified,
    product: 'tomatillos',
    form: 'whole',
    source: seen(
      'usda-2015',
      'Guide 3 p. 3-13',
      `${copy}, which sends the reader to whole tomatoes in water, hot pack`,
    ),
    rows: [hot(pints, 40, 45, 50, 55), hot(quarts, 45, 50, 55, 60)],
  }),
]

/** Tomatoes, tomato sauces, ketchups and salsas in a boiling-water canner. */
export const boilingWaterTomatoes: readonly ProcessRow[] = [...plain, ...boilingWaterSalsas]
