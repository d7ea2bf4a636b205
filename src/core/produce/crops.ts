import { fold } from '../units/tokens.ts'
import type { Crop } from './crop.ts'
import { berries } from './crops/berries.ts'
import { fruitingVegetables } from './crops/fruiting-vegetables.ts'
import { otherFruit } from './crops/other-fruit.ts'
import { pome } from './crops/pome.ts'
import { rootsAndLeaves } from './crops/roots-and-leaves.ts'
import { stone } from './crops/stone.ts'

/** Every crop with figures, fruit first. */
export const crops: readonly Crop[] = [
  ...pome,
  ...stone,
  ...berries,
  ...otherFruit,
  ...fruitingVegetables,
  ...rootsAndLeaves,
]

/** The crop of a key such as `damson`, or undefined. Keys are compared exactly. */
export function crop(key: string): Crop | undefined {
  return byKey.get(key)
}

/** The crop that a person means by a name, plural, synonym or key; case, accents, hyphens and extra spaces make no difference. */
export function findCrop(text: string): Crop | undefined {
  return byName.get(spelled(text))
}

function spelled(text: string): string {
  return fold(text)
    .split(/[\s-]+/)
    .filter(Boolean)
    .join(' ')
}

const byKey: ReadonlyMap<string, Crop> = new Map(crops.map((row) => [row.key, row]))
const byName: ReadonlyMap<string, Crop> = new Map(
  crops.flatMap((row) =>
    [row.key, row.singular, row.plural, ...row.synonyms].map((name) => [spelled(name), row] as const),
  ),
)
