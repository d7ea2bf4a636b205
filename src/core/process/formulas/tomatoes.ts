import { memory, seen } from '../sources.ts'
import { type PublishedBatch, published } from './batch.ts'
import { cupsOf, cupsOfLiquid, cupsOfSugar, one, pounds } from './measures.ts'

const pints = (least: number, most = least) => ({ jar: 'pint', least, most }) as const

/** Salsas, ketchups and sauces of Guide 3. */
export const tomatoBatches: readonly PublishedBatch[] = [
  published({
    product: 'chile salsa',
    fruit: { tomato: pounds(5) },
    vegetables: { 'hot-pepper': pounds(2), onion: pounds(1) },
    vinegar: cupsOfLiquid(1),
    yields: pints(6, 8),
    source: seen(
      'usda-2015',
      'Guide 3 p. 3-21',
      'amounts read in Michigan sheet 01600882 and a sheet of Oklahoma State',
    ),
  }),
  published({
    product: 'chile salsa II',
    fruit: { tomato: cupsOf('tomato', 10) },
    vegetables: { 'hot-pepper': cupsOf('hot-pepper', 6), onion: cupsOf('onion', 4) },
    vinegar: cupsOfLiquid(1),
    yields: pints(7, 9),
    source: memory('usda-2015', 'Guide 3 p. 3-22'),
  }),
  published({
    product: 'tomato salsa (paste tomatoes)',
    fruit: { tomato: cupsOf('tomato', 28) },
    vegetables: { 'hot-pepper': cupsOf('hot-pepper', 4.5), onion: cupsOf('onion', 5), garlic: 6 * one.clove },
    lemon: cupsOfLiquid(2),
    yields: pints(16, 18),
    source: seen('usda-2015', 'Guide 3 p. 3-23', 'amounts read in a sheet of the University of Arkansas'),
  }),
  published({
    product: 'tomato salsa (slicing tomatoes)',
    fruit: { tomato: cupsOf('tomato', 4) },
    vegetables: { 'hot-pepper': cupsOf('hot-pepper', 2.5), onion: cupsOf('onion', 0.75), garlic: 4 * one.clove },
    vinegar: cupsOfLiquid(2),
    yields: pints(4),
    source: memory('usda-2015', 'Guide 3 p. 3-24'),
  }),
  published({
    product: 'tomato/tomato paste salsa',
    fruit: { tomato: cupsOf('tomato', 12), 'tomato paste': 680 },
    vegetables: {
      onion: cupsOf('onion', 3),
      'hot-pepper': 6 * one.jalapeno + 4 * one['long chile'],
      garlic: 4 * one.clove,
    },
    lemon: cupsOfLiquid(2),
    also: ['acid-fruit'],
    yields: pints(7, 9),
    source: seen('usda-2015', 'Guide 3 p. 3-25', 'amounts read in the copy at keyingredient.com'),
  }),
  published({
    product: 'tomato taco sauce',
    fruit: { tomato: cupsOf('tomato', 32) },
    vegetables: {
      onion: cupsOf('onion', 5),
      'hot-pepper': 4 * one.jalapeno + 4 * one['long chile'],
      garlic: 2 * one.clove,
    },
    vinegar: cupsOfLiquid(2.5),
    yields: pints(16, 18),
    source: seen('usda-2015', 'Guide 3 p. 3-26', 'amounts read in a sheet of North Dakota State University'),
  }),
  published({
    product: 'tomato ketchup',
    fruit: { tomato: pounds(24) },
    vegetables: { onion: cupsOf('onion', 3) },
    vinegar: cupsOfLiquid(3),
    sugar: cupsOfSugar(1.5),
    yields: pints(6, 7),
    source: seen('usda-2015', 'Guide 3 p. 3-17', 'amounts read in Michigan sheet 01600827 and at meatsandsausages.com'),
  }),
  published({
    product: 'country western ketchup',
    fruit: { tomato: pounds(24) },
    vegetables: { 'hot-pepper': 5 * one['long chile'] },
    vinegar: cupsOfLiquid(8 / 3),
    sugar: cupsOfSugar(1.25),
    yields: pints(6, 7),
    source: memory('usda-2015', 'Guide 3 p. 3-18'),
  }),
  published({
    product: 'blender ketchup',
    fruit: { tomato: pounds(24) },
    vegetables: { onion: pounds(2), 'sweet-pepper': pounds(2) },
    vinegar: cupsOfLiquid(9),
    sugar: cupsOfSugar(9),
    yields: pints(9),
    source: memory('usda-2015', 'Guide 3 p. 3-18, 3-19'),
  }),
  published({
    product: 'easy hot sauce',
    // 64 ounces of canned diced tomatoes
    fruit: { tomato: 1814 },
    vegetables: { 'hot-pepper': cupsOf('hot-pepper', 1.5) },
    vinegar: cupsOfLiquid(4),
    yields: { jar: 'half-pint', least: 4, most: 4 },
    source: memory('usda-2015', 'Guide 3 p. 3-16'),
  }),
  published({
    product: 'spaghetti sauce without meat',
    fruit: { tomato: pounds(30) },
    // mushrooms, a pound, are optional and left out: that is the stricter
    vegetables: {
      onion: cupsOf('onion', 1),
      'sweet-pepper': cupsOf('sweet-pepper', 1),
      garlic: 5 * one.clove,
    },
    sugar: 55,
    also: ['oil'],
    yields: pints(9),
    source: seen(
      'usda-1994',
      'Guide 3',
      'read in the copy at recipesource.com; 2015 edition p. 3-13, from memory the same',
    ),
  }),
  published({
    product: 'Mexican tomato sauce',
    fruit: { tomato: pounds(18) },
    vegetables: { 'hot-pepper': pounds(2.5), onion: cupsOf('onion', 3) },
    vinegar: cupsOfLiquid(0.5),
    yields: { jar: 'quart', least: 7, most: 7 },
    source: memory('usda-2015', 'Guide 3 p. 3-15'),
  }),
]
