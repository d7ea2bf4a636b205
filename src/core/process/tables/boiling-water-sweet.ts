import { type Citation, memory, seen } from '../sources.ts'
import type { JarSize, ProcessRow } from '../types.ts'
import { type BoilingWaterTable, boilingWater, halfPints, pints, quarts } from './rows.ts'

const unsterileJars = 'In jars that were not boiled first: 10 minutes below 1,000 ft (Guide 1 p. 1-30).'
const yellowFleshed = 'Yellow-fleshed peaches only: white-fleshed ones can be too low in acid.'
const sugarKeepsIt =
  'The sugar stays as published: without it this is plain canned fruit, for which the short time does not hold.'

/** 5, 10 and 15 minutes in sterile jars: the table under every cooked jam and jelly of Guide 7 and of the sheets after it. */
function spread(
  product: string,
  form: string,
  jars: readonly JarSize[],
  source: Citation,
  more: Pick<BoilingWaterTable, 'acidity' | 'notes'> = {},
): ProcessRow[] {
  return boilingWater({
    product,
    form,
    headspaceIn: 0.25,
    sterileJars: true,
    asPublished: true,
    ...more,
    notes: [...(more.notes ?? []), unsterileJars],
    source,
    rows: [{ pack: 'hot', jars, minutes: [5, 10, 15] }],
  })
}

/** Fruit butters, jams, jellies, marmalades, preserves and conserves in a boiling-water canner. */
export const boilingWaterSweetSpreads: readonly ProcessRow[] = [
  ...boilingWater({
    product: 'apple butter',
    form: 'puree with sugar, cider and vinegar',
    headspaceIn: 0.25,
    asPublished: true,
    source: seen('usda-2015', 'Guide 2 p. 2-6'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [5, 10, 15], sterileJars: true },
      { pack: 'hot', jars: quarts, minutes: [10, 15, 20] },
    ],
  }),
  ...spread('jelly, no added pectin', 'jelly', pints, seen('usda-2015', 'Guide 7 p. 7-6')),
  ...spread('jam, no added pectin', 'jam', pints, seen('usda-2015', 'Guide 7 p. 7-7')),
  ...spread('jam or jelly, added pectin', 'jam, jelly, orange marmalade', pints, seen('usda-2015', 'Guide 7 p. 7-8'), {
    notes: ['By the recipe that comes with the pectin, orange marmalade among them.'],
  }),
  ...spread('pear-apple jam', 'jam', pints, seen('usda-2015', 'Guide 7 p. 7-8')),
  ...spread(
    'strawberry-rhubarb jelly',
    'jelly',
    pints,
    seen(
      'usda-1994',
      'Guide 7, strawberry-rhubarb jelly',
      'read in Michigan sheet 01600893 and at meatsandsausages.com',
    ),
  ),
  ...spread(
    'blueberry-spice jam',
    'jam',
    pints,
    seen('usda-1994', 'Guide 7, blueberry-spice jam', 'read in Michigan sheet 01600894 and at meatsandsausages.com'),
  ),
  ...spread('grape-plum jelly', 'jelly', pints, seen('usda-2015', 'Guide 7 p. 7-10')),
  ...spread(
    'golden pepper jelly',
    'jelly',
    halfPints,
    seen(
      'usda-2015',
      'Guide 7, golden pepper jelly',
      'read in copies at meatsandsausages.com and seasonalandsimple.info',
    ),
    { acidity: 'acidified', notes: ['Vinegar of 5 % in the published amount: peppers alone are low in acid.'] },
  ),
  ...boilingWater({
    product: 'peach-pineapple spread',
    form: 'reduced-sugar spread',
    headspaceIn: 0.25,
    acidity: 'acidified',
    asPublished: true,
    notes: [
      'Peaches, nectarines, apricots or plums, yellow-fleshed; up to 2 cups of sugar or none; the bottled lemon juice stays as published.',
    ],
    source: seen('usda-2015', 'Guide 7, peach-pineapple spread', 'read in the copy at meatsandsausages.com'),
    rows: [
      { pack: 'hot', jars: halfPints, minutes: [15, 20, 20, 25] },
      { pack: 'hot', jars: ['pint'], minutes: [20, 25, 30, 35] },
    ],
  }),
  ...spread(
    'remade soft jellies',
    'jelly',
    pints,
    seen(
      'usda-1994',
      'Guide 7, remaking soft jellies',
      'read at all-good-recipes.com and in a sheet of Oklahoma State',
    ),
    { notes: ['4 to 6 cups at a time, with new lids.'] },
  ),
  ...spread(
    'citrus marmalade',
    'marmalade without added pectin',
    halfPints,
    seen('national-center', 'citrus marmalade', 'read in the copy at staceycancan.com'),
  ),
  ...spread(
    'apple conserve',
    'conserve with raisins and nuts, added pectin',
    pints,
    seen('national-center', 'apple conserve', 'read in a sheet of the University of Nebraska'),
  ),
  ...spread(
    'cranberry marmalade',
    'marmalade with added pectin',
    pints,
    seen('national-center', 'cranberry marmalade', 'read in the web archive of the University of North Texas, 2009'),
  ),
  ...spread(
    'peach-orange marmalade',
    'marmalade without added pectin',
    pints,
    seen('national-center', 'peach-orange marmalade', 'read in the copy at seasonalandsimple.info'),
    { notes: [yellowFleshed] },
  ),
  ...spread(
    'apricot-orange conserve',
    'conserve with nuts',
    pints,
    seen(
      'national-center',
      'apricot-orange conserve',
      'read in the web archive of the University of North Texas, 2009',
    ),
  ),
  ...spread(
    'damson plum-orange conserve',
    'conserve with raisins and nuts, added pectin',
    pints,
    seen('national-center', 'damson plum-orange conserve', 'read in the copy at seasonalandsimple.info'),
  ),
  ...spread(
    'plum conserve',
    'conserve with orange, raisins and nuts',
    pints,
    seen('so-easy', 'plum conserve', 'read in the copy at seasonalandsimple.info, taken from the 5th edition'),
  ),
  ...spread('fig preserves', 'whole figs in syrup with lemon', pints, memory('so-easy', 'preserves'), {
    acidity: 'acidified',
    notes: ['The lemon juice stays as published: figs alone can be too low in acid.', sugarKeepsIt],
  }),
  ...spread('peach preserves', 'pieces in syrup', pints, memory('so-easy', 'preserves'), {
    notes: [yellowFleshed, sugarKeepsIt],
  }),
  ...spread('pear preserves', 'pieces in syrup', pints, memory('so-easy', 'preserves'), { notes: [sugarKeepsIt] }),
  ...spread(
    'strawberry preserves',
    'whole berries in syrup',
    pints,
    seen('national-center', 'strawberry preserves', 'read in the web archive of the University of North Texas, 2009'),
    { notes: [sugarKeepsIt] },
  ),
  ...boilingWater({
    product: 'lemon curd',
    form: 'curd with bottled lemon juice',
    headspaceIn: 0.5,
    acidity: 'acidified',
    asPublished: true,
    notes: [
      'The water in the canner is at most 180 °F (82 °C) when the jars go in; the slow rise to the boil belongs to the process.',
      'Best within 3 to 4 months: it browns and separates later.',
    ],
    source: memory('national-center', 'lemon curd, canned', 'the sheet was read, but not its table'),
    rows: [{ pack: 'hot', jars: halfPints, minutes: [15, 20, 25] }],
  }),
]
