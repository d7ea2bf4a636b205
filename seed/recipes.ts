import type { Method, RipenessClass } from '../src/core/produce/vocabulary.ts'
import type { Pack, PackRun, RecipeDefinition, RecipeInput } from '../src/core/recipes/recipe.ts'

/**
 * The demonstration co-op's recipes. Raw weights for each jar follow the yields printed in the USDA Complete Guide to
 * Home Canning (2015), named at each recipe; 1 lb = 453.6 g. Minutes of hands and machines, and what a jar is worth,
 * are the invented co-op's own. They carry a method and its minutes; none of them is said here to be a tested process.
 */
export type SeedRecipe = { name: string; method: Method; definition: RecipeDefinition }
type PlainRecipe = {
  name: string
  method: Method
  definition: Omit<RecipeDefinition, 'ingredients' | 'process' | 'steps'>
}

const boilingWater =
  'Boiling water and hot jars: adults only at the stove. Take the time and the headspace from a tested process for your altitude and ask your local extension service or food authority.'
const boilingSugar = 'Boiling sugar sticks and burns: children stay out of reach of the stove.'
const knives = 'Peeling and cutting with sharp knives is no work for small children.'
const notForShelf = 'Keep it cold: this is not for the shelf.'

/** One load of a boiling-water canner: heating up, the process, settling, unloading; it stands on a burner all the time. */
function cannerLoad(unitsPerRun: number, minutes = 60): PackRun {
  return {
    name: 'canner load',
    unitsPerRun,
    fillAtLeast: 0.5,
    machineMinutes: { canner: minutes, burner: minutes },
    work: { stove: 8 },
    process: false,
  }
}

/** One pot on one burner. */
function pot(unitsPerRun: number, minutes: number, stoveMinutes: number): PackRun {
  return {
    name: 'pot',
    unitsPerRun,
    fillAtLeast: 0.5,
    machineMinutes: { burner: minutes },
    work: { stove: stoveMinutes },
    process: false,
  }
}

function crop(
  key: string,
  suits: Partial<Record<RipenessClass, number>>,
  trim: RecipeInput['trim'],
  share: number | { min: number; max: number } = 1,
): RecipeInput {
  return { from: { crop: key }, suits, trim, share: typeof share === 'number' ? { min: share, max: share } : share }
}

function jar(
  size: 'quart' | 'pint' | 'half-pint',
  pack: Partial<Pack> & Pick<Pack, 'gramsPerUnit' | 'worthMinor' | 'runs'>,
): Pack {
  return {
    key: size,
    unit: size,
    units: `${size}s`,
    jar: size,
    workPerUnit: { fill: size === 'quart' ? 2 : 1.5, pack: 0.5 },
    machineMinutesPerUnit: {},
    freezerMl: 0,
    makes: null,
    ...pack,
    supplies: { [`jar-${size}`]: 1, lid: 1, ...pack.supplies },
  }
}

function bag(
  key: string,
  unit: string,
  units: string,
  pack: Partial<Pack> & Pick<Pack, 'gramsPerUnit' | 'worthMinor'>,
): Pack {
  return {
    key,
    unit,
    units,
    jar: null,
    runs: [],
    workPerUnit: { pack: 2 },
    machineMinutesPerUnit: {},
    freezerMl: 0,
    makes: null,
    ...pack,
    supplies: { ...pack.supplies },
  }
}

const peels = (share: number, damaged: number) => [{ kind: 'peels-cores' as const, share, shareByClass: { damaged } }]
const stones = (share: number, damaged: number) => [{ kind: 'stones-stems' as const, share, shareByClass: { damaged } }]

const plainRecipes: PlainRecipe[] = [
  {
    name: 'Peach slices in light syrup',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('peach', { firm: 0.8, ripe: 1 }, [...peels(0.12, 0.3), ...stones(0.1, 0.1)])],
      packs: [
        jar('quart', { gramsPerUnit: 1134, worthMinor: 750, runs: [cannerLoad(7, 70)], supplies: { sugar: 110 } }),
        jar('pint', { gramsPerUnit: 554, worthMinor: 400, runs: [cannerLoad(9, 65)], supplies: { sugar: 55 } }),
      ],
      workPerKg: { wash: 1, cut: 5 },
      cautions: [boilingWater, knives],
      source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-19: 2 1/2 lb a quart, 11 lb for 9 pints',
    },
  },
  {
    name: 'Apple slices in light syrup',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('apple', { firm: 1, ripe: 0.7 }, peels(0.24, 0.38))],
      packs: [jar('quart', { gramsPerUnit: 1247, worthMinor: 520, runs: [cannerLoad(7)], supplies: { sugar: 110 } })],
      workPerKg: { wash: 1, cut: 6 },
      cautions: [boilingWater, knives],
      source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-7: 2 3/4 lb a quart',
    },
  },
  {
    name: 'Apple sauce',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('apple', { firm: 0.8, ripe: 1, soft: 0.9, damaged: 0.8 }, peels(0.24, 0.38))],
      packs: [
        jar('quart', { gramsPerUnit: 1361, worthMinor: 560, runs: [cannerLoad(7)] }),
        jar('pint', { gramsPerUnit: 680, worthMinor: 300, runs: [cannerLoad(9, 55)] }),
      ],
      workPerKg: { wash: 1, cut: 4, stove: 2 },
      cautions: [boilingWater, knives],
      source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-7: 3 lb a quart, 13 1/2 lb for 9 pints',
    },
  },
  {
    name: 'Apple butter',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('apple', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.24, 0.38))],
      packs: [
        jar('pint', {
          gramsPerUnit: 427,
          worthMinor: 600,
          runs: [pot(8, 150, 40), cannerLoad(9, 45)],
          supplies: { sugar: 110, 'cider-vinegar': 55 },
        }),
      ],
      workPerKg: { wash: 1, cut: 3 },
      cautions: [boilingWater, boilingSugar, knives],
      source:
        'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-6: 8 lb of apples, with 2 cups of cider, for 8 to 9 pints',
    },
  },
  {
    name: 'Apple pie filling',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('apple', { firm: 1, ripe: 0.8 }, peels(0.24, 0.38))],
      packs: [
        jar('quart', {
          gramsPerUnit: 1150,
          worthMinor: 780,
          runs: [cannerLoad(7, 70)],
          supplies: { sugar: 175, 'cook-type-starch': 45, 'lemon-juice': 55 },
        }),
      ],
      workPerKg: { wash: 1, cut: 6, stove: 2 },
      cautions: [boilingWater, knives],
      source:
        'Own figure: about 3 1/2 quarts of sliced apple for 4 quarts of filling; raw weight from the sliced yield above',
    },
  },
  {
    name: 'Damson jam',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('damson', { firm: 0.7, ripe: 1, soft: 0.7, damaged: 0.5 }, stones(0.08, 0.2))],
      packs: [
        jar('half-pint', {
          gramsPerUnit: 190,
          worthMinor: 330,
          runs: [pot(8, 45, 35), cannerLoad(12, 40)],
          supplies: { sugar: 165 },
        }),
      ],
      workPerKg: { wash: 1, pack: 5 },
      cautions: [boilingWater, boilingSugar],
      source: 'Own figure: about equal weights of fruit and sugar, five half-pints from a kilogram',
    },
  },
  {
    name: 'Blackberry jam',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('blackberry', { ripe: 1, soft: 0.8 }, [])],
      packs: [
        jar('half-pint', {
          gramsPerUnit: 165,
          worthMinor: 360,
          runs: [pot(8, 40, 30), cannerLoad(12, 40)],
          supplies: { sugar: 230 },
        }),
      ],
      workPerKg: { wash: 2 },
      cautions: [boilingWater, boilingSugar],
      source:
        'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-6: 4 cups crushed berries, 4 cups sugar, 3 to 4 half-pints',
    },
  },
  {
    name: 'Apple juice for jelly',
    method: 'juiced',
    definition: {
      inputs: [crop('apple', { firm: 0.9, ripe: 1, soft: 0.7, damaged: 0.9 }, [{ kind: 'pomace', share: 0.45 }])],
      packs: [
        bag('litre', 'litre', 'litres', {
          gramsPerUnit: 1900,
          worthMinor: 0,
          runs: [pot(4, 50, 15)],
          workPerUnit: { fill: 2 },
          makes: { material: 'apple-juice', name: 'apple juice', gramsPerUnit: 1045, readyAfterDays: 1, keepsDays: 2 },
        }),
      ],
      workPerKg: { wash: 1, cut: 1.5 },
      cautions: [boilingWater],
      source:
        'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: at least 1 cup of juice for each pound; it drips overnight',
    },
  },
  {
    name: 'Apple jelly',
    method: 'water-bath-canned',
    definition: {
      inputs: [{ from: { material: 'apple-juice' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }],
      packs: [
        jar('half-pint', {
          gramsPerUnit: 220,
          worthMinor: 340,
          runs: [pot(5, 35, 30), cannerLoad(12, 40)],
          supplies: { sugar: 140, 'lemon-juice': 6 },
        }),
      ],
      workPerKg: {},
      cautions: [boilingWater, boilingSugar],
      source: 'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-5: 4 cups of juice make 4 to 5 half-pints',
    },
  },
  {
    name: 'Bottled apple juice',
    method: 'juiced',
    definition: {
      inputs: [crop('apple', { firm: 0.8, ripe: 1, soft: 0.6, damaged: 0.9 }, [{ kind: 'pomace', share: 0.4 }])],
      packs: [
        jar('quart', {
          gramsPerUnit: 1980,
          worthMinor: 420,
          runs: [cannerLoad(7, 45)],
          machineMinutesPerUnit: { press: 5 },
        }),
      ],
      workPerKg: { wash: 1, cut: 1 },
      cautions: [boilingWater],
      source: 'University of Georgia Extension, weights and yields for fruits: 10 to 12 quarts from a 48 lb bushel',
    },
  },
  {
    name: 'Frozen apple slices',
    method: 'frozen',
    definition: {
      inputs: [crop('apple', { firm: 1, ripe: 0.8 }, peels(0.24, 0.38))],
      packs: [
        bag('bag-1kg', 'one-kilo bag', 'one-kilo bags', {
          gramsPerUnit: 1316,
          worthMinor: 380,
          freezerMl: 1900,
          supplies: { 'freezer-bag': 1 },
        }),
      ],
      workPerKg: { wash: 1, cut: 6 },
      cautions: [knives],
      source: 'Edible portion of pared and cored apples 76 %: 1 kg of slices from 1.316 kg',
    },
  },
  {
    name: 'Frozen diced tomatoes',
    method: 'frozen',
    definition: {
      inputs: [crop('tomato', { ripe: 1, soft: 0.7, damaged: 0.6 }, peels(0.1, 0.3))],
      packs: [
        bag('bag-1kg', 'one-kilo bag', 'one-kilo bags', {
          gramsPerUnit: 1111,
          worthMinor: 300,
          freezerMl: 1400,
          supplies: { 'freezer-bag': 1 },
        }),
      ],
      workPerKg: { wash: 1, cut: 4 },
      cautions: [knives],
      source: 'Own figure: a tenth of the weight is core and skin',
    },
  },
  {
    name: 'Frozen blackberries',
    method: 'frozen',
    definition: {
      inputs: [crop('blackberry', { ripe: 1 }, [])],
      packs: [
        bag('bag-500g', 'half-kilo bag', 'half-kilo bags', {
          gramsPerUnit: 520,
          worthMinor: 380,
          freezerMl: 1100,
          supplies: { 'freezer-bag': 1 },
        }),
      ],
      workPerKg: { wash: 3 },
      cautions: [],
      source: 'Own figure: half a kilo and a little for what is picked over; frozen on trays first',
    },
  },
  {
    name: 'Dried apple slices',
    method: 'dried',
    definition: {
      inputs: [crop('apple', { firm: 1, ripe: 1 }, peels(0.24, 0.38))],
      packs: [
        bag('bag-200g', '200 g bag', '200 g bags', {
          gramsPerUnit: 1600,
          worthMinor: 560,
          runs: [
            {
              name: 'dehydrator of trays',
              unitsPerRun: 3,
              fillAtLeast: 0.3,
              process: false,
              machineMinutes: { dehydrator: 540 },
              work: { pack: 15 },
            },
          ],
        }),
      ],
      workPerKg: { wash: 1, cut: 7 },
      cautions: [knives],
      source: 'Farm and Garden Rule-Book 1911: 6 to 7 1/2 lb dried from a bushel, about 1 in 8',
    },
  },
  {
    name: 'Apple and blackberry leather',
    method: 'dried',
    definition: {
      inputs: [
        crop('apple', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.24, 0.38), { min: 0.5, max: 0.8 }),
        crop('blackberry', { ripe: 1, soft: 1 }, [], { min: 0.2, max: 0.5 }),
      ],
      packs: [
        bag('tray', 'tray', 'trays', {
          gramsPerUnit: 650,
          worthMinor: 420,
          runs: [
            {
              name: 'oven of trays',
              unitsPerRun: 3,
              fillAtLeast: 0.6,
              process: false,
              machineMinutes: { oven: 420 },
              work: { pack: 12 },
            },
          ],
        }),
      ],
      workPerKg: { wash: 1, cut: 3, stove: 3 },
      cautions: ['An oven that cannot hold a low temperature is second best for drying.', knives],
      source: 'Own figure: two cups of puree on a 13 by 15 inch tray',
    },
  },
  {
    name: 'Vinegar from cores and peels',
    method: 'fermented',
    definition: {
      inputs: [
        {
          from: { material: 'peels-cores' },
          suits: {},
          share: { min: 1, max: 1 },
          trim: [{ kind: 'pomace', share: 0.5 }],
        },
      ],
      packs: [
        bag('litre', 'litre', 'litres', {
          gramsPerUnit: 700,
          worthMinor: 220,
          supplies: { sugar: 60 },
          workPerUnit: { fill: 3 },
        }),
      ],
      workPerKg: { wash: 0.5 },
      cautions: ['Home-made vinegar is for the table: not for canning unless its acid has been measured at 5 %.'],
      source: 'Common practice, no source: scraps covered with sweetened water',
    },
  },
  {
    name: 'Topping up the cider vinegar',
    method: 'fermented',
    definition: {
      inputs: [crop('apple', { soft: 1, ripe: 0.8, damaged: 0.9 }, [{ kind: 'pomace', share: 0.45 }])],
      packs: [
        bag('litre', 'litre', 'litres', {
          gramsPerUnit: 1900,
          worthMinor: 260,
          workPerUnit: { fill: 2 },
          machineMinutesPerUnit: { press: 5 },
        }),
      ],
      workPerKg: { wash: 0.5, cut: 0.5 },
      cautions: ['Home-made vinegar is for the table: not for canning unless its acid has been measured at 5 %.'],
      source: 'Own figure: juice yield as for bottled juice; the barrel in the shed has room for so much',
    },
  },
  {
    name: 'Damson and apple chutney',
    method: 'water-bath-canned',
    definition: {
      inputs: [
        crop('damson', { ripe: 1, soft: 1, damaged: 0.8 }, stones(0.08, 0.2), { min: 0.45, max: 0.6 }),
        crop('apple', { firm: 1, ripe: 1, soft: 0.9, damaged: 0.8 }, peels(0.24, 0.38), { min: 0.25, max: 0.4 }),
        crop('onion', { firm: 1, ripe: 1 }, peels(0.1, 0.25), 0.15),
      ],
      packs: [
        jar('pint', {
          gramsPerUnit: 560,
          worthMinor: 620,
          runs: [pot(7, 120, 35), cannerLoad(9, 45)],
          supplies: { sugar: 120, 'cider-vinegar': 160 },
        }),
      ],
      workPerKg: { wash: 1, cut: 5 },
      cautions: [boilingWater, boilingSugar, knives],
      source: 'Own figure; a chutney for the shelf needs a tested recipe with its full measure of vinegar',
    },
  },
  {
    name: 'Crushed tomatoes',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('tomato', { firm: 0.6, ripe: 1, soft: 0.6 }, peels(0.1, 0.3))],
      packs: [
        jar('quart', {
          gramsPerUnit: 1247,
          worthMinor: 480,
          runs: [cannerLoad(7, 90)],
          supplies: { 'lemon-juice': 30 },
        }),
      ],
      workPerKg: { wash: 1, cut: 3, stove: 1 },
      cautions: [
        boilingWater,
        knives,
        'Tomatoes need the full measure of bottled lemon juice or citric acid in each jar.',
      ],
      source:
        'USDA Complete Guide to Home Canning 2015, Guide 3 p. 3-7: 2 3/4 lb a quart; p. 3-5: 2 tablespoons of bottled lemon juice a quart',
    },
  },
  {
    name: 'Tomato sauce, thin',
    method: 'water-bath-canned',
    definition: {
      inputs: [crop('tomato', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.12, 0.3))],
      packs: [
        jar('pint', {
          gramsPerUnit: 1058,
          worthMinor: 430,
          runs: [pot(9, 100, 25), cannerLoad(9, 75)],
          supplies: { 'lemon-juice': 15 },
        }),
      ],
      workPerKg: { wash: 1, cut: 2, stove: 1 },
      cautions: [boilingWater, 'Tomatoes need the full measure of bottled lemon juice or citric acid in each jar.'],
      source: 'USDA Complete Guide to Home Canning 2015, Guide 3 p. 3-8: 21 lb for 9 pints',
    },
  },
  {
    name: 'Peaches to eat fresh',
    method: 'fresh',
    definition: {
      inputs: [crop('peach', { ripe: 1 }, [])],
      packs: [bag('kilo', 'kilo', 'kilos', { gramsPerUnit: 1000, worthMinor: 320, workPerUnit: { pack: 1 } })],
      workPerKg: {},
      cautions: [],
      source: 'As it is',
    },
  },
  {
    name: 'Apples to eat fresh',
    method: 'fresh',
    definition: {
      inputs: [crop('apple', { firm: 1, ripe: 1 }, [])],
      packs: [bag('kilo', 'kilo', 'kilos', { gramsPerUnit: 1000, worthMinor: 260, workPerUnit: { pack: 1 } })],
      workPerKg: {},
      cautions: [],
      source: 'As it is',
    },
  },
  {
    name: 'Quick damson pickle',
    method: 'refrigerated',
    definition: {
      inputs: [crop('damson', { firm: 1, ripe: 0.8 }, [{ kind: 'stones-stems', share: 0.02 }])],
      packs: [
        jar('pint', {
          gramsPerUnit: 340,
          worthMinor: 360,
          runs: [pot(6, 20, 10)],
          supplies: { sugar: 80, 'cider-vinegar': 150 },
        }),
      ],
      workPerKg: { wash: 1 },
      cautions: [notForShelf, boilingSugar],
      source: 'Own figure: whole fruit under hot vinegar, kept in the refrigerator',
    },
  },
]

export const seedRecipes: SeedRecipe[] = plainRecipes.map((recipe) => ({
  ...recipe,
  definition: { ...recipe.definition, ingredients: [], process: null, steps: [] },
}))
