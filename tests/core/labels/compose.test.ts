import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  compose,
  type Division,
  divideLabel,
  knownSheets,
  type LabelLine,
  type LabelShape,
  leastModuleMm,
  leastSizePt,
  type Region,
  type SetRow,
} from '../../../src/core/labels/index.ts'

/** Letters all half as wide as they are high: any measure will do for what must hold for each. */
const measure = (text: string) => text.length * 0.5
const mmPerPoint = 25.4 / 72

const product = (text: string): LabelLine => ({ kind: 'product', text, needed: true })
const caution = (text: string): LabelLine => ({ kind: 'caution', text, needed: true })
const optional = (kind: 'variety' | 'household', text: string): LabelLine => ({ kind, text, needed: false })

type Point = [number, number]

/** The four corners of a row's letters, marks and tails included. */
function corners({ text, sizePt, x, baseline }: SetRow): [Point, Point, Point, Point] {
  const em = sizePt * mmPerPoint
  const [left, right] = [x, x + measure(text) * em]
  const [top, bottom] = [baseline - 0.93 * em, baseline + 0.24 * em]
  return [
    [left, top],
    [right, top],
    [left, bottom],
    [right, bottom],
  ]
}

/** Whether a point lies in a label, so many millimetres or more from its edge. Written anew, from the shapes' definitions. */
function inside(label: LabelShape, [x, y]: Point, edge: number): boolean {
  const slack = edge - 1e-6
  if (label.shape === 'round')
    return Math.hypot(x - label.diameter / 200, y - label.diameter / 200) <= label.diameter / 200 - slack
  const [width, height, corner] = [label.width / 100, label.height / 100, label.corner / 100]
  if (x < slack || y < slack || x > width - slack || y > height - slack) return false
  const [across, down] = [corner - Math.min(x, width - x), corner - Math.min(y, height - y)]
  return across <= 0 || down <= 0 || Math.hypot(across, down) <= corner - slack
}

function boxCorners({
  x,
  y,
  width,
  height,
}: {
  x: number
  y: number
  width: number
  height: number
}): [number, number][] {
  return [
    [x, y],
    [x + width, y],
    [x, y + height],
    [x + width, y + height],
  ]
}

function outOf<T>(value: T | null): T {
  if (value === null) throw new Error('nothing there')
  return value
}

const anyLabel: fc.Arbitrary<LabelShape> = fc.oneof(
  fc.record({
    shape: fc.constant('rectangle' as const),
    width: fc.integer({ min: 1500, max: 12_000 }),
    height: fc.integer({ min: 1500, max: 12_000 }),
    corner: fc.integer({ min: 0, max: 750 }),
  }),
  fc.record({ shape: fc.constant('round' as const), diameter: fc.integer({ min: 1500, max: 9000 }) }),
)
const anyText = fc
  .array(fc.string({ unit: fc.constantFrom(...'abcdefghij'), minLength: 1, maxLength: 24 }), {
    minLength: 1,
    maxLength: 8,
  })
  .map((words) => words.join(' '))
const anyLines = fc
  .tuple(anyText, anyText, fc.array(anyText, { maxLength: 2 }), anyText)
  .map(([name, variety, cautions, household]) => [
    product(name),
    optional('variety', variety),
    ...cautions.map(caution),
    optional('household', household),
  ])

describe('a label', () => {
  test('has all letters and its code inside, apart from each other, whatever its shape and words', () => {
    let set = 0
    let refused = 0
    fc.assert(
      fc.property(anyLabel, anyLines, fc.constantFrom(null, 21, 25, 29, 33), (label, lines, modules) => {
        const division = divideLabel(label, modules)
        const composition = division === null ? null : compose(lines, division.region, measure)
        if (division === null || composition === null) {
          refused++
          return
        }
        set++
        expectInside(label, division, composition.rows)
        const needed = lines.filter((line) => line.needed && line.kind !== 'product').map(({ text }) => text)
        const shown = composition.rows
          .map(({ text }) => text)
          .join('')
          .replaceAll(' ', '')
        for (const text of needed) expect(shown).toContain(text.replaceAll(' ', ''))
        expect(composition.leftOff.every((kind) => kind === 'variety' || kind === 'household')).toBe(true)
        expect(composition.rows.every(({ sizePt }) => sizePt >= leastSizePt)).toBe(true)
        expect(shown.startsWith(outOf(lines[0] ?? null).text.replaceAll(' ', ''))).toBe(!composition.shortened)
      }),
      { numRuns: 300, seed: 3 },
    )
    expect(set).toBeGreaterThan(100)
    expect(refused).toBeGreaterThan(10)
  })

  test('has room for a code of 29 modules and an ordinary jar’s words on every known sheet', () => {
    const lines = [
      product('Apple sauce'),
      caution('Once open, refrigerate and use within 5 days'),
      caution('Best by 14 Sep 2027'),
    ]
    for (const { name, geometry } of knownSheets) {
      const division = outOf(divideLabel(geometry.label, 29))
      expect(division.code?.moduleMm, name).toBeGreaterThanOrEqual(leastModuleMm)
      expect(compose(lines, division.region, measure)?.leftOff, name).toEqual([])
    }
  })

  test('too small for its code is refused', () => {
    expect(divideLabel({ shape: 'round', diameter: 2500 }, 29)).toBeNull()
    expect(divideLabel({ shape: 'rectangle', width: 6000, height: 1600, corner: 0 }, 29)).toBeNull()
    expect(divideLabel({ shape: 'rectangle', width: 2500, height: 2500, corner: 0 }, 29)).toBeNull()
  })
})

/** A plain field for words, 40 mm wide and so high. */
function field(height: number): Region {
  return { top: 0, bottom: height, align: 'left', bent: false, span: () => ({ left: 0, right: 40 }) }
}

describe('a name', () => {
  test('that is short stands larger than the other words, on one row', () => {
    const { rows } = outOf(compose([product('Jam'), caution('Keep cool')], field(20), measure))
    expect(rows.map(({ text }) => text)).toEqual(['Jam', 'Keep cool'])
    expect(rows[0]?.sizePt).toBeGreaterThan(1.5 * outOf(rows[1] ?? null).sizePt)
  })

  test('that is longer shrinks first, then goes over two rows, then ends in an ellipsis', () => {
    // 40 mm hold 45 letters at 5 pt, two rows 90.
    const name = (letters: number) =>
      outOf(compose([product('ab '.repeat(60).slice(0, letters).trim())], field(4.2), measure))
    expect(name(44)).toMatchObject({ shortened: false, rows: { length: 1 } })
    expect(name(80)).toMatchObject({ shortened: false, rows: { length: 2 } })
    const cut = name(170)
    expect(cut).toMatchObject({ shortened: true, rows: { length: 2 } })
    expect(cut.rows[1]?.text).toMatch(/…$/)
  })

  test('of one endless word is broken between letters, a mark with its letter', () => {
    const letter = 'q\u0307'
    const { rows } = outOf(compose([product(letter.repeat(40))], field(10), measure))
    expect(rows.length).toBe(2)
    expect(rows.every(({ text }) => text.startsWith('q'))).toBe(true)
  })
})

describe('where room is short', () => {
  const lines = [product('Jam'), optional('variety', 'Opal'), caution('Contains milk'), optional('household', 'Shared')]

  test('what is not needed goes, the last first', () => {
    const least = leastSizePt * mmPerPoint * 1.17
    expect(compose(lines, field(4 * least + 0.01), measure)?.leftOff).toEqual([])
    expect(compose(lines, field(3 * least + 0.01), measure)?.leftOff).toEqual(['household'])
    expect(compose(lines, field(2 * least + 0.01), measure)?.leftOff).toEqual(['variety', 'household'])
  })

  test('for what is needed, there is no label', () => {
    expect(compose(lines, field(3), measure)).toBeNull()
  })
})

function expectInside(label: LabelShape, { code, region }: Division, rows: readonly SetRow[]): void {
  const stray = rows.find((row) => !corners(row).every((corner) => inside(label, corner, 1.9)))
  expect(stray, JSON.stringify(label)).toBeUndefined()
  expect(region.bottom).toBeGreaterThan(region.top)
  if (code === null) return
  const { box } = code
  expect(
    boxCorners(box).every((corner) => inside(label, corner, 0.99)),
    JSON.stringify({ label, code }),
  ).toBe(true)
  const over = rows.find((row) => {
    const [[left, top], , , [right, bottom]] = corners(row)
    return left < box.x + box.width && right > box.x + 1e-6 && top < box.y + box.height && bottom > box.y + 1e-6
  })
  expect(over, JSON.stringify({ label, code })).toBeUndefined()
}
