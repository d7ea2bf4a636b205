import { apples } from './apples.ts'
import { applesAndPears } from './apples-and-pears.ts'
import { berries } from './berries.ts'
import type { Starter } from './build.ts'
import { otherFruit } from './other-fruit.ts'
import { peaches } from './peaches.ts'
import { plumsAndCherries } from './plums-and-cherries.ts'

export type { Starter } from './build.ts'

/** Recipes that a co-op can start from, by crop. Each is complete, and is copied when it is taken over. */
export const starters: readonly Starter[] = [
  ...apples,
  ...applesAndPears,
  ...peaches,
  ...plumsAndCherries,
  ...berries,
  ...otherFruit,
]
