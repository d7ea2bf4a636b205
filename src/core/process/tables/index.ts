import type { ProcessRow } from '../types.ts'
import { boilingWaterFillings } from './boiling-water-fillings.ts'
import { boilingWaterFruit } from './boiling-water-fruit.ts'
import { boilingWaterFruitPickles } from './boiling-water-fruit-pickles.ts'
import { boilingWaterJuices } from './boiling-water-juices.ts'
import { boilingWaterPickles } from './boiling-water-pickles.ts'
import { boilingWaterSweetSpreads } from './boiling-water-sweet.ts'
import { boilingWaterTomatoes } from './boiling-water-tomatoes.ts'
import { pressureFruit } from './pressure-fruit.ts'
import { pressureTomatoes } from './pressure-tomatoes.ts'
import { pressureVegetables } from './pressure-vegetables.ts'

const rows: readonly ProcessRow[] = [
  ...boilingWaterFruit,
  ...boilingWaterJuices,
  ...boilingWaterFillings,
  ...boilingWaterFruitPickles,
  ...boilingWaterSweetSpreads,
  ...boilingWaterTomatoes,
  ...boilingWaterPickles,
  ...pressureFruit,
  ...pressureTomatoes,
  ...pressureVegetables,
]

/** Every row of a published table that is known, with its source. What is not in it has no tested process here. */
export function processTable(): readonly ProcessRow[] {
  return rows
}
