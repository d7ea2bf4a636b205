import { follows, type Starter, starter } from './build.ts'
import { boilingSugar, tableVinegar } from './cautions.ts'
import { ascorbicAcid, lightSyrup, pectin, sugar } from './ingredients.ts'
import { bag, cannerLoad, jar, material, of, peels, pomace, pounds, step, trays } from './parts.ts'
import { asPublished } from './published.ts'
import * as steps from './steps.ts'

const cored = peels(0.24, 0.38)

/** Apples dried, soured and fresh; pears. */
export const applesAndPears: readonly Starter[] = [
  starter({
    name: 'Dried apple slices',
    method: 'dried',
    inputs: [of('apple', { firm: 1, ripe: 1 }, cored)],
    ingredients: [ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(7, 'Peel, core and cut rings of an eighth of an inch; dip them in water with ascorbic acid.'),
      steps.dry('Dry at 140 °F (60 °C) until they bend and no moisture shows when pressed.', 15, 9),
      steps.condition(),
    ],
    packs: [bag('bag-200g', '200 g bag', '200 g bags', { gramsPerUnit: 1600, worthMinor: 560, runs: [trays(3, 9)] })],
    source:
      'Farm and Garden Rule-Book 1911: 6 to 7 1/2 lb dried from a bushel, about 1 in 8; So Easy to Preserve Drying Guide: 6 to 12 hours at 140 °F',
  }),
  starter({
    name: 'Vinegar from cores and peels',
    method: 'fermented',
    inputs: [material('peels-cores', pomace(0.5))],
    ingredients: [sugar(86)],
    steps: [
      step('wash', 'wash', 'Take sound peels and cores only.', { perKg: 0.5 }),
      step(
        'fill',
        'fill',
        'Cover with water in which the sugar is dissolved, three quarters full, under a cloth. Stir daily at 60 to 80 °F (16 to 27 °C); strain after a week and leave it for three more.',
        { perUnit: 3, wait: 10_080 },
      ),
    ],
    packs: [bag('litre', 'litre', 'litres', { gramsPerUnit: 700, worthMinor: 220 })],
    cautions: [tableVinegar],
    source:
      'Common practice, no source: scraps covered with sweetened water; temperatures and time: Ohio State University Extension HYG-5346',
  }),
  starter({
    name: 'Topping up the cider vinegar',
    method: 'fermented',
    inputs: [of('apple', { soft: 1, ripe: 0.8, damaged: 0.9 }, pomace(0.45))],
    steps: [
      steps.wash(0.5),
      steps.cut(0.5, 'Cut up, mill and press.'),
      step('fill', 'fill', 'Pour the juice into the barrel, no more than a third of what is in it.', { perUnit: 2 }),
    ],
    packs: [
      bag('litre', 'litre', 'litres', { gramsPerUnit: 1900, worthMinor: 260, machineMinutesPerUnit: { press: 5 } }),
    ],
    cautions: [tableVinegar],
    source: 'Own figure: juice yield as for bottled juice; the barrel in the shed has room for so much',
  }),
  starter({
    name: 'Apples to eat fresh',
    method: 'fresh',
    inputs: [of('apple', { firm: 1, ripe: 1 }, [])],
    steps: [step('label', 'pack', 'Weigh out and set aside, the softest to be eaten first.', { perUnit: 1 })],
    packs: [bag('kilo', 'kilo', 'kilos', { gramsPerUnit: 1000, worthMinor: 260 })],
    source: 'As it is',
  }),
  starter({
    name: 'Mixed eating box',
    method: 'fresh',
    inputs: [
      of('apple', { firm: 1, ripe: 1 }, [], { min: 0.3, max: 0.6 }),
      of('pear', { firm: 0.7, ripe: 1 }, [], { min: 0.2, max: 0.4 }),
      of('plum', { firm: 0.8, ripe: 1 }, [], { min: 0.1, max: 0.3 }),
      of('grape', { firm: 0.7, ripe: 1 }, [], { min: 0.05, max: 0.2 }),
    ],
    steps: [
      step('label', 'pack', 'Pack firm fruit below and ripe fruit on top; mark what must be eaten first.', {
        perUnit: 6,
      }),
    ],
    packs: [bag('box', 'box of three kilos', 'boxes of three kilos', { gramsPerUnit: 3000, worthMinor: 900 })],
    source: 'As it is',
  }),
  starter({
    name: 'Pear halves in light syrup',
    method: 'water-bath-canned',
    inputs: [of('pear', { firm: 0.7, ripe: 1 }, peels(0.22))],
    ingredients: [lightSyrup, ascorbicAcid],
    process: follows('pears', 'halved', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(6, 'Peel, halve and core; keep the halves in water with ascorbic acid.'),
      steps.cook('Boil the drained halves in the syrup for 5 minutes.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with hot pears, hollow side down, and boiling syrup.'),
    ],
    packs: [
      jar('quart', pounds(17.5, 7), 720, [cannerLoad('quart')]),
      jar('pint', pounds(11, 9), 390, [cannerLoad('pint')]),
    ],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-19: 17 1/2 lb for 7 quarts, 11 lb for 9 pints',
  }),
  starter({
    name: 'Dried pear slices',
    method: 'dried',
    inputs: [of('pear', { firm: 0.7, ripe: 1 }, peels(0.22))],
    ingredients: [ascorbicAcid],
    steps: [
      steps.wash(1),
      steps.cut(7, 'Peel, core and cut quarter-inch slices; dip them in water with ascorbic acid.'),
      steps.dry('Dry at 135 to 140 °F (57 to 60 °C) until they bend like leather.', 15, 13),
      steps.condition(),
    ],
    packs: [bag('bag-200g', '200 g bag', '200 g bags', { gramsPerUnit: 1370, worthMinor: 580, runs: [trays(3, 13)] })],
    source:
      'Hours from a dehydrator maker, 7 to 13 at 135 °F. Weight from the balance of water: 78 % edible, 84 % water fresh and about 20 % dried (our sum from the published parts)',
  }),
  starter({
    name: 'Pear and apple jam',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'pear-apple jam',
      form: 'jam',
      pack: 'hot',
      crops: { pear: [{ firm: 0.8, ripe: 1 }, peels(0.22)], apple: [{ firm: 1, ripe: 1 }, cored] },
      jars: [['half-pint', 340]],
      pot: [4, 35],
      // two pouches of liquid pectin, 6 ounces
      more: (per) => [pectin(per(177), 'liquid')],
    }),
    steps: [
      steps.wash(1),
      steps.cut(7, 'Peel, core and chop very fine.'),
      steps.sterilise(),
      steps.cook(
        'Bring fruit, cinnamon, sugar and lemon juice to a boil that cannot be stirred down, add the pectin, boil hard for 1 minute and skim.',
        0,
        20,
      ),
      ...steps.intoTheCanner(1.5, 'Fill the hot jars at once.'),
    ],
    cautions: [boilingSugar],
    source: 'USDA Complete Guide to Home Canning 2015, Guide 7 p. 7-8: the batch gives 7 to 8 half-pints',
  }),
]
