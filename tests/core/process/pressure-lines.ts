import { processTable } from '../../../src/core/process/tables/index.ts'
import type { JarSize, PackStyle, ProcessRow } from '../../../src/core/process/types.ts'

/** One line of a published table: product, form, pack, jars as printed, minutes. */
export type Line = readonly [product: string, form: string, pack: PackStyle, jars: keyof typeof sizes, minutes: number]

/** Guide 1 p. 1-23: a half-pint takes a pint's time, a pint and a half a quart's. */
const sizes = {
  pints: ['half-pint', 'pint'],
  quarts: ['1.5-pint', 'quart'],
  'pints or quarts': ['half-pint', 'pint', '1.5-pint', 'quart'],
  'half-pints': ['half-pint'],
  'pints alone': ['pint'],
  'half-pints, 12 ounces or pints': ['half-pint', '12-ounce', 'pint'],
} as const satisfies Record<string, readonly JarSize[]>

export type Pressure = {
  method: 'dial-gauge' | 'weighted-gauge'
  bands: readonly (readonly [number, number | null, number])[]
}

/** Feet from, feet to, psi, as the tables' headings and cells have them. */
export const dialLowAcid: Pressure = {
  method: 'dial-gauge',
  bands: [
    [0, 2000, 11],
    [2001, 4000, 12],
    [4001, 6000, 13],
    [6001, 8000, 14],
  ],
}
export const dialAcid: Pressure = {
  method: 'dial-gauge',
  bands: [
    [0, 2000, 6],
    [2001, 4000, 7],
    [4001, 6000, 8],
    [6001, 8000, 9],
  ],
}
export const weightedLowAcid: Pressure = {
  method: 'weighted-gauge',
  bands: [
    [0, 1000, 10],
    [1001, null, 15],
  ],
}
export const weightedAcid: Pressure = {
  method: 'weighted-gauge',
  bands: [
    [0, 1000, 5],
    [1001, null, 10],
  ],
}
/** 15 psi; above 1,000 ft "not recommended". */
export const weightedFifteen: Pressure = { method: 'weighted-gauge', bands: [[0, 1000, 15]] }

export function pressureRows(): ProcessRow[] {
  return processTable().filter(({ method }) => method !== 'boiling-water')
}

/** A row in words, jar by jar, so that tables can be compared whole. */
export function inWords(row: ProcessRow): string[] {
  const bands = row.bands.map(({ fromFt, toFt, psi, minutes }) => `${fromFt}-${toFt} ft ${psi} psi ${minutes} min`)
  return row.jars.map((jar) => [row.method, row.product, row.form, row.pack, jar, ...bands].join(' | '))
}

/** The words of published lines at each of the pressures. */
export function linesInWords(lines: readonly Line[], pressures: readonly Pressure[]): string[] {
  return lines.flatMap(([product, form, pack, jars, minutes]) =>
    pressures.flatMap(({ method, bands }) =>
      sizes[jars].map((jar) =>
        [
          method,
          product,
          form,
          pack,
          jar,
          ...bands.map(([from, to, psi]) => `${from}-${to} ft ${psi} psi ${minutes} min`),
        ].join(' | '),
      ),
    ),
  )
}

/** Rows of the products named. */
export function rowsOf(products: readonly string[]): ProcessRow[] {
  return pressureRows().filter(({ product }) => products.includes(product))
}
