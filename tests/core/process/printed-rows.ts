import { expect } from 'vitest'
import { processTable } from '../../../src/core/process/index.ts'

/**
 * One printed line of a boiling-water table: product, form, pack, jars, minutes by band, headspace in inches, and the
 * document and page. Three bands end at 1,000 and 6,000 ft, four at 1,000, 3,000 and 6,000 ft.
 */
export type PrintedRow = readonly [
  product: string,
  form: string,
  pack: 'hot' | 'raw',
  jars: string,
  minutes: string,
  headspaceIn: number,
  document: string,
  page: string,
]

const jarsNamed: Record<string, string[]> = {
  'half-pints': ['half-pint'],
  '12-ounce or pints': ['half-pint', '12-ounce', 'pint'],
  // Guide 1 p. 1-23: half-pints take the pint's time, a pint and a half the quart's
  pints: ['half-pint', 'pint'],
  quarts: ['1.5-pint', 'quart'],
  'pints or quarts': ['half-pint', 'pint', '1.5-pint', 'quart'],
}

const bandEdges: Record<number, [number, number | null][]> = {
  3: [
    [0, 1000],
    [1001, 6000],
    [6001, null],
  ],
  4: [
    [0, 1000],
    [1001, 3000],
    [3001, 6000],
    [6001, null],
  ],
}

/** The rows of the service for a printed line; one is right. */
export function rowsFor([product, form, pack, jars]: PrintedRow) {
  return processTable().filter(
    (row) =>
      row.method === 'boiling-water' &&
      row.product === product &&
      row.form === form &&
      row.pack === pack &&
      row.jars.join() === jarsNamed[jars]?.join(),
  )
}

/** Every band, the headspace and the page are those of the printed line. */
export function expectAsPrinted(printed: PrintedRow): void {
  const [, , , , minutes, headspaceIn, document, page] = printed
  const rows = rowsFor(printed)
  expect(rows).toHaveLength(1)
  const times = minutes.split(' ').map(Number)
  for (const row of rows) {
    expect(row.bands.map(({ fromFt, toFt }) => [fromFt, toFt])).toEqual(bandEdges[times.length])
    expect(row.bands.map((band) => band.minutes)).toEqual(times)
    expect(row.bands.map((band) => band.psi)).toEqual(times.map(() => null))
    expect(row.headspaceIn).toBe(headspaceIn)
    expect(row.source.document).toBe(document)
    expect(`${row.source.section} ${row.source.note}`).toContain(page)
    // Guide 1 p. 1-14: below ten minutes the empty jars are boiled first
    expect(row.sterileJars).toBe((times[0] ?? 0) < 10)
  }
}

/** What holds for any table: no bigger jar and no higher band takes less time. */
export function expectSensible(rows: ReturnType<typeof processTable>): void {
  const size = ['half-pint', '12-ounce', 'pint', '1.5-pint', 'quart', 'half-gallon']
  const minutesAt = (row: (typeof rows)[number], feet: number) =>
    row.bands.find(({ fromFt, toFt }) => feet >= fromFt && (toFt === null || feet <= toFt))?.minutes ?? Number.NaN
  for (const row of rows) {
    const minutes = row.bands.map((band) => band.minutes)
    expect(
      minutes.toSorted((a, b) => a - b),
      row.id,
    ).toEqual(minutes)
    const alike = rows.filter(
      (other) => other.product === row.product && other.form === row.form && other.pack === row.pack,
    )
    for (const feet of [0, 1000, 1001, 3000, 3001, 6000, 6001, 9000]) {
      for (const other of alike) {
        const bigger = Math.min(...other.jars.map((jar) => size.indexOf(jar)))
        if (bigger <= Math.max(...row.jars.map((jar) => size.indexOf(jar)))) continue
        expect(minutesAt(other, feet), `${other.id} at ${feet} ft`).toBeGreaterThanOrEqual(minutesAt(row, feet))
      }
    }
  }
  const ids = rows.map(({ id }) => id)
  expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([])
}
