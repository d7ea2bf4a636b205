import { follows, type Starter, starter } from './build.ts'
import { ascorbicAcid } from './ingredients.ts'
import { jar, of, pounds, pressureLoad, step } from './parts.ts'
import * as steps from './steps.ts'

const guide = 'USDA Complete Guide to Home Canning 2015, Guide 4'
const sound = { firm: 1, ripe: 1 }
const young = { firm: 1, ripe: 0.8 }
const spare = 'Cover with boiling water, an inch to spare.'

/** Vegetables under pressure: low in acid, so boiling water is never enough. */
export const pressureVegetables: readonly Starter[] = [
  starter({
    name: 'Snap beans',
    method: 'pressure-canned',
    inputs: [of('snap-bean', young)],
    process: follows('beans, snap and Italian', 'pieces', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(5, 'Trim and cut or snap in one-inch pieces.'),
      steps.cook('Cover with boiling water and boil for 5 minutes.', 0.5),
      ...steps.intoTheCanner(2, `A teaspoon of salt a quart if you like. Fill hot jars loosely. ${spare}`, 'pressure'),
    ],
    packs: [
      jar('quart', pounds(14, 7), 420, [pressureLoad('quart')]),
      jar('pint', pounds(9, 9), 240, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-8: 14 lb for 7 quarts, 9 lb for 9 pints`,
  }),
  starter({
    name: 'Whole kernel corn',
    method: 'pressure-canned',
    inputs: [of('sweet-corn', { firm: 0.8, ripe: 1 })],
    process: follows('corn', 'whole kernel', 'hot'),
    steps: [
      steps.pick(2, 'Husk, silk and rinse.'),
      step('stove', 'stove', 'Boil the ears for 3 minutes.', { perKg: 0.5, wait: 5 }, ['burner']),
      steps.cut(3, 'Cut the kernels off at three quarters of their depth.'),
      steps.cook('Add a cup of hot water to each quart of kernels, heat to a boil and simmer 5 minutes.', 0.5),
      ...steps.intoTheCanner(
        2,
        'A teaspoon of salt a quart if you like. Fill hot jars with kernels and liquid, an inch to spare.',
        'pressure',
      ),
    ],
    packs: [
      jar('quart', pounds(31.5, 7), 620, [pressureLoad('quart')]),
      jar('pint', pounds(20, 9), 340, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-11: 31 1/2 lb in husk for 7 quarts, 20 lb for 9 pints`,
  }),
  starter({
    name: 'Sliced carrots',
    method: 'pressure-canned',
    inputs: [of('carrot', sound)],
    process: follows('carrots', 'sliced or diced', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(4, 'Peel and slice or dice.'),
      steps.cook('Cover with boiling water and simmer for 5 minutes.', 0.5),
      ...steps.intoTheCanner(2, `A teaspoon of salt a quart if you like. Fill hot jars. ${spare}`, 'pressure'),
    ],
    packs: [
      jar('quart', pounds(17.5, 7), 400, [pressureLoad('quart')]),
      jar('pint', pounds(11, 9), 230, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-10: 17 1/2 lb without tops for 7 quarts, 11 lb for 9 pints`,
  }),
  starter({
    name: 'Sliced beets',
    method: 'pressure-canned',
    inputs: [of('beet', sound)],
    process: follows('beets', 'whole, cubed or sliced', 'hot'),
    steps: [
      steps.wash(2, 'Trim the tops to an inch and scrub.'),
      step('stove', 'stove', 'Boil until the skins slip, 15 to 25 minutes; cool.', { perKg: 1, wait: 40 }, ['burner']),
      steps.cut(3, 'Slip off skins, trim, and slice or cube half an inch.'),
      ...steps.intoTheCanner(
        2,
        'A teaspoon of salt a quart if you like. Fill hot jars with hot beets. Cover with fresh boiling water, an inch to spare.',
        'pressure',
      ),
    ],
    packs: [
      jar('quart', pounds(21, 7), 420, [pressureLoad('quart')]),
      jar('pint', pounds(13.5, 9), 240, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-9: 21 lb without tops for 7 quarts, 13 1/2 lb for 9 pints`,
  }),
  starter({
    name: 'Green peas',
    method: 'pressure-canned',
    inputs: [of('pea', { firm: 0.8, ripe: 1 })],
    process: follows('peas, green or English', 'shelled', 'hot'),
    steps: [
      steps.pick(10, 'Shell and wash.'),
      steps.cook('Cover with boiling water and boil for 2 minutes.', 0.5),
      ...steps.intoTheCanner(
        2,
        `A teaspoon of salt a quart if you like. Fill hot jars loosely, do not shake or press down. ${spare}`,
        'pressure',
      ),
    ],
    packs: [
      jar('quart', pounds(31.5, 7), 760, [pressureLoad('quart')]),
      jar('pint', pounds(20, 9), 420, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-14: 31 1/2 lb in pod for 7 quarts, 20 lb for 9 pints`,
  }),
  starter({
    name: 'Winter squash cubes',
    method: 'pressure-canned',
    inputs: [of('winter-squash', sound)],
    process: follows('pumpkin and winter squash', 'cubed', 'hot'),
    steps: [
      steps.wash(0.5),
      steps.cut(6, 'Seed, peel and cut one-inch cubes.'),
      steps.cook('Boil in water for 2 minutes; do not mash.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with cubes and cooking liquid, an inch to spare.', 'pressure'),
    ],
    packs: [
      jar('quart', pounds(16, 7), 400, [pressureLoad('quart')]),
      jar('pint', pounds(10, 9), 230, [pressureLoad('pint')]),
    ],
    cautions: ['Cubes only: mashed or pureed squash has no tested process. Freeze it instead.'],
    source: `${guide} p. 4-18: 16 lb for 7 quarts, 10 lb for 9 pints`,
  }),
  starter({
    name: 'Pumpkin cubes',
    method: 'pressure-canned',
    inputs: [of('pumpkin', sound)],
    process: follows('pumpkin and winter squash', 'cubed', 'hot'),
    steps: [
      steps.wash(0.5),
      steps.cut(6, 'Seed, peel and cut one-inch cubes.'),
      steps.cook('Boil in water for 2 minutes; do not mash.', 0.5),
      ...steps.intoTheCanner(2, 'Fill hot jars with cubes and cooking liquid, an inch to spare.', 'pressure'),
    ],
    packs: [
      jar('quart', pounds(16, 7), 400, [pressureLoad('quart')]),
      jar('pint', pounds(10, 9), 230, [pressureLoad('pint')]),
    ],
    cautions: ['Cubes only: mashed or pureed pumpkin has no tested process. Freeze it instead.'],
    source: `${guide} p. 4-18: 16 lb for 7 quarts, 10 lb for 9 pints`,
  }),
  starter({
    name: 'Potato cubes',
    method: 'pressure-canned',
    inputs: [of('potato', sound)],
    ingredients: [ascorbicAcid],
    process: follows('potatoes, white', 'cubed or whole', 'hot'),
    steps: [
      steps.wash(1.5),
      steps.cut(5, 'Peel and cut half-inch cubes into water with ascorbic acid; drain.'),
      steps.cook('Boil for 2 minutes and drain.', 0.5),
      ...steps.intoTheCanner(
        2,
        'A teaspoon of salt a quart if you like. Fill hot jars. Cover with fresh boiling water, an inch to spare.',
        'pressure',
      ),
    ],
    packs: [
      jar('quart', pounds(20, 7), 360, [pressureLoad('quart')]),
      jar('pint', pounds(13, 9), 210, [pressureLoad('pint')]),
    ],
    source: `${guide} p. 4-17 (weights from memory): 20 lb for 7 quarts, 13 lb for 9 pints`,
  }),
  starter({
    name: 'Asparagus pieces',
    method: 'pressure-canned',
    inputs: [of('asparagus', young)],
    process: follows('asparagus', 'spears or pieces', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(3, 'Trim scales and tough ends; cut one-inch pieces.'),
      steps.cook('Cover with boiling water and boil for 2 to 3 minutes.', 0.5),
      ...steps.intoTheCanner(2, `A teaspoon of salt a quart if you like. Fill hot jars loosely. ${spare}`, 'pressure'),
    ],
    packs: [jar('pint', pounds(16, 9), 420, [pressureLoad('pint')])],
    source: `${guide} p. 4-5 (weight from memory): 16 lb for 9 pints`,
  }),
  starter({
    name: 'Sweet peppers under pressure',
    method: 'pressure-canned',
    inputs: [of('sweet-pepper', sound)],
    process: follows('peppers', 'hot or sweet', 'hot'),
    steps: [
      steps.wash(1),
      steps.cut(5, 'Core, and quarter or flatten; blister and peel large ones.'),
      steps.cook('Boil for 3 minutes and drain.', 0.5),
      ...steps.intoTheCanner(
        2,
        `Half a teaspoon of salt a pint if you like. Fill hot jars loosely. ${spare}`,
        'pressure',
      ),
    ],
    packs: [jar('pint', pounds(9, 9), 380, [pressureLoad('pint')])],
    source: `${guide} p. 4-15: 9 lb for 9 pints; pints or smaller only`,
  }),
]
