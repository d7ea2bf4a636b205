import { follows, type Starter, starter } from './build.ts'
import { acidAsSold, tomatoAcid } from './cautions.ts'
import { lemonByTheJar } from './ingredients.ts'
import { bag, cannerLoad, freezerBag, jar, of, peels, pot, pounds, pressureLoad, trays } from './parts.ts'
import * as steps from './steps.ts'

const peeled = 'Dip in boiling water for 30 to 60 seconds, slip off the skins, core and trim.'
const acidFirst = 'Put the lemon juice into each jar first, with a teaspoon of salt a quart if you like.'
const guide = 'USDA Complete Guide to Home Canning 2015, Guide 3'

/** Tomatoes plain: crushed, whole, juice, sauce, frozen, dried. */
export const tomatoes: readonly Starter[] = [
  starter({
    name: 'Crushed tomatoes',
    method: 'water-bath-canned',
    inputs: [of('tomato', { firm: 0.6, ripe: 1, soft: 0.6 }, peels(0.1, 0.3))],
    ingredients: [lemonByTheJar],
    process: follows('tomatoes, crushed', 'no added liquid', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(3, `${peeled} Quarter.`),
      steps.cook('Crush and boil the first sixth, add the rest bit by bit, and boil gently for 5 minutes more.', 1),
      ...steps.intoTheCanner(2, `${acidFirst} Fill with hot tomatoes.`),
    ],
    packs: [jar('quart', 1247, 480, [cannerLoad('quart')])],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-7: 2 3/4 lb a quart; p. 3-5: 2 tablespoons of bottled lemon juice a quart`,
  }),
  starter({
    name: 'Crushed tomatoes under pressure',
    method: 'pressure-canned',
    inputs: [of('tomato', { firm: 0.6, ripe: 1, soft: 0.6 }, peels(0.1, 0.3))],
    ingredients: [lemonByTheJar],
    process: follows('tomatoes, crushed', 'no added liquid', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(3, `${peeled} Quarter.`),
      steps.cook('Crush and boil the first sixth, add the rest bit by bit, and boil gently for 5 minutes more.', 1),
      ...steps.intoTheCanner(2, `${acidFirst} Fill with hot tomatoes.`, 'pressure'),
    ],
    packs: [jar('quart', 1247, 480, [pressureLoad('quart')]), jar('pint', pounds(14, 9), 270, [pressureLoad('pint')])],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-7: 2 3/4 lb a quart, 14 lb for 9 pints; the acid is needed under pressure too (p. 3-5)`,
  }),
  starter({
    name: 'Whole tomatoes in water',
    method: 'water-bath-canned',
    inputs: [of('tomato', { firm: 0.9, ripe: 1 }, peels(0.1, 0.3))],
    ingredients: [lemonByTheJar],
    process: follows('tomatoes, whole or halved', 'packed in water', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(2.5, `${peeled} Leave whole or halve.`),
      steps.cook('Cover with water and boil gently for 5 minutes.', 0.5),
      ...steps.intoTheCanner(2, `${acidFirst} Fill with hot tomatoes and their hot water.`),
    ],
    packs: [
      jar('quart', pounds(21, 7), 460, [cannerLoad('quart')]),
      jar('pint', pounds(13, 9), 260, [cannerLoad('pint')]),
    ],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-9: 21 lb for 7 quarts, 13 lb for 9 pints; acid p. 3-5`,
  }),
  starter({
    name: 'Tomato juice',
    method: 'water-bath-canned',
    inputs: [of('tomato', { ripe: 1, soft: 0.8, damaged: 0.5 }, [{ kind: 'pomace', share: 0.2 }])],
    ingredients: [lemonByTheJar],
    process: follows('tomato juice', 'juice', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(2, 'Stem, trim and quarter, straight into the pot.'),
      steps.cook('Crush and boil while more is added, simmer 5 minutes, press through a mill and boil again.', 2),
      ...steps.intoTheCanner(2, `${acidFirst} Fill with boiling juice.`),
    ],
    packs: [
      jar('quart', pounds(23, 7), 430, [cannerLoad('quart')]),
      jar('pint', pounds(14, 9), 240, [cannerLoad('pint')]),
    ],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-5: 23 lb for 7 quarts, 14 lb for 9 pints; 2 tablespoons of bottled lemon juice a quart`,
  }),
  starter({
    name: 'Tomato sauce, thin',
    method: 'water-bath-canned',
    inputs: [of('tomato', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.12, 0.3))],
    ingredients: [lemonByTheJar],
    process: follows('tomato sauce, standard', 'thin or thick', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(2, 'Stem, trim and quarter, straight into the pot.'),
      steps.cook('Crush and boil, press through a mill, and simmer until a third is boiled away.', 1, 25),
      ...steps.intoTheCanner(1.5, `${acidFirst} Fill with boiling sauce.`),
    ],
    packs: [jar('pint', pounds(21, 9), 430, [pot(9, 100), cannerLoad('pint')])],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-8: 21 lb for 9 pints; acid p. 3-5`,
  }),
  starter({
    name: 'Tomato sauce, thick',
    method: 'water-bath-canned',
    inputs: [of('tomato', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.12, 0.3))],
    ingredients: [lemonByTheJar],
    process: follows('tomato sauce, standard', 'thin or thick', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(2, 'Stem, trim and quarter, straight into the pot.'),
      steps.cook('Crush and boil, press through a mill, and simmer until half is boiled away.', 1, 40),
      ...steps.intoTheCanner(1.5, `${acidFirst} Fill with boiling sauce.`),
    ],
    packs: [
      jar('quart', pounds(46, 7), 960, [pot(4, 160), cannerLoad('quart')]),
      jar('pint', pounds(28, 9), 520, [pot(9, 160), cannerLoad('pint')]),
    ],
    cautions: [tomatoAcid, acidAsSold],
    source: `${guide} p. 3-8: 46 lb for 7 quarts, 28 lb for 9 pints; acid p. 3-5`,
  }),
  starter({
    name: 'Frozen diced tomatoes',
    method: 'frozen',
    inputs: [of('tomato', { ripe: 1, soft: 0.7, damaged: 0.6 }, peels(0.1, 0.3))],
    steps: [
      steps.wash(1),
      steps.cut(4, `${peeled} Dice.`),
      steps.freeze('Fill bags flat with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 1111, 300, 1400)],
    source: 'Own figure: a tenth of the weight is core and skin',
  }),
  starter({
    name: 'Dried tomatoes',
    method: 'dried',
    inputs: [of('tomato', { firm: 0.8, ripe: 1 })],
    steps: [
      steps.wash(1),
      steps.cut(5, 'Core and cut quarter-inch slices.'),
      steps.dry('Dry at 135 to 140 °F (57 to 60 °C) until crisp.', 15, 10),
      steps.condition(),
    ],
    packs: [bag('bag-100g', '100 g bag', '100 g bags', { gramsPerUnit: 1800, worthMinor: 560, runs: [trays(4, 10)] })],
    source:
      'Colorado State University Extension 9.308: quarter-inch slices. Hours are common practice, 8 to 12. Weight from the balance of water: 91 % edible, 94.5 % water fresh and about 10 % dried (our sum)',
  }),
]
