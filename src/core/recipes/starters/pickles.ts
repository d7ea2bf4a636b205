import { type Starter, starter } from './build.ts'
import { acidAsSold, asWritten } from './cautions.ts'
import { salt } from './ingredients.ts'
import { ingredient, peels, step } from './parts.ts'
import { asPublished } from './published.ts'
import * as steps from './steps.ts'

const guide = 'USDA Complete Guide to Home Canning 2015, Guide 6'
const sound = { firm: 1, ripe: 1 }
const ends = peels(0.03)
const asBought = 'Proportions as printed, weights of cups ours'

/** Cucumbers and other vegetables in vinegar. */
export const pickles: readonly Starter[] = [
  starter({
    name: 'Bread-and-butter pickles',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'bread-and-butter pickles',
      form: 'slices',
      pack: 'hot',
      crops: { cucumber: [{ firm: 1, ripe: 0.8 }, ends], onion: sound },
      jars: [['pint', 480]],
      pot: [8, 40],
      more: (per) => [salt(per(145))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(5, 'Cut off the blossom end; slice cucumbers and onions.'),
      step('fill', 'fill', 'Salt, cover with ice and keep cold for 3 to 4 hours; drain.', { perKg: 1, wait: 210 }),
      steps.cook(
        'Boil vinegar, sugar and spices (mustard seed, celery seed, turmeric) for 10 minutes, add the vegetables and bring back to a boil.',
        0,
        15,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot slices and syrup.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-9: 6 lb of cucumbers, 3 lb of onions, 4 cups of vinegar give about 8 pints`,
  }),
  starter({
    name: 'Quick dill pickles',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'quick fresh-pack dill pickles',
      form: 'whole',
      pack: 'raw',
      crops: { cucumber: [{ firm: 1, ripe: 0.7 }, ends] },
      jars: [
        ['quart', 780],
        ['pint', 420],
      ],
      pot: null,
      more: (per) => [salt(per(363))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(1.5, 'Cut off the blossom end, leave a bit of stem.'),
      step('fill', 'fill', 'Soak in brine for 12 hours; drain.', { perKg: 0.5, wait: 720 }),
      step(
        'stove',
        'stove',
        'Boil vinegar, water, salt, sugar and spices (dill, mustard seed, pickling spice).',
        { perKg: 1, atOnce: true },
        ['burner'],
      ),
      ...steps.intoTheCanner(2, 'Fill hot jars with cucumbers and dill; cover with boiling liquid.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-10: 8 lb of cucumbers, 1 1/2 quarts of vinegar to 2 quarts of water give 7 to 9 pints`,
  }),
  starter({
    name: 'Quick sweet pickles',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'quick sweet pickles',
      form: 'strips or slices',
      pack: 'raw',
      crops: { cucumber: [{ firm: 1, ripe: 0.7 }, ends] },
      jars: [['pint', 440]],
      pot: null,
      more: (per) => [salt(per(97))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(3, 'Cut off the blossom end; slice or cut in strips.'),
      step('fill', 'fill', 'Salt, cover with ice and keep cold for 3 to 4 hours; drain.', { perKg: 1, wait: 210 }),
      step(
        'stove',
        'stove',
        'Boil vinegar, sugar and spices (celery seed, mustard seed, allspice).',
        { perKg: 1, atOnce: true },
        ['burner'],
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with cucumbers; cover with the hot syrup.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-12 (amounts from memory): 8 lb of cucumbers, 3 1/2 cups of vinegar, 4 1/2 cups of sugar, 7 to 9 pints`,
  }),
  starter({
    name: 'Pickled dilled beans',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pickled dilled beans',
      form: 'whole',
      pack: 'raw',
      crops: { 'snap-bean': { firm: 1, ripe: 0.8 } },
      jars: [['pint', 450]],
      pot: null,
      more: (per) => [salt(per(145))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(4, 'Trim to four inches.'),
      steps.sterilise(),
      step('stove', 'stove', 'Boil vinegar, as much water, salt and pepper flakes.', { perKg: 1, atOnce: true }, [
        'burner',
      ]),
      ...steps.intoTheCanner(2, 'Stand the beans in hot jars with dill and garlic; cover with the hot liquid.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-14: 4 lb of beans, 4 cups of vinegar to 4 of water give about 8 pints`,
  }),
  starter({
    name: 'Pickled beets',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pickled beets',
      form: 'slices or baby whole',
      pack: 'hot',
      crops: { beet: sound, onion: sound },
      jars: [['pint', 430]],
      pot: [8, 60],
      more: (per) => [salt(per(9))],
    }),
    steps: [
      steps.wash(2, 'Trim the tops to an inch and scrub.'),
      step('stove', 'stove', 'Boil until tender, 25 to 30 minutes; cool.', { perKg: 1, wait: 45 }, ['burner']),
      steps.cut(3, 'Slip off skins, slice a quarter of an inch; slice the onions.'),
      steps.cook(
        'Boil vinegar, water, sugar and spices (cinnamon and cloves), add beets and onions and simmer 5 minutes.',
        0,
        15,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with beets and hot liquid.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-15: 7 lb of beets, 4 to 6 small onions, 4 cups of vinegar, about 8 pints`,
  }),
  starter({
    name: 'Bread-and-butter zucchini',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pickled bread-and-butter zucchini',
      form: 'slices',
      pack: 'hot',
      crops: { 'summer-squash': sound, onion: sound },
      jars: [['pint', 420]],
      pot: [8, 40],
      more: (per) => [salt(per(145))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(5, 'Slice zucchini and onions thin.'),
      step('fill', 'fill', 'Cover with water and the salt for 2 hours; drain well.', { perKg: 0.5, wait: 120 }),
      steps.cook(
        'Boil vinegar, sugar and spices (mustard seed, celery seed, turmeric), add the vegetables and simmer 5 minutes.',
        0,
        15,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with vegetables and liquid.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-26: 16 cups of zucchini, 4 of onions, 4 of vinegar, 8 to 9 pints. ${asBought}`,
  }),
  starter({
    name: 'Pickle relish',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pickle relish',
      form: 'relish',
      pack: 'hot',
      crops: { cucumber: [{ firm: 1, ripe: 0.8 }, ends], 'sweet-pepper': sound, onion: sound },
      jars: [['pint', 430]],
      pot: [9, 30],
      more: (per) => [salt(per(218))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(8, 'Chop everything fine.'),
      step(
        'fill',
        'fill',
        'Soak in salted ice water for 4 hours and in fresh for 1; drain. Pour on the boiling vinegar and sugar, spiced with mustard seed, turmeric, allspice, cloves and keep cold for a day.',
        { perKg: 1, wait: 1740 },
      ),
      steps.cook('Heat to a boil.', 0, 12),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot relish.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-28: 3 quarts of cucumbers, 6 cups of peppers, 6 cups of vinegar give about 9 pints. ${asBought}`,
  }),
  starter({
    name: 'Piccalilli',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'piccalilli',
      form: 'relish',
      pack: 'hot',
      crops: { tomato: { firm: 1 }, 'sweet-pepper': sound, onion: sound, cabbage: sound },
      jars: [['half-pint', 320]],
      pot: [4, 60],
      more: (per) => [salt(per(145))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(7, 'Chop green tomatoes, peppers, onions and cabbage.'),
      step('fill', 'fill', 'Mix with the salt, cover with hot water for 12 hours; drain and press out.', {
        perKg: 1,
        wait: 720,
      }),
      steps.sterilise(),
      steps.cook(
        'Boil vinegar, sugar and mixed pickling spices, add the vegetables and boil gently until half is left.',
        0,
        25,
      ),
      ...steps.intoTheCanner(1, 'Fill hot jars with hot relish.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-27: 6 cups of green tomatoes, 7 1/2 of cabbage, 4 1/2 of vinegar give 9 half-pints. ${asBought}`,
  }),
  starter({
    name: 'Green tomato relish',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pickled green tomato relish',
      form: 'relish',
      pack: 'hot',
      crops: { tomato: { firm: 1 }, 'sweet-pepper': sound, onion: sound },
      jars: [['pint', 430]],
      pot: [8, 40],
      more: (per) => [salt(per(145)), ingredient('mustard', 'prepared mustard', 'other', 'g', per(83))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(6, 'Chop fine or grate coarsely.'),
      steps.cookAndRest('Boil in salted water, simmer 5 minutes and drain.', 1, 0, 10),
      steps.sterilise(),
      steps.cook('Boil with sugar, vinegar and mustard and simmer 5 minutes.', 0, 15),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot relish.'),
    ],
    cautions: [asWritten, acidAsSold],
    source: `${guide} p. 6-29: 10 lb of green tomatoes, 3 lb of peppers, 2 lb of onions, 1 quart of vinegar give 7 to 9 pints; the spoon of starch of the recipe is left out`,
  }),
]
