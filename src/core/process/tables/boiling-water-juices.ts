import { seen } from '../sources.ts'
import { boilingWater, halfGallons, halfPints, pints, pintsAndQuarts, quarts } from './rows.ts'

/** Juices, purees, sauces and syrups of fruit in a boiling-water canner. */
export const boilingWaterJuices = [
  ...boilingWater({
    product: 'apple juice',
    form: 'juice',
    headspaceIn: 0.25,
    source: seen('usda-2015', 'Guide 2 p. 2-6'),
    rows: [
      { pack: 'hot', jars: pintsAndQuarts, minutes: [5, 10, 15], sterileJars: true },
      { pack: 'hot', jars: halfGallons, minutes: [10, 15, 20] },
    ],
  }),
  ...boilingWater({
    product: 'applesauce',
    form: 'sauce',
    headspaceIn: 0.5,
    source: seen('usda-2015', 'Guide 2 p. 2-7, 2-8'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [15, 20, 20, 25] },
      { pack: 'hot', jars: quarts, minutes: [20, 25, 30, 35] },
    ],
  }),
  ...boilingWater({
    product: 'berry syrup',
    form: 'syrup',
    headspaceIn: 0.5,
    asPublished: true,
    notes: [
      'From blueberries, cherries, grapes, raspberries or strawberries, with a cup or two of whole fruit if wanted.',
    ],
    source: seen(
      'usda-1994',
      'Guide 2, berry syrup (2015: p. 2-10)',
      'read in the copy at recipesource.com; seasonalandsimple.info gives the same from So Easy to Preserve',
    ),
    rows: [{ pack: 'hot', jars: pints, minutes: [10, 15, 20] }],
  }),
  ...boilingWater({
    product: 'fruit-based baby food',
    form: 'puree or chunk',
    headspaceIn: null,
    notes: [
      'Half-pints are the better size. Fruit only: pureed vegetables and meat have no tested time, so can them whole and puree at the meal.',
    ],
    source: seen('usda-2015', 'Guide 1 p. 1-31'),
    rows: [{ pack: 'hot', jars: pints, minutes: [20, 25, 30] }],
  }),
  ...boilingWater({
    product: 'fruit purees',
    form: 'puree',
    headspaceIn: 0.25,
    notes: [
      'Not for bananas, Asian pears, figs, tomatoes, cantaloupe and other melons, papaya, ripe mango or coconut: these are too low in acid, and no puree of them was tested.',
    ],
    source: seen('usda-2015', 'Guide 2 p. 2-14'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [15, 20, 25] }],
  }),
  ...boilingWater({
    product: 'grape juice',
    form: 'juice',
    headspaceIn: 0.25,
    source: seen(
      'usda-1994',
      'Guide 2, grape juice (2015: p. 2-15)',
      'read in Michigan sheet 01600323 and at recipesource.com',
    ),
    rows: [
      { pack: 'hot', jars: pintsAndQuarts, minutes: [5, 10, 15], sterileJars: true },
      { pack: 'hot', jars: halfGallons, minutes: [10, 15, 20] },
    ],
  }),
  ...boilingWater({
    product: 'mango sauce',
    form: 'sauce, slightly under-ripe to just-ripe mango with lemon juice',
    headspaceIn: 0.25,
    acidity: 'acidified',
    asPublished: true,
    notes: [
      '4 tablespoons of bottled lemon juice to 5 1/2 cups (3 1/4 lb) of puree. Ripe mango is too low in acid.',
      'Raw green mango irritates the skin of some people: wear gloves.',
    ],
    source: seen('usda-2015', 'Guide 2 p. 2-17, 2-18'),
    rows: [{ pack: 'hot', jars: halfPints, minutes: [15, 20, 25] }],
  }),
]
