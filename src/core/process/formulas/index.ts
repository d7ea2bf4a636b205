import { formulaOf, type PublishedBatch } from './batch.ts'
import { otherBatches } from './more.ts'
import { pickleBatches } from './pickles.ts'
import { sweetBatches } from './sweet.ts'
import { tomatoBatches } from './tomatoes.ts'
import type { PublishedFormula } from './types.ts'

export type { PublishedBatch } from './batch.ts'
export type { PublishedFormula } from './types.ts'

const batches: readonly PublishedBatch[] = [...sweetBatches, ...tomatoBatches, ...pickleBatches, ...otherBatches]
const formulas: readonly PublishedFormula[] = batches.map(formulaOf)

/**
 * The published recipe behind a row that is marked `asPublished`; undefined: its proportions are not known here. Where a
 * guide prints a product's recipe anew for some crops, the one for `crops` (keys), if it is for all of them.
 */
export function publishedFormula(
  product: string,
  form: string,
  crops: readonly string[] = [],
): PublishedFormula | undefined {
  const found = formulas.filter((one) => one.product === product && (one.form === null || one.form === form))
  const own = found.find(
    (one) => crops.length > 0 && one.crops !== null && crops.every((key) => one.crops?.includes(key)),
  )
  return own ?? found.find((one) => one.crops === null)
}

/** The same recipe with its parts by crop, as starters are made from it; undefined: none is written down here. */
export function publishedBatch(product: string): PublishedBatch | undefined {
  return batches.find((one) => one.product === product && one.crops === null)
}

/** Every published recipe whose proportions are written down here. */
export function publishedFormulas(): readonly PublishedFormula[] {
  return formulas
}
