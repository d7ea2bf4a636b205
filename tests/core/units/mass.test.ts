import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type MeasuredCrop, parseMass, type ReadingRefusal } from '../../../src/core/units/index.ts'

/** Ten kilograms a bushel and ten medium ones a kilogram, so that every expected weight can be seen at once. */
const sloe: MeasuredCrop = {
  singular: 'sloe plum',
  plural: 'sloe plums',
  synonyms: ['sloes'],
  containers: [
    { container: 'bushel', grams: 10_000 },
    { container: 'box', grams: 3000 },
  ],
  pieces: { perKg: { small: 20, medium: 10, large: 5 } },
}
const unweighed: MeasuredCrop = { ...sloe, containers: [], pieces: null }

describe('weights that are understood', () => {
  // 1 lb = 453.59237 g and 1 oz = 1/16 lb by definition; 1 stone = 14 lb.
  test.each([
    ['90 kg', 90_000],
    ['90kg', 90_000],
    ['  90   KG. ', 90_000],
    ['800 g', 800],
    ['1.5 kilos', 1500],
    ['2 t', 2_000_000],
    ['12 1/2 lb', 5670],
    ['12½ lb', 5670],
    ['12-1/2 lbs.', 5670],
    ['12 ½ pounds', 5670],
    ['½ lb', 227],
    ['3/4 lb', 340],
    ['3 lb 4 oz', 1474],
    ['3 lb, 4 oz', 1474],
    ['3 pounds and 4 ounces', 1474],
    ['2 stone', 12_701],
    ['2 st 3 lb', 14_061],
    ['half a kilo', 500],
    ['a quarter of a pound', 113],
    ['two and a half kg', 2500],
    ['a dozen kg', 12_000],
    ['1 kg and 1 lb', 1454],
    // Rounded to the nearest gram.
    ['1.4 g', 1],
    ['0.6 g', 1],
    ['50 t', 50_000_000],
  ])('%j is %d g', (text, grams) => {
    expect(parseMass(text)).toMatchObject({ ok: true, grams })
  })

  test.each([
    // A comma is a decimal sign ...
    ['1,5 kg', 1500],
    ['12,25 kg', 12_250],
    ['0,500 kg', 500],
    ['1,2345 kg', 1235],
    ['1234,567 kg', 1_234_567],
    // ... unless exactly three digits follow one to three that do not begin with 0: then it groups thousands.
    ['1,234 kg', 1_234_000],
    ['12,500 g', 12_500],
    ['1,234,567 g', 1_234_567],
    ['1,234.5 g', 1235],
    // One point is always a decimal sign; several group thousands.
    ['1.234 kg', 1234],
    ['1.234.567 g', 1_234_567],
    ['1.234,5 g', 1235],
    // Groups of three with spaces.
    ['1 234 g', 1234],
    ['12\u00a0500\u00a0g', 12_500],
  ])('%j is %d g: signs within numbers', (text, grams) => {
    expect(parseMass(text)).toMatchObject({ ok: true, grams })
  })

  test.each([
    ['2 bushels', 20_000, '2 bushels of sloe plums at 10 kg'],
    ['half a bushel', 5000, '1/2 bushel of sloe plums at 10 kg'],
    ['half-bushel', 5000, '1/2 bushel of sloe plums at 10 kg'],
    ['1/2 bu', 5000, '1/2 bushel of sloe plums at 10 kg'],
    ['3 half bushels', 15_000, '1.5 bushels of sloe plums at 10 kg'],
    ['a bushel of sloes', 10_000, '1 bushel of sloe plums at 10 kg'],
    ['1 peck', 2500, '1 peck of sloe plums at 2.5 kg'],
    ['3 boxes', 9000, '3 boxes of sloe plums at 3 kg'],
    ['36 medium', 3600, '36 medium sloe plums at 100 g'],
    ['12 large sloe plums', 2400, '12 large sloe plums at 200 g'],
    ['1 small', 50, '1 small sloe plum at 50 g'],
    ['20 sloes', 2000, '20 medium sloe plums at 100 g'],
    ['20 pieces', 2000, '20 medium sloe plums at 100 g'],
    ['1 bushel and 2 kg', 12_000, '1 bushel of sloe plums at 10 kg and 2 kg'],
    ['1,234 lb', 559_733, '1234 lb'],
    ['5 kg of sloe-plums', 5000, '5 kg'],
  ])('%j is %d g, read back as %j', (text, grams, reading) => {
    expect(parseMass(text, sloe)).toEqual({ ok: true, grams, reading })
  })
})

describe('weights that are refused', () => {
  const rows: [string, ReadingRefusal][] = [
    ['', 'empty'],
    [' \t\n', 'empty'],
    ['20', 'no-unit'],
    ['3 lb 4', 'no-unit'],
    ['1  234 g', 'no-unit'],
    ['1 23 g', 'no-unit'],
    ['kg', 'no-number'],
    ['plenty', 'no-number'],
    ['∞ kg', 'no-number'],
    ['NaN kg', 'no-number'],
    ['kg 20', 'unknown-unit'],
    ['12 furlongs', 'unknown-unit'],
    ['5 kg of gravel', 'unknown-unit'],
    ['1e3 kg', 'unknown-unit'],
    ['0x10 kg', 'unknown-unit'],
    ['5 %', 'unknown-unit'],
    ['3 lugs', 'no-figure-for-crop'],
    ['0 kg', 'not-positive'],
    ['0.4 g', 'not-positive'],
    ['-3 kg', 'not-positive'],
    ['−3 kg', 'not-positive'],
    ['50.1 t', 'too-large'],
    ['6000 bushels', 'too-large'],
    ['1/0 kg', 'not-finite'],
    ['0/0 kg', 'not-finite'],
    ['1,2,3 kg', 'not-finite'],
    ['1.23,4,5 kg', 'not-finite'],
    [`${'9'.repeat(150)}${'9'.repeat(30)} t`, 'too-large'],
    ['9'.repeat(201), 'too-long'],
  ]
  test.each(rows)('%j: %s', (text, reason) => {
    expect(parseMass(text, sloe)).toMatchObject({ ok: false, reason })
  })

  test('a container or piece needs a crop with a figure', () => {
    expect(parseMass('2 bushels')).toMatchObject({ reason: 'no-figure-for-crop' })
    expect(parseMass('2 bushels', unweighed)).toMatchObject({ reason: 'no-figure-for-crop' })
    expect(parseMass('36 medium', unweighed)).toMatchObject({ reason: 'no-figure-for-crop' })
  })

  test('say what may be typed, and all of it can be read', () => {
    for (const given of [undefined, sloe, unweighed]) {
      const refusal = parseMass('20', given)
      if (refusal.ok) throw new Error('a bare number was taken')
      expect(refusal.examples.length).toBeGreaterThan(2)
      for (const example of refusal.examples) expect(parseMass(example, given)).toMatchObject({ ok: true })
    }
  })

  test('any text at all gets an answer, and a taken weight is a whole number of grams within bounds', () => {
    const bits = fc.constantFrom(
      '1',
      '12',
      ',',
      '.',
      '/',
      ' ',
      '½',
      'kg',
      'lb',
      'half',
      'a',
      'and',
      '-',
      'bushel',
      'x',
      'medium',
    )
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(bits).map((parts) => parts.join('')),
        ),
        (text) => {
          const read = parseMass(text, sloe)
          if (!read.ok) return
          expect(Number.isSafeInteger(read.grams)).toBe(true)
          expect(read.grams).toBeGreaterThan(0)
          expect(read.grams).toBeLessThanOrEqual(50_000_000)
        },
      ),
      { numRuns: 500 },
    )
  })

  test('a hundred thousand characters are answered at once', () => {
    for (const bit of ['9', '1 ', '1 kg ', 'a ', '½', '1/', '1,', '111 ', "a'", 'é', ' ']) {
      const text = bit.repeat(Math.ceil(100_000 / bit.length))
      const begun = performance.now()
      expect(parseMass(text, sloe)).toMatchObject({ ok: false, reason: 'too-long' })
      expect(performance.now() - begun).toBeLessThan(50)
    }
  })
})
