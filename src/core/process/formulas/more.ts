import { memory } from '../sources.ts'
import { type PublishedBatch, published } from './batch.ts'
import { cupsOf, cupsOfLiquid, cupsOfSugar, one, pounds } from './measures.ts'

const pints = (least: number, most = least) => ({ jar: 'pint', least, most }) as const
const sevenQuarts = { jar: 'quart', least: 7, most: 7 } as const

/** Published recipes that no starter follows, for what people bring along. */
export const otherBatches: readonly PublishedBatch[] = [
  published({
    product: 'spiced apple rings',
    fruit: { apple: pounds(12) },
    vinegar: cupsOfLiquid(1.25),
    sugar: cupsOfSugar(12),
    also: ['other'],
    yields: pints(8, 9),
    source: memory('usda-2015', 'Guide 2 p. 2-8', 'red cinnamon candies are part of it'),
  }),
  published({
    product: 'spiced crab apples',
    fruit: { 'crab apple': pounds(5) },
    vinegar: cupsOfLiquid(4.5),
    sugar: cupsOfSugar(7.5),
    yields: pints(9),
    source: memory('usda-2015', 'Guide 2 p. 2-9'),
  }),
  published({
    product: 'berry syrup',
    fruit: { berries: cupsOf('raspberry', 6.5) },
    sugar: cupsOfSugar(6.75),
    also: ['juice'],
    yields: { jar: 'half-pint', least: 9, most: 9 },
    source: memory('usda-2015', 'Guide 2 p. 2-10'),
  }),
  published({
    product: 'peach pickles',
    fruit: { peach: pounds(8) },
    vinegar: cupsOfLiquid(4),
    sugar: cupsOfSugar(6.75),
    yields: pints(6),
    source: memory('so-easy', 'pickled fruit, peach pickles'),
  }),
  published({
    product: 'pear pickles',
    fruit: { pear: pounds(8) },
    vinegar: cupsOfLiquid(4),
    sugar: cupsOfSugar(8),
    yields: pints(7, 8),
    source: memory('national-center', 'pear pickles'),
  }),
  published({
    product: 'tomato/green chile salsa',
    fruit: { tomato: cupsOf('tomato', 3) },
    vegetables: {
      'hot-pepper': cupsOf('hot-pepper', 3) + one.jalapeno,
      onion: cupsOf('onion', 0.75),
      garlic: 6 * one.clove,
    },
    vinegar: cupsOfLiquid(1.5),
    yields: pints(3),
    source: memory('usda-2015', 'Guide 3 p. 3-24'),
  }),
  published({
    product: 'tomatillo green salsa',
    fruit: { tomatillo: 5 * 132 },
    vegetables: { 'hot-pepper': cupsOf('hot-pepper', 2), onion: cupsOf('onion', 4), garlic: 6 * one.clove },
    lemon: cupsOfLiquid(1),
    yields: pints(5),
    source: memory('usda-2015', 'Guide 3 p. 3-22', 'a cup of chopped tomatillos 132 g (FoodData Central, memory)'),
  }),
  published({
    product: 'tomato and vegetable juice blend',
    fruit: { tomato: pounds(22) },
    // no more than 3 cups of any of celery, onions, carrots and peppers; celery is the lightest of them
    vegetables: { 'mixed vegetables': cupsOf('celery', 3) },
    yields: sevenQuarts,
    source: memory('usda-2015', 'Guide 3 p. 3-6', 'the acid goes by the jar, as the table has it'),
  }),
  published({
    product: 'tomatoes with okra or zucchini',
    fruit: { tomato: pounds(12) },
    vegetables: { 'summer-squash': pounds(4) },
    yields: sevenQuarts,
    source: memory('usda-2015', 'Guide 3 p. 3-12, 3-13'),
  }),
  published({
    product: 'succotash',
    vegetables: { 'sweet-corn': pounds(15), 'lima beans': pounds(14) },
    yields: sevenQuarts,
    source: memory('usda-2015', 'Guide 4 p. 4-20', 'two quarts of tomatoes are optional and left out'),
  }),
  published({
    product: 'pickled pearl onions',
    // 8 cups peeled, 130 g a cup
    vegetables: { onion: Math.round((8 * 130) / 0.88) },
    vinegar: cupsOfLiquid(5.5),
    sugar: cupsOfSugar(2),
    yields: pints(3, 4),
    source: memory('usda-2015', 'Guide 6 p. 6-20'),
  }),
  published({
    product: 'pickled jalapeno rings',
    vegetables: { 'hot-pepper': pounds(3) },
    vinegar: cupsOfLiquid(7.5),
    also: ['lime'],
    yields: pints(6),
    source: memory('usda-2015', 'Guide 6 p. 6-23', 'pickling lime is part of it and must be rinsed out as published'),
  }),
  published({
    product: 'pickled yellow pepper rings',
    // 2 1/2 to 3 lb: the lower has more vinegar to it
    vegetables: { 'hot-pepper': pounds(2.5) },
    vinegar: cupsOfLiquid(5),
    yields: pints(4),
    source: memory('usda-2015', 'Guide 6 p. 6-24'),
  }),
  published({
    product: 'reduced-sodium sliced dill pickles',
    vegetables: { cucumber: pounds(4), onion: 340 },
    vinegar: cupsOfLiquid(6),
    sugar: cupsOfSugar(6),
    yields: pints(8),
    source: memory('usda-2015', 'Guide 6 p. 6-34', 'two large onions at 170 g'),
  }),
]
