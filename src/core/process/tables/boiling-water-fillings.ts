import { seen } from '../sources.ts'
import { boilingWater, pintsAndQuarts, quarts } from './rows.ts'

const starchAndLemon = [
  'Thickened with cook-type modified starch only, in the amount of the recipe; any other starch goes in when the jar is opened.',
  'The bottled lemon juice stays as published; sugar and spice may change.',
]

/** Pie fillings of fruit in a boiling-water canner. */
export const boilingWaterFillings = [
  ...boilingWater({
    product: 'apple pie filling',
    form: 'slices in modified-starch sauce',
    headspaceIn: 1,
    acidity: 'acidified',
    asPublished: true,
    notes: starchAndLemon,
    source: seen('usda-2015', 'Guide 2 p. 2-26'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [25, 30, 35, 40] }],
  }),
  ...boilingWater({
    product: 'blueberry pie filling',
    form: 'berries in modified-starch sauce',
    headspaceIn: 1,
    acidity: 'acidified',
    asPublished: true,
    notes: starchAndLemon,
    source: seen(
      'usda-2015',
      'Guide 2 p. 2-27',
      'the 40 of the third band could not be read in the copy; it is that of the cherry and peach fillings',
    ),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [30, 35, 40, 45] }],
  }),
  ...boilingWater({
    product: 'cherry pie filling',
    form: 'cherries in modified-starch sauce',
    headspaceIn: 1,
    acidity: 'acidified',
    asPublished: true,
    notes: starchAndLemon,
    source: seen('usda-1994', 'Guide 2, cherry pie filling (2015: p. 2-27)', 'read in Michigan sheet 01600844'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [30, 35, 40, 45] }],
  }),
  ...boilingWater({
    product: 'green tomato pie filling',
    form: 'green tomatoes, apples and raisins, chopped',
    headspaceIn: 0.5,
    acidity: 'acidified',
    asPublished: true,
    notes: ['The bottled lemon juice and the vinegar stay as published. Nothing thickens it.'],
    source: seen('usda-1994', 'Guide 2, green tomato pie filling (2015: p. 2-29)', 'read in Michigan sheet 01600846'),
    rows: [{ pack: 'hot', jars: quarts, minutes: [15, 20, 25] }],
  }),
  ...boilingWater({
    product: 'peach pie filling',
    form: 'slices in modified-starch sauce',
    headspaceIn: 1,
    acidity: 'acidified',
    asPublished: true,
    notes: [
      ...starchAndLemon,
      'Yellow-fleshed peaches only: white-fleshed ones can be too low in acid and have no tested process.',
    ],
    source: seen('usda-2015', 'Guide 2 p. 2-30'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [30, 35, 40, 45] }],
  }),
]
