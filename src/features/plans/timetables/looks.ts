import type { NotedPlan } from '../../../core/day/index.ts'
import { type PatternKey, productPattern } from '../../../web/patterns.ts'

export type Look = { letter: string; pattern: PatternKey; place: number }
/** The look of a batch by its id; null: what is done for all batches, without a letter. */
export type Looks = (batch: string | null) => Look

/**
 * The letter and the pattern of each batch, the same in every drawing, table and sheet. In the order of their days, so
 * that eight batches of a day that follow each other differ in pattern; the letter tells all of them apart.
 */
export function looksOf(plan: NotedPlan): Looks {
  const inOrder = [...plan.batches].sort((a, b) => a.batch.day - b.batch.day)
  const looks = new Map(
    inOrder.map(({ batch }, place) => [batch.id, { letter: letterOf(place), pattern: productPattern(place), place }]),
  )
  const common: Look = { letter: '', pattern: 'kept', place: inOrder.length }
  return (batch) => (batch === null ? undefined : looks.get(batch)) ?? common
}

/** A, B, ... Z, A2, B2, ... */
function letterOf(place: number): string {
  const letter = String.fromCharCode(65 + (place % 26))
  return place < 26 ? letter : `${letter}${Math.floor(place / 26) + 1}`
}
