import { follows, type Starter, starter } from './build.ts'
import { acidAsSold, asWritten, boilingPot, figAcid, hotPeppers, notForShelf } from './cautions.ts'
import { lemonByTheJar, lightSyrup, salt, sugar } from './ingredients.ts'
import { cannerLoad, freezerBag, jar, of, pomace, pot, pounds, step } from './parts.ts'
import { asPublished } from './published.ts'
import * as steps from './steps.ts'

/** Grapes, figs, rhubarb, cranberries. */
export const otherFruit: readonly Starter[] = [
  starter({
    name: 'Grape juice',
    method: 'water-bath-canned',
    inputs: [of('grape', { ripe: 1, soft: 0.7 }, pomace(0.35))],
    process: follows('grape juice', 'juice', 'hot'),
    steps: [
      steps.wash(1),
      steps.pick(2, 'Stem and crush.'),
      steps.cookAndRest(
        'Cover with boiling water, simmer until the skins are soft, strain, and let the juice stand cold for 24 to 48 hours; pour it off its sediment.',
        1,
        0,
        1440,
      ),
      steps.sterilise(),
      step('stove', 'stove', 'Strain again and bring to a boil.', { perUnit: 0.5, atOnce: true }, ['burner']),
      ...steps.intoTheCanner(2, 'Fill hot jars with boiling juice.'),
    ],
    packs: [jar('quart', pounds(24.5, 7), 520, [cannerLoad('quart')])],
    cautions: [boilingPot],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-15: 24 1/2 lb for 7 quarts (from memory)',
  }),
  starter({
    name: 'Grapes in light syrup',
    method: 'water-bath-canned',
    inputs: [of('grape', { firm: 0.8, ripe: 1 })],
    ingredients: [lightSyrup],
    process: follows('grapes', 'whole', 'raw'),
    steps: [
      steps.wash(1),
      steps.pick(3, 'Stem sound, tight-skinned grapes.'),
      ...steps.intoTheCanner(2, 'Fill hot jars with raw grapes and cover with hot syrup; an inch to spare.'),
    ],
    packs: [
      jar('quart', pounds(14, 7), 620, [cannerLoad('quart')]),
      jar('pint', pounds(9, 9), 340, [cannerLoad('pint')]),
    ],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-16: 14 lb for 7 quarts, 9 lb for 9 pints',
  }),
  starter({
    name: 'Figs in light syrup',
    method: 'water-bath-canned',
    inputs: [of('fig', { ripe: 1, firm: 0.6 })],
    ingredients: [lemonByTheJar, lightSyrup],
    process: follows('figs', 'whole, acidified', 'hot'),
    steps: [
      steps.wash(1, 'Wash firm, uncracked figs; do not peel or stem them.'),
      steps.cook('Boil 2 minutes in water, drain, and boil gently for 5 minutes in the syrup.', 0.5),
      ...steps.intoTheCanner(2, 'Put the lemon juice into each jar first, then hot figs and syrup.'),
    ],
    packs: [
      jar('quart', pounds(16, 7), 900, [cannerLoad('quart')]),
      jar('pint', pounds(11, 9), 480, [cannerLoad('pint')]),
    ],
    cautions: [figAcid, acidAsSold],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-14: 16 lb for 7 quarts, 11 lb for 9 pints; 2 tablespoons of bottled lemon juice a quart',
  }),
  starter({
    name: 'Stewed rhubarb',
    method: 'water-bath-canned',
    inputs: [of('rhubarb', { firm: 1, ripe: 1 })],
    ingredients: [sugar(176)],
    process: follows('rhubarb', 'stewed', 'hot'),
    steps: [
      steps.wash(1, 'Take stalks only: the leaves are poisonous. Wash.'),
      steps.cut(2, 'Trim and cut in pieces of half an inch to an inch; mix with the sugar.'),
      steps.cookAndRest('Let it stand until juice appears.', 0, 0, 60),
      steps.cook('Heat gently to a boil.', 1),
      ...steps.intoTheCanner(2, 'Fill hot jars at once.'),
    ],
    packs: [
      jar('quart', pounds(10.5, 7), 480, [cannerLoad('quart')]),
      jar('pint', pounds(7, 9), 260, [cannerLoad('pint')]),
    ],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-22: 10 1/2 lb for 7 quarts, 7 lb for 9 pints, 1/2 cup of sugar a quart of fruit (from memory); sugar is for taste',
  }),
  starter({
    name: 'Frozen rhubarb',
    method: 'frozen',
    inputs: [of('rhubarb', { firm: 1, ripe: 1 })],
    steps: [
      steps.wash(1, 'Take stalks only: the leaves are poisonous. Wash.'),
      steps.cut(2, 'Trim and cut in one-inch pieces.'),
      steps.blanch('Scald for 1 minute, cool at once in cold water and drain.', 1),
      steps.freeze(),
    ],
    packs: [freezerBag(1000, 1163, 300, 1700)],
    source:
      'Edible portion of rhubarb, stalks trimmed, 86 %: 1 kg from 1.163 kg; National Center: 1 minute (from memory)',
  }),
  starter({
    name: 'Rhubarb compote',
    method: 'refrigerated',
    inputs: [of('rhubarb', { firm: 1, ripe: 1, soft: 0.6 })],
    ingredients: [sugar(120)],
    steps: [
      steps.wash(1, 'Take stalks only: the leaves are poisonous. Wash.'),
      steps.cut(2, 'Trim and cut in one-inch pieces.'),
      step('stove', 'stove', 'Stew gently with sugar until soft.', { perRun: 10, wait: 30 }, ['burner']),
      step('fill', 'fill', 'Fill clean jars, cover, cool and label; eat within a week.', { perUnit: 2 }),
    ],
    packs: [jar('pint', 520, 260, [pot(8, 30)])],
    cautions: [notForShelf, boilingPot],
    source: 'Common practice, no source; a week in the refrigerator as for cooked fruit',
  }),
  starter({
    name: 'Spicy cranberry salsa',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'spicy cranberry salsa',
      form: 'salsa',
      pack: 'hot',
      crops: { cranberry: { ripe: 1 }, onion: { firm: 1, ripe: 1 }, 'hot-pepper': { firm: 1, ripe: 1 } },
      jars: [['pint', 560]],
      pot: [6, 60],
      vinegar: 'cider',
      more: (per) => [salt(per(18))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(6, 'Chop the onions, seed and chop the peppers fine.'),
      steps.cook(
        'Boil everything but the cranberries, simmer 5 minutes, add the cranberries and simmer 20 minutes, stirring.',
        0,
        30,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot salsa, a quarter of an inch to spare.'),
    ],
    cautions: [asWritten, acidAsSold, hotPeppers],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-23: 2 3/4 lb of cranberries, 6 cups of onion, 1 1/2 cups of cider vinegar give about 6 pints; all the sweetening as sugar instead of sugar and honey',
  }),
]
