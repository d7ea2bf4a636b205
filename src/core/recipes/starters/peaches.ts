import { follows, type Starter, starter } from './build.ts'
import { asWritten, boilingPot, boilingSugar, yellowPeaches } from './cautions.ts'
import { ascorbicAcid, lightSyrup, sugar } from './ingredients.ts'
import { bag, batch, cannerLoad, freezerBag, jar, of, peels, pounds, step, stones, trays } from './parts.ts'
import { asPublished } from './published.ts'
import { boiledJam, jamOf } from './spreads.ts'
import * as steps from './steps.ts'

const pitted = [...peels(0.12, 0.3), ...stones(0.1)]
const scald = 'Dip in boiling water for 30 to 60 seconds, slip off the skins, halve, pit and slice.'

/** Peaches, nectarines and apricots. */
export const peaches: readonly Starter[] = [
  starter({
    name: 'Peach slices in light syrup',
    method: 'water-bath-canned',
    inputs: [of('peach', { firm: 0.8, ripe: 1 }, pitted)],
    ingredients: [lightSyrup, ascorbicAcid],
    process: follows('peaches', 'halved or sliced', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(5, `${scald} Keep the slices in water with ascorbic acid.`),
      steps.cook('Bring drained fruit and syrup to a boil.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with hot fruit and syrup, cut side down in layers.'),
    ],
    packs: [
      jar('quart', pounds(17.5, 7), 750, [cannerLoad('quart')]),
      jar('pint', pounds(11, 9), 400, [cannerLoad('pint')]),
    ],
    cautions: [yellowPeaches],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-19: 17 1/2 lb for 7 quarts, 11 lb for 9 pints; light syrup p. 2-5',
  }),
  starter({
    name: 'Peach puree',
    method: 'water-bath-canned',
    inputs: [of('peach', { ripe: 1, soft: 0.9, damaged: 0.6 }, pitted)],
    process: follows('fruit purees', 'puree', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(5, scald),
      steps.cook('Crush, cook soft with a cup of hot water to the quart, press through a mill and boil again.', 3),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with boiling puree.'),
    ],
    packs: [jar('pint', 680, 330, [cannerLoad('pint')])],
    cautions: [yellowPeaches, boilingPot],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-14 for the process. Weight is our own: a pint of puree is about 500 g, with a little boiled away, at 78 % edible',
  }),
  starter({
    name: 'Peach pie filling',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'peach pie filling',
      form: 'slices in modified-starch sauce',
      pack: 'hot',
      crops: { peach: [{ firm: 0.8, ripe: 1 }, pitted] },
      jars: [['quart', 820]],
      pot: null,
      more: () => [ascorbicAcid],
    }),
    steps: [
      steps.wash(1),
      steps.cut(6, `${scald} Half-inch slices, kept in water with ascorbic acid.`),
      steps.cook(
        'Scald the slices for 1 minute and keep them hot. Boil sugar, starch and water until thick, add the lemon juice, boil 1 minute more and fold in the slices.',
        2,
      ),
      ...steps.intoTheCanner(2, 'Fill hot jars at once.'),
    ],
    cautions: [yellowPeaches, boilingSugar, asWritten],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-30: 3 1/2 cups of slices a quart; a cup of slices 0.4 lb (University of Georgia Extension), 76 % edible',
  }),
  starter({
    name: 'Peach jam',
    method: 'water-bath-canned',
    // 5 1/2 cups crushed, 5 of sugar, 2 tablespoons of lemon juice
    ...jamOf(batch(['peach', { ripe: 1, soft: 0.7 }, 1737, pitted]), 1000, 30, 6.5, 370),
    process: follows('jam, no added pectin', 'jam', 'hot'),
    steps: [steps.wash(1), steps.cut(5, `${scald} Crush.`), ...boiledJam()],
    cautions: [yellowPeaches, boilingSugar],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-6: 5 1/2 to 6 cups of crushed peaches give 6 to 7 half-pints; a cup of crushed fruit 240 g, 76 % edible',
  }),
  starter({
    name: 'Frozen peach slices in syrup',
    method: 'frozen',
    inputs: [of('peach', { ripe: 1, firm: 0.6 }, pitted)],
    // a cup of 40 % syrup for a kilo bag, with ascorbic acid
    ingredients: [sugar(0, { 'bag-1kg': 115 }), ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(5, scald),
      steps.freeze('Cover with cold syrup, leave half an inch, press a crumpled paper on top, label and freeze.'),
    ],
    packs: [freezerBag(1000, 960, 420, 1250)],
    source:
      'National Center for Home Food Preservation, syrups for freezing: 1/2 to 2/3 cup of syrup a pint; about 750 g of slices and 250 g of syrup in the bag, 78 % edible (our sum)',
  }),
  starter({
    name: 'Dried peach slices',
    method: 'dried',
    inputs: [of('peach', { firm: 0.7, ripe: 1 }, pitted)],
    ingredients: [ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(7, `${scald} Quarter-inch slices, dipped in water with ascorbic acid.`),
      steps.dry('Dry at 135 to 140 °F (57 to 60 °C) until they bend and do not stick.', 15, 10),
      steps.condition(),
    ],
    packs: [bag('bag-200g', '200 g bag', '200 g bags', { gramsPerUnit: 1300, worthMinor: 600, runs: [trays(3, 10)] })],
    source:
      'Farm and Garden Rule-Book 1911: 4 to 7 lb fresh for 1 lb dried; hours from a dehydrator maker, 6 to 10 at 135 °F',
  }),
  starter({
    name: 'Peaches to eat fresh',
    method: 'fresh',
    inputs: [of('peach', { ripe: 1 }, [])],
    steps: [step('label', 'pack', 'Lay in one layer and set aside.', { perUnit: 1 })],
    packs: [bag('kilo', 'kilo', 'kilos', { gramsPerUnit: 1000, worthMinor: 320 })],
    source: 'As it is',
  }),
  starter({
    name: 'Frozen nectarine slices',
    method: 'frozen',
    inputs: [of('nectarine', { ripe: 1, firm: 0.6 })],
    ingredients: [ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(4, 'Halve, pit and slice into water with ascorbic acid; drain.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(1000, 1099, 420, 1900)],
    source: 'Edible portion of nectarines, pitted and not pared, 91 %: 1 kg from 1.099 kg',
  }),
  starter({
    name: 'Nectarine slices in light syrup',
    method: 'water-bath-canned',
    inputs: [of('nectarine', { firm: 0.8, ripe: 1 })],
    ingredients: [lightSyrup, ascorbicAcid],
    process: follows('nectarines', 'halved or sliced', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(4, 'Halve, pit and slice without peeling; keep the slices in water with ascorbic acid.'),
      steps.cook('Bring drained fruit and syrup to a boil.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with hot fruit and syrup.'),
    ],
    packs: [
      jar('quart', pounds(17.5, 7), 760, [cannerLoad('quart')]),
      jar('pint', pounds(11, 9), 410, [cannerLoad('pint')]),
    ],
    cautions: ['Yellow-fleshed nectarines only: white ones can be too low in acid for this process.'],
    source:
      'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-18: 17 1/2 lb for 7 quarts, 11 lb for 9 pints (from memory); light syrup p. 2-5',
  }),
  starter({
    name: 'Apricot halves in light syrup',
    method: 'water-bath-canned',
    inputs: [of('apricot', { firm: 0.8, ripe: 1 })],
    ingredients: [lightSyrup, ascorbicAcid],
    process: follows('apricots', 'halved or sliced', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(3, 'Halve and pit; peeling is not needed. Keep the halves in water with ascorbic acid.'),
      steps.cook('Bring fruit and syrup to a boil.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars, cut side down, with hot fruit and syrup.'),
    ],
    packs: [jar('pint', pounds(10, 9), 420, [cannerLoad('pint')])],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-9: 10 lb for 9 pints (from memory)',
  }),
]
