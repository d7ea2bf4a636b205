import { describe, expect, test } from 'vitest'
import { parseLength, parsePercent, parseTemperature, parseVolume } from '../../../src/core/units/index.ts'

describe('volumes', () => {
  // US gallon = 231 cubic inches = 3785.411784 ml (NIST Handbook 44, Appendix C; memory); 1 quart = 946.353, 1 cup = 236.588.
  test.each([
    ['350 ml', 350],
    ['1,5 l', 1500],
    ['2 dl', 200],
    ['1 gal', 3785.411784],
    ['7 quarts', 6624.471],
    ['1 pint', 473.176],
    ['2 cups', 473.176],
    ['1/2 cup', 118.294],
    ['2 tbsp', 29.574],
    ['1 tsp', 4.929],
    ['8 fl. oz.', 236.588],
  ])('%j is %d ml', (text, ml) => {
    const read = parseVolume(text)
    expect(read.ok ? read.ml : read.reason).toBeCloseTo(ml, 2)
  })

  test.each([
    ['', 'empty'],
    ['7', 'no-unit'],
    ['7 kg', 'unknown-unit'],
    ['7 l and a bit', 'unknown-unit'],
    ['l', 'no-number'],
    ['0 l', 'not-positive'],
    ['-1 l', 'not-positive'],
    ['200000 l', 'too-large'],
    ['1/0 l', 'not-finite'],
    ['7'.repeat(300), 'too-long'],
  ])('%j is refused: %s', (text, reason) => {
    expect(parseVolume(text)).toMatchObject({ ok: false, reason })
  })
})

describe('temperatures', () => {
  test.each([
    ['82 °C', 82],
    ['82C', 82],
    ['100 degrees celsius', 100],
    ['212 F', 100],
    ['32 °F', 0],
    ['-40 °F', -40],
    ['\u221218 °C', -18],
    ['140℉', 60],
  ])('%j is %d degrees Celsius', (text, celsius) => {
    const read = parseTemperature(text)
    expect(read.ok ? read.celsius : read.reason).toBeCloseTo(celsius, 9)
  })

  test.each([
    ['82', 'no-unit'],
    ['82 K', 'unknown-unit'],
    ['-300 C', 'out-of-range'],
    ['5000 F', 'out-of-range'],
    ['warm', 'no-number'],
    ['', 'empty'],
  ])('%j is refused: %s', (text, reason) => {
    expect(parseTemperature(text)).toMatchObject({ ok: false, reason })
  })
})

describe('lengths', () => {
  // 1 ft = 0.3048 m and 1 in = 25.4 mm by definition.
  test.each([
    ['640 m', 640],
    ['2,100 ft', 640.08],
    ['1/2 in', 0.0127],
    ['1/2"', 0.0127],
    ['12 mm', 0.012],
    ['-5 m', -5],
  ])('%j is %d m', (text, metres) => {
    const read = parseLength(text)
    expect(read.ok ? read.metres : read.reason).toBeCloseTo(metres, 9)
  })

  test.each([
    ['640', 'no-unit'],
    ['640 miles', 'unknown-unit'],
    ['20 km', 'out-of-range'],
    ['-600 m', 'out-of-range'],
  ])('%j is refused: %s', (text, reason) => {
    expect(parseLength(text)).toMatchObject({ ok: false, reason })
  })
})

describe('shares', () => {
  test.each([
    ['40 %', 0.4],
    ['40', 0.4],
    ['40%', 0.4],
    ['12,5 percent', 0.125],
    ['0', 0],
    ['100 %', 1],
    ['1/2 %', 0.005],
  ])('%j is %d', (text, share) => {
    const read = parsePercent(text)
    expect(read.ok ? read.share : read.reason).toBeCloseTo(share, 12)
  })

  test.each([
    ['', 'empty'],
    ['%', 'no-number'],
    ['101 %', 'out-of-range'],
    ['-1 %', 'out-of-range'],
    ['40 kg', 'unknown-unit'],
    ['40 % of it', 'unknown-unit'],
    ['1/0', 'not-finite'],
  ])('%j is refused: %s', (text, reason) => {
    expect(parsePercent(text)).toMatchObject({ ok: false, reason })
  })
})
