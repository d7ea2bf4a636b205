import { type Citation, memory, seen } from '../sources.ts'
import type { JarSize, ProcessRow } from '../types.ts'
import { hot, publishedRecipe, raw } from './published-recipe.ts'
import { halfPints, pints, pintsAndQuarts, quarts } from './rows.ts'

const guide = (pages: string, note?: string) => seen('usda-2015', `Guide 6 p. ${pages}`, note)
const centre = (sheet: string, pages: string) =>
  seen(
    'national-center',
    sheet,
    `read in the copy of the University of Missouri; also Guide 6 p. ${pages} of the USDA guide of 2015`,
  )
const older = (copy: string, pages: string) =>
  seen('usda-1994', 'Guide 6', `read in ${copy}; 2015 edition p. ${pages}, from memory the same`)

/** "12-ounce or pints", and half-pints by Guide 1 p. 1-23. */
const upToPints: readonly JarSize[] = ['half-pint', '12-ounce', 'pint']

type Pickle = [product: string, form: string, source: Citation, ...lines: ReturnType<typeof hot>[]]

const pickles: readonly Pickle[] = [
  [
    'pickled asparagus',
    'spears',
    seen(
      'so-easy',
      'pickled asparagus',
      'read in the copy of the University of Missouri, pints; 12-ounce jars from memory of Guide 6 p. 6-13',
    ),
    raw(upToPints, 10, 15, 20),
  ],
  ['pickled dilled beans', 'whole', guide('6-14'), raw(pints, 5, 10, 15)],
  ['pickled three-bean salad', 'mixed', guide('6-14, 6-15'), hot(pints, 15, 20, 25)],
  ['pickled beets', 'slices or baby whole', guide('6-15, 6-16'), hot(pintsAndQuarts, 30, 35, 40, 45)],
  [
    'no sugar added pickled beets',
    'slices or baby whole',
    centre('No Sugar Added Pickled Beets', '6-32'),
    hot(pints, 30, 35, 40, 45),
  ],
  [
    'pickled carrots',
    'slices',
    guide('6-16', 'read in the copy of the 2015 guide at meatsandsausages.com'),
    hot(pints, 15, 20, 25),
  ],
  ['pickled baby carrots', 'whole', centre('Pickled Baby Carrots', '6-16, 6-17'), hot(pints, 15, 20, 25)],
  [
    'pickled cauliflower or Brussels sprouts',
    'florets or whole sprouts',
    older('Michigan sheet 01600072', '6-17'),
    hot(pints, 10, 15, 20),
  ],
  ['chayote and jicama slaw', 'slaw', guide('6-17, 6-18'), hot(halfPints, 15, 20, 25)],
  [
    'bread-and-butter pickled jicama',
    'cubes',
    seen('national-center', 'Bread and Butter Pickled Jicama', 'also Guide 6 p. 6-18 of the USDA guide of 2015'),
    hot(pints, 15, 20, 25),
  ],
  ['marinated whole mushrooms', 'whole', guide('6-18, 6-19'), hot(halfPints, 20, 25, 30, 35)],
  ['pickled dilled okra', 'whole', memory('usda-2015', 'Guide 6 p. 6-19'), hot(pints, 10, 15, 20)],
  ['pickled pearl onions', 'whole', guide('6-20'), hot(pints, 10, 15, 20)],
  ['marinated peppers', 'whole or quartered', guide('6-20, 6-21'), raw(pints, 15, 20, 25)],
  ['pickled bell peppers', 'strips', older('a Meal-Master copy', '6-21'), hot(pints, 5, 10, 15)],
  ['pickled hot peppers', 'whole or quartered', guide('6-22'), raw(pints, 10, 15, 20)],
  ['pickled jalapeno rings', 'rings, limed', guide('6-23'), hot(pints, 10, 15, 20)],
  ['pickled yellow pepper rings', 'rings', centre('Pickled Yellow Pepper Rings', '6-24'), raw(pints, 10, 15, 20)],
  [
    'pickled sweet green tomatoes',
    'slices',
    memory('usda-2015', 'Guide 6 p. 6-24, 6-25'),
    hot(pints, 10, 15, 20),
    hot(quarts, 15, 20, 25),
  ],
  ['pickled mixed vegetables', 'pieces', guide('6-25'), hot(pints, 5, 10, 15), hot(quarts, 10, 15, 20)],
  ['pickled bread-and-butter zucchini', 'slices', guide('6-26'), hot(pintsAndQuarts, 10, 15, 20)],
  [
    'watermelon rind pickles',
    '1-inch squares',
    seen('so-easy', 'watermelon rind pickles', 'read in the copy of the University of Missouri of the 6th edition'),
    hot(pints, 10, 15, 20),
  ],
]

/** Vegetables other than cucumbers in vinegar: Guide 6, and one from Georgia. */
export const boilingWaterPickledVegetables: readonly ProcessRow[] = pickles.flatMap(
  ([product, form, source, ...rows]) => publishedRecipe({ product, form, source, rows }),
)
