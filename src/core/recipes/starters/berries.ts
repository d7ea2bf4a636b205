import { follows, type Starter, starter } from './build.ts'
import { asWritten, boilingSugar, lowOven } from './cautions.ts'
import { lightSyrup, mediumSyrup, pectin, sugar } from './ingredients.ts'
import { bag, batch, cannerLoad, freezerBag, jar, of, peels, pot, pounds, step, trays } from './parts.ts'
import { asPublished } from './published.ts'
import { boiledJam, jamOf } from './spreads.ts'
import * as steps from './steps.ts'

/** Berries and currants. */
export const berries: readonly Starter[] = [
  starter({
    name: 'Blackberry jam',
    method: 'water-bath-canned',
    inputs: [of('blackberry', { ripe: 1, soft: 0.8 }, [])],
    // 4 cups crushed at 240 g with 4 cups of sugar give 3 to 4 half-pints
    ingredients: [sugar(834)],
    process: follows('jam, no added pectin', 'jam', 'hot'),
    steps: [steps.wash(2, 'Rinse gently, pick over and crush.'), ...boiledJam(30)],
    packs: [jar('half-pint', 274, 360, [pot(8, 40), cannerLoad('half-pint')])],
    cautions: [boilingSugar],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-6: 4 cups crushed berries, 4 cups sugar, 3 to 4 half-pints',
  }),
  starter({
    name: 'Raspberry jam',
    method: 'water-bath-canned',
    // 4 cups crushed at 240 g, and as much sugar by the cup
    ...jamOf(batch(['raspberry', { ripe: 1, soft: 0.8 }, 960]), 800, 0, 3.5, 380),
    process: follows('jam, no added pectin', 'jam', 'hot'),
    steps: [steps.wash(2, 'Rinse gently, pick over and crush.'), ...boiledJam(30)],
    cautions: [boilingSugar],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-6: 4 cups crushed berries, 4 cups sugar, 3 to 4 half-pints; a crushed cup taken as 240 g',
  }),
  starter({
    name: 'Strawberry jam with pectin',
    method: 'water-bath-canned',
    ...strawberryJam(),
    process: follows('jam or jelly, added pectin', 'jam, jelly, orange marmalade', 'hot'),
    steps: [
      steps.wash(2),
      steps.cut(3, 'Hull and crush.'),
      steps.sterilise(),
      steps.cook(
        'Bring fruit and pectin to a boil that cannot be stirred down, add the sugar at once, boil hard for 1 minute and skim. Where your pectin asks for other amounts, follow it.',
        0,
        20,
      ),
      ...steps.intoTheCanner(1.5, 'Fill the hot jars at once.'),
    ],
    cautions: [boilingSugar],
    source:
      'National Center for Home Food Preservation, strawberry jam with powdered pectin: 5 1/2 cups crushed, 8 cups sugar, 9 to 10 half-pints (from memory); process USDA Guide 7 p. 7-8',
  }),
  starter({
    name: 'Blackberries in light syrup',
    method: 'water-bath-canned',
    inputs: [of('blackberry', { ripe: 1, firm: 0.6 })],
    ingredients: [lightSyrup],
    process: follows('berries', 'whole', 'raw'),
    steps: [
      steps.wash(2),
      ...steps.intoTheCanner(
        2,
        'Put half a cup of hot syrup in each jar, shake in the raw berries and cover with syrup.',
      ),
    ],
    packs: [
      jar('quart', pounds(12, 7), 800, [cannerLoad('quart')]),
      jar('pint', pounds(8, 9), 430, [cannerLoad('pint')]),
    ],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-10: 12 lb for 7 quarts, 8 lb for 9 pints',
  }),
  starter({
    name: 'Blueberries in light syrup',
    method: 'water-bath-canned',
    inputs: [of('blueberry', { ripe: 1 })],
    ingredients: [lightSyrup],
    process: follows('berries', 'whole', 'hot'),
    steps: [
      steps.wash(1.5),
      steps.cook('Dip in boiling water for 30 seconds and drain.', 0.5),
      ...steps.intoTheCanner(2, 'Put half a cup of hot syrup in each jar, add the hot berries and cover with syrup.'),
    ],
    packs: [
      jar('quart', pounds(12, 7), 850, [cannerLoad('quart')]),
      jar('pint', pounds(8, 9), 460, [cannerLoad('pint')]),
    ],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-10: 12 lb for 7 quarts, 8 lb for 9 pints',
  }),
  starter({
    name: 'Gooseberries in medium syrup',
    method: 'water-bath-canned',
    inputs: [of('gooseberry', { firm: 1, ripe: 0.9 })],
    ingredients: [mediumSyrup],
    process: follows('berries', 'whole', 'hot'),
    steps: [
      steps.wash(1),
      steps.pick(8, 'Top and tail.'),
      steps.cook('Dip in boiling water for 30 seconds and drain.', 0.5),
      ...steps.intoTheCanner(2, 'Put half a cup of hot syrup in each jar, add the hot berries and cover with syrup.'),
    ],
    packs: [jar('pint', pounds(8, 9), 400, [cannerLoad('pint')])],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-10: 8 lb for 9 pints; medium syrup p. 2-5',
  }),
  starter({
    name: 'Blueberry pie filling',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'blueberry pie filling',
      form: 'berries in modified-starch sauce',
      pack: 'hot',
      crops: { blueberry: { ripe: 1 } },
      jars: [['quart', 880]],
      pot: null,
    }),
    steps: [
      steps.wash(1.5),
      steps.cook(
        'Scald the berries for 1 minute and keep them hot. Boil sugar, starch and water until thick, add the lemon juice, boil 1 minute more and fold in the berries.',
        2,
      ),
      ...steps.intoTheCanner(2, 'Fill hot jars at once.'),
    ],
    cautions: [boilingSugar, asWritten],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-27: 3 1/2 cups of berries a quart; a cup of blueberries 151 g (University of Georgia Extension), 92 % edible. Copies give 3 tablespoons or 3 1/2 teaspoons of lemon juice a quart; the larger is taken',
  }),
  starter({
    name: 'Frozen blackberries',
    method: 'frozen',
    inputs: [of('blackberry', { ripe: 1 }, [])],
    steps: [
      steps.wash(3, 'Rinse gently, pick over and let dry.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 520, 380, 1100)],
    source: 'Own figure: half a kilo and a little for what is picked over; frozen on trays first',
  }),
  starter({
    name: 'Frozen raspberries',
    method: 'frozen',
    inputs: [of('raspberry', { ripe: 1 })],
    steps: [
      steps.wash(3, 'Pick over; rinse only if they need it, and let dry.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 521, 420, 1150)],
    source: 'Edible portion of raspberries 96 %: half a kilo from 521 g',
  }),
  starter({
    name: 'Frozen strawberries with sugar',
    method: 'frozen',
    inputs: [of('strawberry', { ripe: 1, soft: 0.6 })],
    ingredients: [sugar(170)],
    steps: [
      steps.wash(2),
      steps.cut(4, 'Hull and slice; toss with the sugar until it melts.'),
      steps.freeze('Fill bags with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 1000, 480, 1150)],
    source:
      'University of Georgia Extension: 1 lb for a frozen pint; sugar 3/4 cup to the quart, between the published 1 to 3 and 1 to 8 by weight (from memory)',
  }),
  starter({
    name: 'Frozen blueberries',
    method: 'frozen',
    inputs: [of('blueberry', { ripe: 1 })],
    steps: [
      steps.wash(1.5, 'Pick over, rinse and let dry.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 543, 400, 950)],
    source: 'Edible portion of blueberries 92 %: half a kilo from 543 g',
  }),
  starter({
    name: 'Frozen blackcurrants',
    method: 'frozen',
    inputs: [of('blackcurrant', { ripe: 1, firm: 0.5 })],
    steps: [
      steps.wash(1),
      steps.pick(6, 'Strip from the stalks.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 510, 380, 950)],
    source: 'Edible portion of currants, stripped, 98 %: half a kilo from 510 g',
  }),
  starter({
    name: 'Strawberry leather',
    method: 'dried',
    inputs: [of('strawberry', { ripe: 1, soft: 1, damaged: 0.6 })],
    steps: [
      steps.wash(2),
      steps.cut(3, 'Hull, trim away every soft spot and puree.'),
      steps.dry(
        'Spread a quarter of an inch thick and dry at 140 °F (60 °C) until it peels off and is not sticky.',
        12,
        8,
      ),
      step('label', 'pack', 'Roll up warm in paper, wrap and label.', { perUnit: 1 }),
    ],
    packs: [bag('tray', 'tray', 'trays', { gramsPerUnit: 600, worthMinor: 420, runs: [trays(5, 8)] })],
    source:
      'Extension sheets on leather: 2 cups of puree on a 13 by 15 inch tray, 6 to 8 hours (from memory); 87 % edible',
  }),
  starter({
    name: 'Apple and blackberry leather',
    method: 'dried',
    inputs: [
      of('apple', { ripe: 1, soft: 1, damaged: 0.8 }, peels(0.24, 0.38), { min: 0.5, max: 0.8 }),
      of('blackberry', { ripe: 1, soft: 1 }, [], { min: 0.2, max: 0.5 }),
    ],
    steps: [
      steps.wash(1),
      steps.cut(3, 'Peel, core and slice the apples.'),
      steps.cookAndRest('Cook soft together, sieve and boil down a little.', 3, 0, 20),
      steps.dry('Spread a quarter of an inch thick and dry at 140 °F (60 °C) until it peels off.', 12, 7, 'oven'),
    ],
    packs: [bag('tray', 'tray', 'trays', { gramsPerUnit: 650, worthMinor: 420, runs: [trays(3, 7, 'oven')] })],
    cautions: [lowOven],
    source: 'Own figure: two cups of puree on a 13 by 15 inch tray',
  }),
]

/** 5 1/2 cups crushed at 240 g, a box of powdered pectin, 8 cups of sugar. */
function strawberryJam() {
  const jam = batch(['strawberry', { ripe: 1, firm: 0.6 }, 1517])
  return {
    inputs: jam.inputs,
    ingredients: [sugar(jam.per(1600)), pectin(jam.per(49))],
    packs: [jar('half-pint', jam.each(9.5), 350, [pot(9, 35), cannerLoad('half-pint')])],
  }
}
