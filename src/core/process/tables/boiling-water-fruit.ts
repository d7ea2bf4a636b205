import { memory, seen } from '../sources.ts'
import { asianPearAcid, boilingWater, figAcid, pints, pintsAndQuarts, quarts } from './rows.ts'

const rawIsPoor = 'A raw pack is tested but keeps its colour and shape badly: a hot pack is the better one.'
const notWhiteFleshed =
  'Yellow-fleshed fruit only. White-fleshed peaches and nectarines can be too low in acid and have no tested process: freeze them.'
const whichBerries =
  'For blackberries, blueberries, currants, dewberries, gooseberries, huckleberries, loganberries, mulberries and raspberries. Not for strawberries.'
const noElderberries =
  'Not for elderberries, though the guide still lists them: they can be too low in acid (University of Maine, 2020).'

/** Fruit, whole or in pieces, in a boiling-water canner. */
export const boilingWaterFruit = [
  ...boilingWater({
    product: 'apples',
    form: 'sliced',
    headspaceIn: 0.5,
    notes: ['Boil the slices for 5 minutes first. There is no table for a raw pack.'],
    source: seen('usda-2015', 'Guide 2 p. 2-7'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [20, 25, 30, 35] }],
  }),
  ...boilingWater({
    product: 'apricots',
    form: 'halved or sliced',
    headspaceIn: 0.5,
    notes: [rawIsPoor],
    source: seen('usda-1994', 'Guide 2, apricots (2015: p. 2-9)', 'read in Michigan sheet 01600770'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: pints, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: quarts, minutes: [30, 35, 40, 45] },
    ],
  }),
  ...boilingWater({
    product: 'Asian pears',
    form: 'halved or sliced, acidified',
    headspaceIn: 0.5,
    acidity: 'acidified',
    acid: asianPearAcid,
    notes: ['Boil the pears for 5 minutes first. There is no table for a raw pack.'],
    source: seen('usda-2015', 'Guide 2 p. 2-20'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
    ],
  }),
  ...boilingWater({
    product: 'berries',
    form: 'whole',
    headspaceIn: 0.5,
    notes: [whichBerries, noElderberries],
    source: seen('usda-2015', 'Guide 2 p. 2-10'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [15, 20, 20, 25] }],
  }),
  ...boilingWater({
    product: 'berries',
    form: 'whole',
    headspaceIn: 0.5,
    notes: [
      whichBerries,
      'Blueberries, currants, gooseberries and huckleberries are for a hot pack only.',
      noElderberries,
    ],
    source: seen('usda-2015', 'Guide 2 p. 2-10'),
    rows: [
      { pack: 'raw', jars: pints, minutes: [15, 20, 20, 25] },
      { pack: 'raw', jars: quarts, minutes: [20, 25, 30, 35] },
    ],
  }),
  ...boilingWater({
    product: 'cherries',
    form: 'whole, sweet or sour',
    headspaceIn: 0.5,
    notes: ['Pitted or not. Prick the skins of unpitted cherries, or they split.'],
    source: seen('usda-2015', 'Guide 2 p. 2-12, 2-13'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [15, 20, 20, 25] },
      { pack: 'hot', jars: quarts, minutes: [20, 25, 30, 35] },
      { pack: 'raw', jars: pintsAndQuarts, minutes: [25, 30, 35, 40] },
    ],
  }),
  ...boilingWater({
    product: 'cranberries',
    form: 'whole in heavy syrup',
    headspaceIn: 0.5,
    source: memory('so-easy', 'canning fruit', 'not in the USDA guide'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [15, 20, 25] }],
  }),
  ...boilingWater({
    product: 'figs',
    form: 'whole, acidified',
    headspaceIn: 0.5,
    acidity: 'acidified',
    acid: figAcid,
    notes: ['Boil the figs in light syrup for 5 minutes first. There is no table for a raw pack.'],
    source: seen('usda-2015', 'Guide 2 p. 2-14'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [45, 50, 55, 60] },
      { pack: 'hot', jars: quarts, minutes: [50, 55, 60, 65] },
    ],
  }),
  ...boilingWater({
    product: 'grapefruit and orange sections',
    form: 'sections',
    headspaceIn: 0.5,
    notes: ['Oranges taste best with as much grapefruit; grapefruit may be canned alone.'],
    source: seen(
      'usda-1994',
      'Guide 2, grapefruit and orange sections (2015: p. 2-15)',
      'read in Michigan sheet 01600449; makers of canners print 5 minutes for the smaller jar, which no copy of the guide shows',
    ),
    rows: [{ pack: 'raw', jars: pintsAndQuarts, minutes: [10, 15, 20] }],
  }),
  ...boilingWater({
    product: 'grapes',
    form: 'whole',
    headspaceIn: 1,
    source: seen('usda-2015', 'Guide 2 p. 2-16'),
    rows: [
      { pack: 'hot', jars: pintsAndQuarts, minutes: [10, 15, 15, 20] },
      { pack: 'raw', jars: pints, minutes: [15, 20, 20, 25] },
      { pack: 'raw', jars: quarts, minutes: [20, 25, 30, 35] },
    ],
  }),
  ...boilingWater({
    product: 'mixed fruit cocktail',
    form: 'cubes',
    headspaceIn: 0.5,
    asPublished: true,
    notes: ['Peaches, pears, green seedless grapes and bottled maraschino cherries in syrup.', notWhiteFleshed],
    source: seen('usda-1994', 'Guide 2, mixed fruit cocktail (2015: p. 2-18)', 'read in Michigan sheet 01600840'),
    rows: [{ pack: 'raw', jars: pints, minutes: [20, 25, 30, 35] }],
  }),
  ...boilingWater({
    product: 'nectarines',
    form: 'halved or sliced',
    headspaceIn: 0.5,
    notes: [notWhiteFleshed, rawIsPoor],
    source: seen(
      'usda-1994',
      'Guide 2, nectarines (2015: p. 2-18)',
      'read in recipe-exchange copies and in the copy of the national center page at seasonalandsimple.info',
    ),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: pints, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: quarts, minutes: [30, 35, 40, 45] },
    ],
  }),
  ...boilingWater({
    product: 'peaches',
    form: 'halved or sliced',
    headspaceIn: 0.5,
    notes: [notWhiteFleshed, rawIsPoor],
    source: seen('usda-2015', 'Guide 2 p. 2-19'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: pints, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: quarts, minutes: [30, 35, 40, 45] },
    ],
  }),
  ...boilingWater({
    product: 'pears',
    form: 'halved',
    headspaceIn: 0.5,
    notes: ['Boil the pears for 5 minutes first. There is no table for a raw pack.'],
    source: seen('usda-2015', 'Guide 2 p. 2-19, 2-20'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
    ],
  }),
  ...boilingWater({
    product: 'pineapple',
    form: 'sliced or cubed',
    headspaceIn: 0.5,
    notes: ['Simmer the pieces for 10 minutes first. There is no table for a raw pack.'],
    source: seen('usda-1994', 'Guide 2, pineapple (2015: p. 2-21)', 'read in the copy at recipesource.com'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [15, 20, 20, 25] },
      { pack: 'hot', jars: quarts, minutes: [20, 25, 30, 35] },
    ],
  }),
  ...boilingWater({
    product: 'plums',
    form: 'halved or whole',
    headspaceIn: 0.5,
    source: seen('usda-2015', 'Guide 2 p. 2-21, 2-22'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'raw', jars: quarts, minutes: [25, 30, 35, 40] },
    ],
  }),
  ...boilingWater({
    product: 'rhubarb',
    form: 'stewed',
    headspaceIn: 0.5,
    notes: ['Stalks only, never the leaves.'],
    source: seen('usda-1994', 'Guide 2, rhubarb (2015: p. 2-22)', 'read in Michigan sheet 01600253'),
    rows: [{ pack: 'hot', jars: pintsAndQuarts, minutes: [15, 20, 25] }],
  }),
  ...boilingWater({
    product: 'strawberries',
    form: 'whole',
    headspaceIn: 0.5,
    notes: ['Canned strawberries fade and soften; they freeze better.'],
    source: memory('so-easy', 'canning fruit', 'not in the USDA guide'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [10, 15, 20] },
      { pack: 'hot', jars: quarts, minutes: [15, 20, 25] },
    ],
  }),
  ...boilingWater({
    product: 'zucchini-pineapple',
    form: 'cubed or shredded',
    headspaceIn: 0.5,
    acidity: 'acidified',
    asPublished: true,
    notes: ['Zucchini in canned pineapple juice with bottled lemon juice: the lemon juice makes it acid enough.'],
    source: seen(
      'usda-1994',
      'Guide 2, zucchini-pineapple (2015: p. 2-22)',
      'read in Michigan sheet 01600848 and Florida sheet HE247',
    ),
    rows: [{ pack: 'hot', jars: pints, minutes: [15, 20, 25] }],
  }),
]
