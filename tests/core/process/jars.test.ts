import { describe, expect, test } from 'vitest'
import {
  bestRatios,
  circlesIn,
  jarOf,
  jars,
  jarsThatFit,
  mouthOpenings,
  waterAboveMm,
} from '../../../src/core/process/jars.ts'

// Inside measures of canners: common practice, no source. 12 1/4 in wide is the usual round canner of 21 to 23 quarts.
const boilingWater = { insideWidthMm: 311, insideHeightMm: 280 }
const pressure = { insideWidthMm: 311, insideHeightMm: 290 }
const underPressure = { waterAboveMm: 0, boilingRoomMm: 0 }

describe('jars', () => {
  // US customary volumes: 8, 12, 16, 24, 32 and 64 fluid ounces; whole millilitres as commonly printed.
  test.each([
    ['half-pint', 237],
    ['12-ounce', 355],
    ['pint', 473],
    ['1.5-pint', 710],
    ['quart', 946],
    ['half-gallon', 1893],
  ] as const)('%s holds %d ml', (size, ml) => {
    expect(Math.round(jarOf(size).ml)).toBe(ml)
  })

  test('are wider than their mouths and big enough outside for what they hold', () => {
    for (const { size, mouth, ml, diameterMm, heightMm, source } of jars) {
      expect(diameterMm, size).toBeGreaterThan(mouthOpenings[mouth].mm)
      expect((Math.PI / 4) * diameterMm ** 2 * heightMm, size).toBeGreaterThan(ml * 1000)
      expect((Math.PI / 4) * diameterMm ** 2 * heightMm, size).toBeLessThan(ml * 1000 * 1.9)
      expect(source.confidence).toBe('practice')
    }
  })

  test('come in the mouths in which they are sold', () => {
    expect(jarOf('quart').mouth).toBe('regular')
    expect(jarOf('quart', 'wide').mouth).toBe('wide')
    expect(() => jarOf('1.5-pint', 'regular')).toThrow(RangeError)
  })
})

describe('circles in a circle', () => {
  // Closed forms of the best packings for these numbers, beside the decimals.
  test.each([
    [1, 1],
    [2, 2],
    [3, 1 + 2 / Math.sqrt(3)],
    [4, 1 + Math.SQRT2],
    [5, 1 + Math.sqrt(2 * (1 + 1 / Math.sqrt(5)))],
    [6, 3],
    [7, 3],
    [8, 1 + 1 / Math.sin(Math.PI / 7)],
    [9, 1 + 1 / Math.sin(Math.PI / 8)],
    [11, 1 + 1 / Math.sin(Math.PI / 9)],
    [13, 2 + Math.sqrt(5)],
    [15, 1 + Math.sqrt(6 + 2 / Math.sqrt(5) + 4 * Math.sqrt(1 + 2 / Math.sqrt(5)))],
    [18, 1 + Math.SQRT2 + Math.sqrt(6)],
    [19, 1 + Math.SQRT2 + Math.sqrt(6)],
  ])('%d need a ratio of %d', (count, ratio) => {
    expect(bestRatios[count - 1]).toBeCloseTo(ratio, 6)
    expect(circlesIn(ratio)).toBeGreaterThanOrEqual(count)
    expect(circlesIn(ratio - 0.001)).toBeLessThan(count)
  })

  test('need more room for more circles, and never fill more than nine tenths of it', () => {
    for (const [index, ratio] of bestRatios.entries()) {
      if (index > 0) expect(ratio).toBeGreaterThanOrEqual(bestRatios[index - 1] ?? 0)
      if (index > 0) expect((index + 1) / ratio ** 2).toBeLessThan(0.9)
    }
  })

  test('are counted to 20, and none where not even one goes in', () => {
    expect(circlesIn(0.99)).toBe(0)
    expect(circlesIn(100)).toBe(20)
  })
})

describe('a canner load', () => {
  // Guide 1 p. 1-17 and 1-33: the usual load is 7 quarts, or 8 to 9 pints.
  test('is 7 quarts, regular or wide', () => {
    for (const mouth of ['regular', 'wide'] as const) {
      expect(jarsThatFit(boilingWater, jarOf('quart', mouth))).toMatchObject({ perLayer: 7, layers: 1, jars: 7 })
      expect(jarsThatFit(pressure, jarOf('quart', mouth), underPressure)).toMatchObject({ jars: 7, layers: 1 })
    }
  })

  test('is 9 regular pints or 8 wide ones in a layer', () => {
    expect(jarsThatFit(boilingWater, jarOf('pint')).perLayer).toBe(9)
    expect(jarsThatFit(boilingWater, jarOf('pint', 'wide')).perLayer).toBe(8)
  })

  // Guide 1 p. 1-17: a large pressure canner takes 18 pints in two layers.
  test('is 18 pints in two layers in a large pressure canner, and quarts never stand on each other', () => {
    expect(jarsThatFit(pressure, jarOf('pint'), underPressure)).toMatchObject({ layers: 2, jars: 18 })
    const tall = { insideWidthMm: 311, insideHeightMm: 600 }
    expect(jarsThatFit(tall, jarOf('quart'), underPressure)).toMatchObject({ layers: 1, jars: 7 })
  })

  // Maker and extension practice (common practice, no source): 8 to 12 half-pints in one layer; 7 jars of a pint and a half.
  test('is 8 to 12 half-pints in a layer, 7 jars of a pint and a half', () => {
    for (const mouth of ['regular', 'wide'] as const) {
      const { perLayer } = jarsThatFit(boilingWater, jarOf('half-pint', mouth))
      expect(perLayer).toBeGreaterThanOrEqual(8)
      expect(perLayer).toBeLessThanOrEqual(12)
    }
    // Straight sides leave room for an eighth where the rack does.
    expect(jarsThatFit(boilingWater, jarOf('1.5-pint')).perLayer).toBeGreaterThanOrEqual(7)
  })
})

describe('the height of a canner', () => {
  // Guide 1 p. 1-18: one inch of water over the lids, two for more than 30 minutes.
  test('must leave one inch of water, two above 30 minutes, and one to boil', () => {
    expect(waterAboveMm(30)).toBe(25.4)
    expect(waterAboveMm(31)).toBe(50.8)
    expect(() => waterAboveMm(Number.NaN)).toThrow(RangeError)
    const quart = jarOf('quart')
    const justFor25 = { insideWidthMm: 311, insideHeightMm: quart.heightMm + 13 + 25.4 + 25.4 }
    const short = jarsThatFit(justFor25, quart, { waterAboveMm: waterAboveMm(25) })
    expect(short).toMatchObject({ layers: 1, jars: 7 })
    expect(short.heightLeftMm).toBeCloseTo(0, 9)
    const long = jarsThatFit(justFor25, quart, { waterAboveMm: waterAboveMm(35) })
    expect(long).toMatchObject({ perLayer: 7, layers: 0, jars: 0 })
    expect(long.heightLeftMm).toBeCloseTo(-25.4, 9)
  })

  test('counts a rack under each layer', () => {
    const pint = jarOf('pint')
    const height = 2 * (pint.heightMm + 20) + 25.4 + 25.4
    expect(jarsThatFit({ insideWidthMm: 311, insideHeightMm: height }, pint, { rackMm: 20 }).layers).toBe(2)
    expect(jarsThatFit({ insideWidthMm: 311, insideHeightMm: height - 1 }, pint, { rackMm: 20 }).layers).toBe(1)
  })

  test('leaves a gap between jars, and none at the wall', () => {
    // Two jars of 95 mm and one gap are 193 mm wide.
    const jar = { size: 'quart', diameterMm: 95, heightMm: 175 } as const
    const wide = (insideWidthMm: number) => jarsThatFit({ insideWidthMm, insideHeightMm: 300 }, jar).perLayer
    expect(wide(192.9)).toBe(1)
    expect(wide(193)).toBe(2)
    expect(jarsThatFit({ insideWidthMm: 190, insideHeightMm: 300 }, jar, { gapMm: 0 }).perLayer).toBe(2)
  })

  test('is nothing where the jar is wider than the pot', () => {
    expect(jarsThatFit({ insideWidthMm: 90, insideHeightMm: 400 }, jarOf('quart'))).toMatchObject({
      perLayer: 0,
      jars: 0,
    })
  })

  test.each([
    [{ insideWidthMm: 0, insideHeightMm: 200 }, {}],
    [{ insideWidthMm: 300, insideHeightMm: Number.NaN }, {}],
    [{ insideWidthMm: 300, insideHeightMm: 200 }, { rackMm: -1 }],
    [{ insideWidthMm: 300, insideHeightMm: 200 }, { waterAboveMm: Number.NaN }],
  ])('is refused for %o with %o', (kettle, options) => {
    expect(() => jarsThatFit(kettle, jarOf('pint'), options)).toThrow(RangeError)
  })
})
