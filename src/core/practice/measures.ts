import type { Citation } from '../process/sources.ts'
import { memory } from '../process/sources.ts'
import { gramsPerPound, mlPer } from '../units/index.ts'

export { gramsPerPound, mlPer }

/** Grams in a US cup of dry or thick ingredients. Handbook measures are cups; these carry them over to a scale. */
export const gramsPerCup = { sugar: 200, honey: 339, canningSalt: 290 } as const
export const gramsPerCupSource: Citation = memory(
  'fdc-portions',
  undefined,
  'sugar 200 g, honey 339 g; canning salt varies from 273 to 307 g with its grain',
)
export const cupsPerTablespoon = 1 / 16

/** What the functions of this folder refuse: nothing, less than nothing, and no number. */
export function mustBePositive(value: number, what: string): void {
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${what} must be more than 0, not ${value}`)
}

/** A share of a whole, both ends included. */
export function mustBeShare(value: number, what: string): void {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`${what} must lie between 0 and 1, not ${value}`)
}
