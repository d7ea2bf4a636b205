import { follows, type Starter, starter } from './build.ts'
import { boilingSugar, notForShelf } from './cautions.ts'
import { ciderVinegar, lightSyrup, sugar } from './ingredients.ts'
import { bag, cannerLoad, freezerBag, jar, of, pot, pounds, step, stones, trays } from './parts.ts'
import { boiledJam } from './spreads.ts'
import * as steps from './steps.ts'

/** Plums, damsons and cherries. */
export const plumsAndCherries: readonly Starter[] = [
  starter({
    name: 'Plums in light syrup',
    method: 'water-bath-canned',
    inputs: [of('plum', { firm: 0.9, ripe: 1 })],
    ingredients: [lightSyrup],
    process: follows('plums', 'halved or whole', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(2, 'Prick whole plums on two sides, or halve and pit freestone ones.'),
      steps.cook('Boil 2 minutes in the syrup; let stand covered for 20 to 30 minutes, then heat again.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with plums and hot syrup.'),
    ],
    packs: [
      jar('quart', pounds(14, 7), 640, [cannerLoad('quart')]),
      jar('pint', pounds(9, 9), 350, [cannerLoad('pint')]),
    ],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-21: 14 lb for 7 quarts, 9 lb for 9 pints',
  }),
  starter({
    name: 'Damson jam',
    method: 'water-bath-canned',
    inputs: [of('damson', { firm: 0.7, ripe: 1, soft: 0.7, damaged: 0.5 }, stones(0.08, 0.2))],
    ingredients: [sugar(869)],
    process: follows('jam, no added pectin', 'jam', 'hot'),
    steps: [
      steps.wash(1),
      // the pot is the one in which it is boiled afterwards
      step('stove', 'stove', 'Stew gently in a little water and lift out the stones as they rise.', {
        perKg: 5,
        hands: 2,
      }),
      ...boiledJam(35),
    ],
    packs: [jar('half-pint', 190, 330, [pot(8, 45), cannerLoad('half-pint')])],
    cautions: [boilingSugar],
    source:
      'Own figure: about equal weights of fruit and sugar, five half-pints from a kilogram; more sugar than the table of USDA Guide 7 p. 7-6 asks for',
  }),
  starter({
    name: 'Quick damson pickle',
    method: 'refrigerated',
    inputs: [of('damson', { firm: 1, ripe: 0.8 }, stones(0.02))],
    ingredients: [sugar(0, { pint: 80 }), ciderVinegar(0, { pint: 150 })],
    steps: [
      steps.wash(1),
      step('stove', 'stove', 'Boil vinegar and sugar with a little spice.', { perRun: 10, atOnce: true }, ['burner']),
      step('fill', 'fill', 'Fill jars with whole fruit, pour on the hot vinegar, cover and cool.', { perUnit: 1.5 }),
      step('label', 'pack', 'Label with the date and put in the refrigerator.', { perUnit: 0.5 }),
    ],
    packs: [jar('pint', 340, 360, [pot(6, 20)])],
    cautions: [notForShelf, boilingSugar],
    source: 'Own figure: whole fruit under hot vinegar, kept in the refrigerator',
  }),
  starter({
    name: 'Dried plums',
    method: 'dried',
    inputs: [of('plum', { ripe: 1, firm: 0.5 })],
    steps: [
      steps.wash(1),
      steps.cut(4, 'Halve or quarter and pit.'),
      steps.dry('Dry at 135 to 140 °F (57 to 60 °C) until no moisture shows when pressed.', 12, 15),
      steps.condition(),
    ],
    packs: [bag('bag-200g', '200 g bag', '200 g bags', { gramsPerUnit: 1120, worthMinor: 520, runs: [trays(3, 15)] })],
    source:
      'Hours from a dehydrator maker, 8 to 15 at 135 °F, halved or quartered. Weight from the balance of water: 94 % edible, 85 % water fresh and about 20 % dried (our sum)',
  }),
  starter({
    name: 'Sour cherries in syrup',
    method: 'water-bath-canned',
    inputs: [of('cherry-sour', { ripe: 1, firm: 0.7 })],
    ingredients: [sugar(0, { quart: 108, pint: 50 })],
    process: follows('cherries', 'whole, sweet or sour', 'hot'),
    steps: [
      steps.wash(1),
      steps.pick(6, 'Stem and pit.'),
      steps.cook('Bring to a boil with half a cup of syrup to the quart.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with cherries and boiling syrup.'),
    ],
    packs: [
      jar('quart', pounds(17.5, 7), 900, [cannerLoad('quart')]),
      jar('pint', pounds(11, 9), 480, [cannerLoad('pint')]),
    ],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-12: 17 1/2 lb for 7 quarts, 11 lb for 9 pints; medium syrup p. 2-5',
  }),
  starter({
    name: 'Sweet cherries in light syrup',
    method: 'water-bath-canned',
    inputs: [of('cherry-sweet', { ripe: 1, firm: 0.7 }, stones(0.05))],
    ingredients: [lightSyrup],
    process: follows('cherries', 'whole, sweet or sour', 'raw'),
    steps: [
      steps.wash(1),
      steps.pick(3, 'Stem; prick each cherry where it is not pitted.'),
      ...steps.intoTheCanner(
        2,
        'Put half a cup of hot syrup in each jar, shake in the raw cherries and cover with syrup.',
      ),
    ],
    packs: [jar('pint', pounds(11, 9), 500, [cannerLoad('pint')])],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-12: 11 lb for 9 pints',
  }),
  starter({
    name: 'Frozen sour cherries with sugar',
    method: 'frozen',
    inputs: [of('cherry-sour', { ripe: 1 })],
    ingredients: [sugar(170)],
    steps: [
      steps.wash(1),
      steps.pick(6, 'Stem and pit; toss with the sugar until it melts.'),
      steps.freeze('Fill bags with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 960, 520, 1150)],
    source:
      'Extension sheets: 3/4 cup of sugar to the quart, about 1 part to 5 of pitted fruit (from memory); 87 % edible',
  }),
]
