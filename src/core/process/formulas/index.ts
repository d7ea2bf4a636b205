import type { PublishedFormula } from './types.ts'

export type { PublishedFormula } from './types.ts'

const formulas: readonly PublishedFormula[] = []

/** The published recipe behind a row that is marked `asPublished`; undefined: its proportions are not known here. */
export function publishedFormula(product: string, form: string): PublishedFormula | undefined {
  return formulas.find((one) => one.product === product && (one.form === null || one.form === form))
}
