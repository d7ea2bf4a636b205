import { expect } from 'vitest'
import { processTable } from '../../../src/core/process/tables/index.ts'
import type { JarSize, ProcessRow } from '../../../src/core/process/types.ts'

/** Jars as a table prints them; half-pints take the pint's time and 1.5-pints the quart's (2015 guide, Guide 1 p. 1-23). */
const printedJars = {
  'half-pints': ['half-pint'],
  pints: ['half-pint', 'pint'],
  'pints, half-pints apart': ['pint'],
  quarts: ['1.5-pint', 'quart'],
  'pints or quarts': ['half-pint', 'pint', '1.5-pint', 'quart'],
  'half-gallons': ['half-gallon'],
} as const satisfies Record<string, readonly JarSize[]>

/** Upper edges of the printed columns, by how many there are. */
const printedEdges: Record<number, readonly (number | null)[]> = {
  3: [1000, 6000, null],
  4: [1000, 3000, 6000, null],
}

/** One line of a published table: product, form, pack, jars, minutes, headspace in inches, where it is printed. */
export type Published = readonly [
  product: string,
  form: string,
  pack: ProcessRow['pack'],
  jars: keyof typeof printedJars,
  minutes: readonly number[],
  headspaceIn: number | null,
  printed: string,
]

/** The row that stands for a published line. @throws Error if there is none, or more than one */
export function rowOf([product, form, pack, jars]: Published): ProcessRow {
  const found = processTable().filter(
    (row) =>
      row.method === 'boiling-water' &&
      row.product === product &&
      row.form === form &&
      row.pack === pack &&
      row.jars.join() === printedJars[jars].join(),
  )
  const [row] = found
  if (row === undefined || found.length > 1)
    throw new Error(`${found.length} rows for ${product}, ${form}, ${pack}, ${jars}`)
  return row
}

/** Minutes, altitudes and headspace of the row are those printed. */
export function expectAsPrinted(line: Published): void {
  const [, , , , minutes, headspaceIn] = line
  const row = rowOf(line)
  expect(row.bands.map((band) => band.minutes)).toEqual(minutes)
  expect(row.bands.map((band) => band.toFt)).toEqual(printedEdges[minutes.length])
  expect(row.bands.map((band) => band.psi)).toEqual(minutes.map(() => null))
  expect(row.headspaceIn).toBe(headspaceIn)
}

/** Minutes of a row at an altitude in feet. */
export function minutesAt(row: ProcessRow, feet: number): number {
  const band = row.bands.find(({ fromFt, toFt }) => fromFt <= feet && (toFt === null || feet <= toFt))
  if (band === undefined) throw new RangeError(`${row.id} has no column for ${feet} ft`)
  return band.minutes
}

const jarsSmallestFirst = ['half-pint', '12-ounce', 'pint', '1.5-pint', 'quart', 'half-gallon'] as const

/** What holds for every table of these modules, whatever the product. */
export function expectSound(rows: readonly ProcessRow[]): void {
  expect(rows.length).toBeGreaterThan(0)
  const everyId = processTable().map((row) => row.id)
  for (const row of rows) {
    expect(everyId.filter((id) => id === row.id)).toEqual([row.id])
    expect([0.125, 0.25, 0.5, 1, null]).toContain(row.headspaceIn)
    expect(row.source.document).not.toBe('')
    expect(row.source.section ?? row.source.note ?? '').not.toBe('')
    expect(['seen', 'memory']).toContain(row.source.confidence)
    expect([row.id, row.sterileJars]).toEqual([row.id, minutesAt(row, 0) < 10])
    expect([row.id, row.bands.at(-1)?.toFt]).toEqual([row.id, null])
  }
  for (const row of rows) {
    const alike = rows.filter(
      (other) => other.product === row.product && other.form === row.form && other.pack === row.pack,
    )
    for (const feet of [0, 1000, 1001, 3000, 3001, 6000, 6001, 9000]) {
      expect([row.id, feet, minutesAt(row, feet) >= minutesAt(row, Math.max(0, feet - 1))]).toEqual([
        row.id,
        feet,
        true,
      ])
      for (const other of alike) {
        if (largest(other) > largest(row)) expect(minutesAt(other, feet)).toBeGreaterThanOrEqual(minutesAt(row, feet))
      }
    }
  }
}

function largest(row: ProcessRow): number {
  return Math.max(...row.jars.map((jar) => jarsSmallestFirst.indexOf(jar)))
}

/** Lines in the same words for rows and published tables, to compare the two as lists. */
export function namesOf(rows: readonly ProcessRow[]): string[] {
  return rows.map(({ product, form, pack, jars }) => `${product}, ${form}, ${pack}: ${jars.join(' ')}`).sort()
}

export function namesOfPublished(lines: readonly Published[]): string[] {
  return lines
    .map(([product, form, pack, jars]) => `${product}, ${form}, ${pack}: ${printedJars[jars].join(' ')}`)
    .sort()
}
