import { type Citation, seen } from '../process/sources.ts'
import type { JarSize } from '../process/types.ts'
import { gramsPerPound } from '../units/mass.ts'

type LoadWeight = {
  products: readonly string[]
  forms: RegExp
  lbPer7Quarts: number
  lbPer9Pints: number
  source: Citation
}

/**
 * Raw weight of a canner load, as published, for fruit that lies whole, halved or sliced in the jar: peel, core and
 * stone are in it. Where a range is printed, its upper end.
 */
const loads: readonly LoadWeight[] = [
  row(['apples'], /slice/, 19, 12.25, 'Guide 2 p. 2-7'),
  row(['berries'], /whole/, 12, 8, 'Guide 2 p. 2-10'),
  row(['cherries'], /whole/, 17.5, 11, 'Guide 2 p. 2-12'),
  row(['figs'], /whole/, 16, 11, 'Guide 2 p. 2-14'),
  row(['grapes'], /whole/, 14, 9, 'Guide 2 p. 2-16'),
  row(['peaches'], /halve|slice/, 17.5, 11, 'Guide 2 p. 2-19'),
  row(['pears'], /halve|slice/, 17.5, 11, 'Guide 2 p. 2-19'),
  row(['asian pears'], /halve|slice/, 19, 13, 'Guide 2 p. 2-20'),
  row(['plums'], /whole|halve/, 14, 9, 'Guide 2 p. 2-21'),
  row(['tomatoes', 'tomatoes, whole or halved'], /water|juice|liquid|whole|halve/, 21, 13, 'Guide 3 p. 3-9'),
]

function row(
  products: readonly string[],
  forms: RegExp,
  lbPer7Quarts: number,
  lbPer9Pints: number,
  section: string,
): LoadWeight {
  return { products, forms, lbPer7Quarts, lbPer9Pints, source: seen('usda-2015', section) }
}

/** A jar as part of a pint or a quart, by what it holds (32, 24, 16, 12 and 8 fluid ounces). */
const parts: Readonly<Record<JarSize, { of: 'pint' | 'quart'; part: number }>> = {
  'half-pint': { of: 'pint', part: 1 / 2 },
  '12-ounce': { of: 'pint', part: 3 / 4 },
  pint: { of: 'pint', part: 1 },
  '1.5-pint': { of: 'quart', part: 3 / 4 },
  quart: { of: 'quart', part: 1 },
  'half-gallon': { of: 'quart', part: 2 },
}

/** Published raw grams for one jar of a product, worked out from its load of 7 quarts or 9 pints; null: none is known. */
export function loadWeight(product: string, form: string, jar: JarSize): { grams: number; source: Citation } | null {
  const found = loads.find(({ products, forms }) => products.includes(product.toLowerCase()) && forms.test(form))
  if (found === undefined) return null
  const { of, part } = parts[jar]
  const lbPerJar = of === 'quart' ? found.lbPer7Quarts / 7 : found.lbPer9Pints / 9
  return { grams: lbPerJar * part * gramsPerPound, source: found.source }
}
