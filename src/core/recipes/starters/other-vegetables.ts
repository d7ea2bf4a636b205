import { type Starter, starter } from './build.ts'
import { boilingPot } from './cautions.ts'
import { bag, freezerBag, of, trays } from './parts.ts'
import * as steps from './steps.ts'

const sound = { firm: 1, ripe: 1 }
const young = { firm: 1, ripe: 0.8 }
const blanching = 'National Center for Home Food Preservation, blanching vegetables (from memory)'

/** Vegetables frozen and dried. */
export const otherVegetables: readonly Starter[] = [
  starter({
    name: 'Frozen snap beans',
    method: 'frozen',
    inputs: [of('snap-bean', young)],
    steps: [
      steps.wash(1),
      steps.cut(4, 'Trim and cut.'),
      steps.blanch('Blanch for 3 minutes in boiling water, cool at once in ice water and drain.'),
      steps.freeze(),
    ],
    packs: [freezerBag(1000, 1136, 320, 2000)],
    cautions: [boilingPot],
    source: `Edible portion of trimmed beans 88 %: 1 kg from 1.136 kg; ${blanching}: 3 minutes`,
  }),
  starter({
    name: 'Frozen corn kernels',
    method: 'frozen',
    inputs: [of('sweet-corn', { firm: 0.8, ripe: 1 })],
    steps: [
      steps.pick(2, 'Husk, silk and rinse.'),
      steps.blanch('Blanch the ears for 4 minutes, cool at once in ice water and drain.', 1),
      steps.cut(3, 'Cut the kernels off at two thirds of their depth.'),
      steps.freeze(),
    ],
    packs: [freezerBag(500, 1515, 300, 800)],
    cautions: [boilingPot],
    source: `Edible portion of corn in husk 33 % (from memory): half a kilo from 1.515 kg; ${blanching}: 4 minutes`,
  }),
  starter({
    name: 'Frozen peas',
    method: 'frozen',
    inputs: [of('pea', { firm: 0.8, ripe: 1 })],
    steps: [
      steps.pick(10, 'Shell and wash.'),
      steps.blanch('Blanch for 1 1/2 minutes, cool at once in ice water and drain.', 1),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 1316, 360, 850)],
    cautions: [boilingPot],
    source: `Edible portion of peas in pod 38 % (from memory): half a kilo from 1.316 kg; ${blanching}: 1 1/2 minutes`,
  }),
  starter({
    name: 'Frozen winter squash puree',
    method: 'frozen',
    inputs: [of('winter-squash', { firm: 1, ripe: 1, damaged: 0.6 })],
    steps: [
      steps.wash(0.5),
      steps.cut(4, 'Halve, seed and cut in pieces.'),
      steps.cookAndRest('Cook or bake soft, scoop from the rind, mash and cool.', 3, 0, 60),
      steps.freeze('Fill bags flat with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 1400, 300, 1100)],
    cautions: [boilingPot],
    source: 'Edible portion of winter squash 74 % (from memory), and a little lost in cooking: 1 kg from 1.4 kg',
  }),
  starter({
    name: 'Frozen pumpkin puree',
    method: 'frozen',
    inputs: [of('pumpkin', { firm: 1, ripe: 1, damaged: 0.6 })],
    steps: [
      steps.wash(0.5),
      steps.cut(4, 'Halve, seed and cut in pieces.'),
      steps.cookAndRest('Cook or bake soft, scoop from the rind, mash and cool.', 3, 0, 60),
      steps.freeze('Fill bags flat with half an inch to spare, label and freeze in a single layer.'),
    ],
    packs: [freezerBag(1000, 1480, 290, 1100)],
    cautions: [boilingPot],
    source: 'Edible portion of pumpkin 70 % (from memory), and a little lost in cooking: 1 kg from 1.48 kg',
  }),
  starter({
    name: 'Frozen grated zucchini',
    method: 'frozen',
    inputs: [of('summer-squash', { firm: 0.8, ripe: 1, soft: 0.6 })],
    steps: [
      steps.wash(1),
      steps.cut(3, 'Trim and grate.'),
      steps.blanch('Steam small amounts for 1 to 2 minutes, cool in their bags on ice and drain.', 2),
      steps.freeze(),
    ],
    packs: [freezerBag(500, 620, 220, 700)],
    cautions: [boilingPot],
    source: `Edible portion of zucchini 95 %, some water drained: half a kilo from 620 g; ${blanching}: 1 to 2 minutes of steam`,
  }),
  starter({
    name: 'Frozen spinach',
    method: 'frozen',
    inputs: [of('spinach', young)],
    steps: [
      steps.wash(3),
      steps.pick(2, 'Strip off tough stems.'),
      steps.blanch('Blanch for 2 minutes, cool at once in ice water, drain and press out.'),
      steps.freeze(),
    ],
    packs: [freezerBag(500, 800, 320, 650)],
    cautions: [boilingPot],
    source: `Edible portion of spinach 88 % (from memory), some water pressed out: half a kilo from 800 g; ${blanching}: 2 minutes`,
  }),
  starter({
    name: 'Frozen sweet pepper strips',
    method: 'frozen',
    inputs: [of('sweet-pepper', { firm: 1, ripe: 1, soft: 0.4 })],
    steps: [
      steps.wash(1),
      steps.cut(4, 'Core and cut in strips.'),
      steps.freeze('Freeze on trays, then bag, press out the air and label with the date.'),
    ],
    packs: [freezerBag(500, 625, 320, 1100)],
    source: 'Edible portion of bell peppers 80 % (from memory): half a kilo from 625 g; no blanching needed',
  }),
  starter({
    name: 'Dried sweet peppers',
    method: 'dried',
    inputs: [of('sweet-pepper', { firm: 0.9, ripe: 1 })],
    steps: [
      steps.wash(1),
      steps.cut(5, 'Core and cut strips or rings of a quarter to half an inch.'),
      steps.dry('Dry at 125 to 140 °F (52 to 60 °C) until brittle.', 12, 10),
      steps.condition(),
    ],
    packs: [bag('bag-100g', '100 g bag', '100 g bags', { gramsPerUnit: 1400, worthMinor: 420, runs: [trays(6, 10)] })],
    source:
      'Colorado State University Extension 9.308; 5 to 10 hours. Weight from the balance of water: 80 % edible, 92 % water fresh and about 10 % dried (our sum)',
  }),
  starter({
    name: 'Dried carrots',
    method: 'dried',
    inputs: [of('carrot', sound)],
    steps: [
      steps.wash(1),
      steps.cut(6, 'Peel and cut quarter-inch slices or strips.'),
      steps.blanch('Blanch for 3 minutes and cool.', 1),
      steps.dry('Dry at 125 to 140 °F (52 to 60 °C) until brittle.', 12, 10),
      steps.condition(),
    ],
    packs: [bag('bag-100g', '100 g bag', '100 g bags', { gramsPerUnit: 1200, worthMinor: 320, runs: [trays(6, 10)] })],
    source:
      'University drying handbooks: 15 lb give 1 1/4 lb dried, 1 in 12 (from memory); Colorado State University Extension 9.308: 3 minutes; 4 to 10 hours',
  }),
  starter({
    name: 'Dried onion',
    method: 'dried',
    inputs: [of('onion', sound)],
    steps: [
      steps.cut(6, 'Peel and cut slices of an eighth to a quarter of an inch.'),
      steps.dry('Dry at 125 to 140 °F (52 to 60 °C) until brittle.', 12, 7),
      steps.condition(),
    ],
    packs: [bag('bag-100g', '100 g bag', '100 g bags', { gramsPerUnit: 980, worthMinor: 340, runs: [trays(6, 7)] })],
    source:
      'Colorado State University Extension 9.308; 3 to 7 hours. Weight from the balance of water: 88 % edible, 89.5 % water fresh and about 10 % dried (our sum)',
  }),
]
