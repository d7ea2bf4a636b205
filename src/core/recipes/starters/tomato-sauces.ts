import { type Starter, starter } from './build.ts'
import { acidAsSold, asWritten, boilingSugar, hotPeppers } from './cautions.ts'
import { salt } from './ingredients.ts'
import { ingredient, peels } from './parts.ts'
import { asPublished } from './published.ts'
import * as steps from './steps.ts'

const peeled = 'Dip in boiling water for 30 to 60 seconds, slip off the skins, core and trim.'
const guide = 'USDA Complete Guide to Home Canning 2015, Guide 3'
const onion = { firm: 1, ripe: 1 }
const pepper = { firm: 1, ripe: 1 }
const sauceTomato = [{ ripe: 1, soft: 0.7 }, peels(0.1, 0.3)] as const

/** Salsas, ketchup and sauce: recipes that hold as they are written. */
export const tomatoSauces: readonly Starter[] = [
  starter({
    name: 'Chile salsa',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'chile salsa',
      form: 'salsa',
      pack: 'hot',
      crops: { tomato: sauceTomato, 'hot-pepper': pepper, onion },
      jars: [['pint', 520]],
      pot: [7, 35],
      more: (per) => [salt(per(18))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(7, `${peeled} Chop tomatoes and onions coarsely; seed and chop the peppers.`),
      steps.cook('Bring everything to a boil and simmer for 10 minutes.', 0, 15),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot salsa.'),
    ],
    cautions: [asWritten, acidAsSold, hotPeppers],
    source: `${guide} p. 3-21: 5 lb of tomatoes, 2 lb of chiles, 1 lb of onions, 1 cup of vinegar give 6 to 8 pints`,
  }),
  starter({
    name: 'Tomato salsa of paste tomatoes',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'tomato salsa (paste tomatoes)',
      form: 'salsa',
      pack: 'hot',
      crops: { tomato: sauceTomato, 'hot-pepper': pepper, onion },
      jars: [['pint', 480]],
      pot: [9, 60],
      more: (per) => [salt(per(36))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(7, `${peeled} Chop the tomatoes and onions; seed and chop the peppers.`),
      steps.cook(
        'Boil everything with the lemon juice and salt, simmer 10 minutes, add cumin, oregano and pepper and simmer 20 minutes more.',
        0,
        25,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with hot salsa.'),
    ],
    cautions: [asWritten, acidAsSold, hotPeppers],
    source: `${guide} p. 3-23: 7 quarts of chopped paste tomatoes, 2 cups of bottled lemon juice, 16 to 18 pints`,
  }),
  starter({
    name: 'Tomato ketchup',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'tomato ketchup',
      form: 'ketchup',
      pack: 'hot',
      crops: { tomato: [{ ripe: 1, soft: 0.9 }, peels(0.1, 0.3)], onion },
      jars: [['pint', 680]],
      pot: [7, 180],
      vinegar: 'cider',
      more: (per) => [salt(per(72))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(2.5, `${peeled} Quarter; chop the onions.`),
      steps.cook(
        'Simmer tomatoes and onions for 20 minutes, boil 30 minutes with vinegar spiced with cloves, allspice, cinnamon, celery seed, press through a mill, add sugar and salt and boil down by half, stirring often.',
        0,
        60,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars, an eighth of an inch to spare.'),
    ],
    cautions: [asWritten, acidAsSold, boilingSugar],
    source: `${guide} p. 3-17: 24 lb of tomatoes, 3 cups of onion, 3 cups of cider vinegar give 6 to 7 pints`,
  }),
  starter({
    name: 'Spaghetti sauce without meat',
    method: 'pressure-canned',
    ...asPublished({
      product: 'spaghetti sauce without meat',
      form: null,
      pack: 'hot',
      crops: { tomato: sauceTomato, onion, 'sweet-pepper': pepper },
      jars: [['pint', 720]],
      pot: [9, 120],
      canner: 'pressure',
      more: (per) => [ingredient('oil', 'vegetable oil', 'oil', 'ml', Math.floor(per(59) * 10) / 10), salt(per(27))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(3, `${peeled} Quarter; chop onions, peppers and garlic fine.`),
      steps.cook(
        'Boil the tomatoes for 20 minutes and press through a mill. Soften the vegetables in the oil, add with salt and herbs, and simmer until half is boiled away.',
        0,
        45,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars, an inch to spare.', 'pressure'),
    ],
    cautions: [asWritten],
    source: `${guide} p. 3-13: 30 lb of tomatoes give about 9 pints; no more onions or peppers than written`,
  }),
  starter({
    name: 'Apple chutney',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'apple chutney',
      form: 'chutney',
      pack: 'hot',
      crops: { apple: [{ firm: 1, ripe: 0.9 }, peels(0.24)], onion, 'sweet-pepper': pepper, 'hot-pepper': pepper },
      jars: [['pint', 640]],
      pot: [6, 90],
      more: (per) => [ingredient('raisins', 'raisins', 'dried-fruit', 'g', per(680))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(7, 'Peel, core and chop the apples; chop onions and seeded peppers.'),
      steps.cook(
        'Simmer everything, with mustard seed, ginger and allspice, until thick, about an hour and a quarter, stirring more as it thickens.',
        0,
        40,
      ),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with boiling chutney.'),
    ],
    cautions: [asWritten, acidAsSold, boilingSugar],
    source:
      'So Easy to Preserve, University of Georgia, 6th edition: 2 quarts of apples and a quart of vinegar give 6 pints',
  }),
  starter({
    name: 'Tomato and apple chutney',
    method: 'water-bath-canned',
    ...asPublished({
      product: 'tomato-apple chutney',
      form: 'chutney',
      pack: 'hot',
      crops: { tomato: sauceTomato, apple: [{ firm: 1, ripe: 0.9 }, peels(0.24)], onion, 'sweet-pepper': pepper },
      jars: [['pint', 600]],
      pot: [7, 90],
      more: (per) => [ingredient('raisins', 'raisins', 'dried-fruit', 'g', per(290)), salt(per(24))],
    }),
    steps: [
      steps.wash(1),
      steps.cut(6, `${peeled} Peel and core the apples; chop everything.`),
      steps.cook('Boil gently with mixed pickling spices in a bag until half is boiled away, about an hour.', 0, 40),
      ...steps.intoTheCanner(1.5, 'Fill hot jars with boiling chutney.'),
    ],
    cautions: [asWritten, acidAsSold, boilingSugar],
    source:
      'So Easy to Preserve, University of Georgia, 5th edition: 6 lb of tomatoes, 5 lb of apples and a quart of vinegar give 7 or 8 pints',
  }),
]
