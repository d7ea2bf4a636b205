import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  checkGeometry,
  fromPlace,
  geometryName,
  knownSheet,
  knownSheets,
  mostLabels,
  mostOffset,
  type Place,
  pagesNeeded,
  paperSize,
  placesOf,
  type SheetGeometry,
} from '../../../src/core/labels/index.ts'

/** A4, 3 x 8, 70 x 37 mm: 210 mm across to the last hundredth, 296 of 297 mm down. */
const sheet: SheetGeometry = {
  paper: 'A4',
  columns: 3,
  rows: 8,
  label: { shape: 'rectangle', width: 7000, height: 3700, corner: 0 },
  margins: { top: 50, left: 0 },
  gaps: { across: 0, down: 0 },
}

const anyGeometry: fc.Arbitrary<SheetGeometry> = fc.record({
  paper: fc.oneof(
    fc.constantFrom('A4' as const, 'Letter' as const),
    fc.record({ width: fc.integer({ min: 2000, max: 40_000 }), height: fc.integer({ min: 2000, max: 40_000 }) }),
  ),
  columns: fc.integer({ min: 1, max: 6 }),
  rows: fc.integer({ min: 1, max: 8 }),
  label: fc.oneof(
    fc.record({
      shape: fc.constant('rectangle' as const),
      width: fc.integer({ min: 1500, max: 9000 }),
      height: fc.integer({ min: 1500, max: 9000 }),
      corner: fc.integer({ min: 0, max: 750 }),
    }),
    fc.record({ shape: fc.constant('round' as const), diameter: fc.integer({ min: 1500, max: 8000 }) }),
  ),
  margins: fc.record({ top: fc.integer({ min: 0, max: 3000 }), left: fc.integer({ min: 0, max: 3000 }) }),
  gaps: fc.record({ across: fc.integer({ min: 0, max: 800 }), down: fc.integer({ min: 0, max: 800 }) }),
})

function overlap(one: Place, other: Place): boolean {
  const across = one.x < other.x + other.width && other.x < one.x + one.width
  const down = one.y < other.y + other.height && other.y < one.y + one.height
  return across && down
}

function expectGood(geometry: SheetGeometry): void {
  const paper = paperSize(geometry.paper)
  const places = placesOf(geometry)
  expect(places.length).toBe(geometry.columns * geometry.rows)
  for (const { x, y, width, height } of places) {
    expect([x, y, width, height].every(Number.isSafeInteger)).toBe(true)
    expect(x >= 0 && y >= 0 && x + width <= paper.width && y + height <= paper.height).toBe(true)
  }
  places.forEach((one, index) => {
    expect(places.slice(index + 1).some((other) => overlap(one, other))).toBe(false)
  })
}

describe('the places of a sheet', () => {
  test('lie within the paper and never over each other, or the geometry is refused', () => {
    let accepted = 0
    fc.assert(
      fc.property(anyGeometry, (geometry) => {
        const problems = checkGeometry(geometry)
        if (problems.length > 0) {
          expect(() => placesOf(geometry)).toThrow(RangeError)
          return
        }
        accepted++
        expectGood(geometry)
      }),
      { numRuns: 400, seed: 11 },
    )
    expect(accepted).toBeGreaterThan(60)
  })

  test('are counted as one reads, from the top left', () => {
    const places = placesOf(sheet)
    expect(places.at(0)).toEqual({ number: 1, column: 1, row: 1, x: 0, y: 50, width: 7000, height: 3700 })
    expect(places.at(4)).toEqual({ number: 5, column: 2, row: 2, x: 7000, y: 3750, width: 7000, height: 3700 })
    expect(places.at(-1)).toMatchObject({ number: 24, column: 3, row: 8, x: 14_000, y: 25_950 })
  })

  test('are good on every known sheet, each found by its name', () => {
    for (const { name, geometry } of knownSheets) {
      expect(checkGeometry(geometry), name).toEqual([])
      expectGood(geometry)
      expect(knownSheet(name)?.geometry).toBe(geometry)
    }
    expect(new Set(knownSheets.map(({ name }) => name)).size).toBe(knownSheets.length)
    expect(knownSheet('A4, 1 x 1')).toBeNull()
  })
})

describe('a geometry that cannot be', () => {
  const cases: [string, Partial<SheetGeometry>, { at: string; fault: string; limit?: number }][] = [
    ['a column too many', { columns: 4 }, { at: 'columns', fault: 'beyond-paper', limit: 3 }],
    ['a row too many', { rows: 9 }, { at: 'rows', fault: 'beyond-paper', limit: 8 }],
    [
      'a hundredth too far right',
      { margins: { top: 50, left: 1 } },
      { at: 'columns', fault: 'beyond-paper', limit: 2 },
    ],
    ['a hundredth too low', { margins: { top: 101, left: 0 } }, { at: 'rows', fault: 'beyond-paper', limit: 7 }],
    [
      'gaps that push the last off',
      { gaps: { across: 1, down: 0 } },
      { at: 'columns', fault: 'beyond-paper', limit: 2 },
    ],
    [
      'a margin that leaves no room',
      { margins: { top: 50, left: 14_001 } },
      { at: 'margins.left', fault: 'beyond-paper', limit: 14_000 },
    ],
    ['no rows', { rows: 0 }, { at: 'rows', fault: 'too-small', limit: 1 }],
    ['half a column', { columns: 1.5 }, { at: 'columns', fault: 'not-whole' }],
    ['a margin below 0', { margins: { top: -1, left: 0 } }, { at: 'margins.top', fault: 'too-small', limit: 0 }],
    ['no number', { gaps: { across: 0, down: Number.NaN } }, { at: 'gaps.down', fault: 'not-whole' }],
    [
      'a tiny label',
      { label: { shape: 'round', diameter: 1499 } },
      { at: 'label.diameter', fault: 'too-small', limit: 1500 },
    ],
    [
      'a label wider than the paper',
      { label: { shape: 'round', diameter: 21_001 } },
      { at: 'columns', fault: 'beyond-paper', limit: 0 },
    ],
    [
      'corners that meet before they are round',
      { label: { shape: 'rectangle', width: 7000, height: 3700, corner: 1851 } },
      { at: 'label.corner', fault: 'corner-above-half', limit: 1850 },
    ],
    [
      'paper like a ribbon',
      { paper: { width: 1999, height: 20_000 } },
      { at: 'paper.width', fault: 'too-small', limit: 2000 },
    ],
    [
      'paper like a wall',
      { paper: { width: 20_000, height: 60_001 } },
      { at: 'paper.height', fault: 'too-large', limit: 60_000 },
    ],
  ]
  test.each(cases)('%s is refused at its field', (_, change, problem) => {
    expect(checkGeometry({ ...sheet, ...change })).toContainEqual(problem)
  })

  test('is told each of its faults', () => {
    const faults = checkGeometry({ ...sheet, columns: 0, rows: 0.5, margins: { top: -1, left: 0 } })
    expect(faults.map(({ at }) => at)).toEqual(['columns', 'rows', 'margins.top'])
  })
})

describe('a printing', () => {
  test('begins at any free label and goes on on the next page', () => {
    const placed = fromPlace(sheet, 4, 23)
    expect(placed.map(({ page, place }) => [page, place.number])).toEqual([
      [1, 23],
      [1, 24],
      [2, 1],
      [2, 2],
    ])
    expect([pagesNeeded(sheet, 24), pagesNeeded(sheet, 24, 2), pagesNeeded(sheet, 0), pagesNeeded(sheet, 49)]).toEqual([
      1, 2, 0, 3,
    ])
  })

  test('is moved by the printer’s offset, and otherwise the same', () => {
    const [plain] = fromPlace(sheet, 1)
    const [moved] = fromPlace(sheet, 1, 1, { dx: 120, dy: -75 })
    expect(moved?.place).toEqual({ ...plain?.place, x: 120, y: -25 })
  })

  test('refuses places that the sheet has not, counts and offsets that cannot be meant', () => {
    for (const bad of [0, 25, 1.5]) expect(() => fromPlace(sheet, 1, bad)).toThrow('places 1 to 24')
    for (const bad of [-1, 0.5, mostLabels + 1]) expect(() => fromPlace(sheet, bad)).toThrow(RangeError)
    for (const bad of [mostOffset + 1, 0.5]) expect(() => fromPlace(sheet, 1, 1, { dx: 0, dy: bad })).toThrow('offset')
    expect(() => fromPlace({ ...sheet, columns: 4 }, 1)).toThrow('columns beyond-paper')
  })
})

test('a geometry is named by its measures', () => {
  expect(geometryName(sheet)).toBe('A4, 3 x 8, 70 x 37 mm')
  expect(geometryName({ ...sheet, paper: 'Letter', rows: 4, label: { shape: 'round', diameter: 6350 } })).toBe(
    'Letter, 3 x 4, 63.5 mm round',
  )
  expect(geometryName({ ...sheet, paper: { width: 10_000, height: 15_000 } })).toBe('100 x 150 mm, 3 x 8, 70 x 37 mm')
})
