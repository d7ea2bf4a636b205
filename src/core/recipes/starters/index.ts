import { apples } from './apples.ts'
import { applesAndPears } from './apples-and-pears.ts'
import { berries } from './berries.ts'
import type { Starter } from './build.ts'
import { ferments } from './ferments.ts'
import { jellies } from './jellies.ts'
import { otherFruit } from './other-fruit.ts'
import { otherVegetables } from './other-vegetables.ts'
import { peaches } from './peaches.ts'
import { pickles } from './pickles.ts'
import { plumsAndCherries } from './plums-and-cherries.ts'
import { pressureVegetables } from './pressure-vegetables.ts'
import { tomatoSauces } from './tomato-sauces.ts'
import { tomatoes } from './tomatoes.ts'

export type { Starter } from './build.ts'

/** Recipes that a co-op can start from, by crop. Each is complete, and is copied when it is taken over. */
export const starters: readonly Starter[] = [
  ...apples,
  ...applesAndPears,
  ...peaches,
  ...plumsAndCherries,
  ...berries,
  ...otherFruit,
  ...jellies,
  ...tomatoes,
  ...tomatoSauces,
  ...pickles,
  ...ferments,
  ...pressureVegetables,
  ...otherVegetables,
]
