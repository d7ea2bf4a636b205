import { follows, type Starter, starter } from './build.ts'
import { acidAsSold, clearFerment, notForShelf } from './cautions.ts'
import { salt, sugar, vinegar } from './ingredients.ts'
import { bag, cannerLoad, jar, of, peels, pot, pounds, step } from './parts.ts'
import * as steps from './steps.ts'

const guide = 'USDA Complete Guide to Home Canning 2015, Guide 6'
const sound = { firm: 1, ripe: 1 }
const room = 'Keep at 70 to 75 °F (21 to 24 °C) for 3 to 4 weeks; skim and look at it several times a week.'

/** Sauerkraut and fermented pickles, and what is kept cold. */
export const ferments: readonly Starter[] = [
  starter({
    name: 'Sauerkraut',
    method: 'fermented',
    inputs: [of('cabbage', sound)],
    // 3 tablespoons, about 54 g, with each 5 lb
    ingredients: [salt(24)],
    steps: [
      steps.wash(1, 'Take off the outer leaves and rinse the heads.'),
      steps.cut(4, 'Quarter, core and shred.'),
      step(
        'fill',
        'fill',
        'Salt 5 lb at a time, pack firmly until juice covers it, weight it down. Top up with brine of 1 1/2 tablespoons of salt a quart.',
        { perKg: 3 },
      ),
      step('fill', null, room, { wait: 28 * 24 * 60 }),
      step('fill', 'fill', 'Pack in clean jars and keep cold.', { perUnit: 2 }),
    ],
    packs: [
      bag('quart', 'quart', 'quarts', {
        gramsPerUnit: pounds(25, 9),
        worthMinor: 460,
        supplies: { 'jar-quart': 1, lid: 1 },
      }),
    ],
    cautions: [clearFerment, notForShelf],
    source: `${guide} p. 6-8: 25 lb of cabbage give about 9 quarts; 3 tablespoons of salt with each 5 lb`,
  }),
  starter({
    name: 'Sauerkraut in jars',
    method: 'water-bath-canned',
    inputs: [of('cabbage', sound)],
    ingredients: [salt(24)],
    process: follows('sauerkraut', 'fermented cabbage', 'hot'),
    steps: [
      steps.wash(1, 'Take off the outer leaves and rinse the heads.'),
      steps.cut(4, 'Quarter, core and shred.'),
      step('fill', 'fill', 'Salt 5 lb at a time, pack firmly until juice covers it, weight it down.', { perKg: 3 }),
      step('fill', null, room, { wait: 28 * 24 * 60 }),
      steps.cook('Bring kraut and liquid slowly to a boil, stirring.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars firmly and cover with juice.'),
    ],
    packs: [
      jar('quart', pounds(25, 9), 480, [cannerLoad('quart')]),
      jar('pint', pounds(25, 18), 260, [cannerLoad('pint')]),
    ],
    cautions: [clearFerment],
    source: `${guide} p. 6-8: 25 lb of cabbage give about 9 quarts; 3 tablespoons of salt with each 5 lb, never less`,
  }),
  starter({
    name: 'Fermented dill pickles',
    method: 'fermented',
    inputs: [of('cucumber', { firm: 1, ripe: 0.6 }, peels(0.02))],
    // a gallon: 4 lb of cucumbers, 1/2 cup of salt, 1/4 cup of vinegar in 8 cups of water
    ingredients: [salt(80), vinegar(32.6)],
    steps: [
      steps.wash(1),
      steps.cut(1, 'Cut off the blossom end, leave a bit of stem.'),
      step('fill', 'fill', 'Lay over dill and garlic in a crock, cover with the brine and weight down.', { perKg: 2 }),
      step('fill', null, room, { wait: 28 * 24 * 60 }),
      step('fill', 'fill', 'Pack in jars with strained brine and keep cold, 4 to 6 months.', { perUnit: 2 }),
    ],
    packs: [
      bag('quart', 'quart', 'quarts', {
        gramsPerUnit: pounds(14, 7),
        worthMinor: 560,
        supplies: { 'jar-quart': 1, lid: 1 },
      }),
    ],
    cautions: [clearFerment, notForShelf],
    source: `${guide} p. 6-7: 4 lb of cucumbers, 1/2 cup of salt, 1/4 cup of vinegar for a gallon; p. 6-5: 2 lb a quart`,
  }),
  starter({
    name: 'Fermented dill pickles in jars',
    method: 'water-bath-canned',
    inputs: [of('cucumber', { firm: 1, ripe: 0.6 }, peels(0.02))],
    ingredients: [salt(80), vinegar(32.6)],
    process: follows('dill pickles (fermented)', 'whole', 'raw'),
    steps: [
      steps.wash(1),
      steps.cut(1, 'Cut off the blossom end, leave a bit of stem.'),
      step('fill', 'fill', 'Lay over dill and garlic in a crock, cover with the brine and weight down.', { perKg: 2 }),
      step('fill', null, room, { wait: 28 * 24 * 60 }),
      step('stove', 'stove', 'Strain the brine and simmer it for 5 minutes.', { perKg: 0.5, atOnce: true }, ['burner']),
      ...steps.intoTheCanner(2, 'Fill hot jars with pickles and hot brine.'),
    ],
    packs: [
      jar('quart', pounds(14, 7), 580, [cannerLoad('quart')]),
      jar('pint', pounds(9, 9), 310, [cannerLoad('pint')]),
    ],
    cautions: [clearFerment, acidAsSold],
    source: `${guide} p. 6-7: 4 lb of cucumbers, 1/2 cup of salt, 1/4 cup of vinegar for a gallon; p. 6-5: 14 lb for 7 quarts, 9 lb for 9 pints`,
  }),
  starter({
    name: 'Refrigerator cucumber pickles',
    method: 'refrigerated',
    inputs: [of('cucumber', { firm: 1, ripe: 0.9 }, peels(0.03))],
    ingredients: [vinegar(0, { pint: 120 }), sugar(0, { pint: 25 }), salt(0, { pint: 6 })],
    steps: [
      steps.wash(1),
      steps.cut(3, 'Slice.'),
      step(
        'stove',
        'stove',
        'Boil vinegar with as much water, sugar, salt and mixed pickling spices.',
        { perRun: 8, atOnce: true },
        ['burner'],
      ),
      step(
        'fill',
        'fill',
        'Fill jars, pour on the hot liquid, cover, cool and put in the refrigerator; eat within a month.',
        { perUnit: 2 },
      ),
    ],
    packs: [jar('pint', 380, 320, [pot(8, 20)])],
    cautions: [notForShelf],
    source: 'Common practice, no source: half vinegar of 5 %, half water, kept in the refrigerator',
  }),
  starter({
    name: 'Refrigerator beet relish',
    method: 'refrigerated',
    inputs: [of('beet', sound, undefined, 0.7), of('cabbage', sound, undefined, 0.3)],
    ingredients: [vinegar(200), sugar(80), salt(8)],
    steps: [
      steps.wash(2),
      step('stove', 'stove', 'Boil the beets until tender; cool.', { perKg: 1, wait: 60 }, ['burner']),
      steps.cut(5, 'Peel the beets; chop or grate beets and cabbage.'),
      step('stove', 'stove', 'Boil with vinegar, sugar and salt for 10 minutes.', { perRun: 12, atOnce: true }, [
        'burner',
      ]),
      step('fill', 'fill', 'Fill clean jars, cover, cool and put in the refrigerator; eat within a month.', {
        perUnit: 2,
      }),
    ],
    packs: [jar('pint', 520, 320, [pot(8, 30)])],
    cautions: [notForShelf],
    source: 'Common practice, no source; kept in the refrigerator',
  }),
]
