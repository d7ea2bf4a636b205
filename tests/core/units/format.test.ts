import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  formatAltitude,
  formatMass,
  formatPercent,
  formatTemperature,
  formatVolume,
  parseLength,
  parseMass,
  parsePercent,
  parseTemperature,
  parseVolume,
} from '../../../src/core/units/index.ts'

describe('weights for eyes', () => {
  test.each([
    [0, '0 g', '0 oz'],
    [1, '1 g', '0.04 oz'],
    [14, '14 g', '0.49 oz'],
    [142, '142 g', '5 oz'],
    [454, '454 g', '1 lb'],
    [999, '999 g', '2 lb 3 oz'],
    [1000, '1 kg', '2 lb 3 oz'],
    [1474, '1.47 kg', '3 lb 4 oz'],
    [4527, '4.53 kg', '10 lb'],
    [9994, '9.99 kg', '22 lb'],
    [9996, '10 kg', '22 lb'],
    [25401, '25.4 kg', '56 lb'],
    [99_960, '100 kg', '220 lb'],
    [250_400, '250 kg', '552 lb'],
    [9_999_000, '9999 kg', '22,044 lb'],
    [12_500_000, '12,500 kg', '27,558 lb'],
  ])('%d g is %j or %j', (grams, metric, us) => {
    expect(formatMass(grams, 'metric')).toBe(metric)
    expect(formatMass(grams, 'us')).toBe(us)
  })

  test('are read again as what was shown', () => {
    // The last shown digit: at worst half a percent, and half a gram or a twentieth of an ounce for little things.
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 49_000_000 }), fc.constantFrom('metric', 'us'), (grams, system) => {
        const read = parseMass(formatMass(grams, system))
        if (!read.ok) throw new Error(`${formatMass(grams, system)}: ${read.reason}`)
        expect(Math.abs(read.grams - grams)).toBeLessThanOrEqual(Math.max(15, grams * 0.006))
        expect(formatMass(read.grams, system)).toBe(formatMass(grams, system))
      }),
      { numRuns: 2000 },
    )
  })

  test('never grow lighter as they grow heavier', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 49_000_000 }),
        fc.integer({ min: 0, max: 5000 }),
        fc.constantFrom('metric', 'us'),
        (grams, more, system) => {
          const [light, heavy] = [grams, grams + more].map((one) => parseMass(formatMass(one, system)))
          if (light?.ok !== true || heavy?.ok !== true) throw new Error('not read')
          expect(heavy.grams).toBeGreaterThanOrEqual(light.grams)
        },
      ),
      { numRuns: 1000 },
    )
  })
})

describe('other measures for eyes', () => {
  test('volumes', () => {
    expect([350, 999.6, 1500, 6624.471].map((ml) => formatVolume(ml, 'metric'))).toEqual([
      '350 ml',
      '1 l',
      '1.5 l',
      '6.62 l',
    ])
    expect([4.93, 29.57, 354.9, 6624.471, 11_356.2].map((ml) => formatVolume(ml, 'us'))).toEqual([
      '1 tsp',
      '2 tbsp',
      '1.5 cups',
      '7 qt',
      '3 gal',
    ])
  })

  test('temperatures, altitudes and shares', () => {
    expect(formatTemperature(82.2, 'metric')).toBe('82 °C')
    expect(formatTemperature(82.2, 'us')).toBe('180 °F')
    expect(formatTemperature(-0.2, 'metric')).toBe('0 °C')
    expect(formatAltitude(640, 'metric')).toBe('640 m')
    expect(formatAltitude(640, 'us')).toBe('2,100 ft')
    expect(formatPercent(0.4)).toBe('40 %')
    expect(formatPercent(1 / 3)).toBe('33.3 %')
  })

  test('are read again as what was shown', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.integer({ min: 0, max: 4000 }),
        fc.integer({ min: -40, max: 150 }),
        fc.integer({ min: 0, max: 1000 }),
        fc.constantFrom('metric', 'us'),
        (ml, metres, celsius, mille, system) => {
          const volume = parseVolume(formatVolume(ml, system))
          const length = parseLength(formatAltitude(metres, system))
          const temperature = parseTemperature(formatTemperature(celsius, system))
          const share = parsePercent(formatPercent(mille / 1000))
          if (!volume.ok || !length.ok || !temperature.ok || !share.ok) throw new Error('not read')
          expect(Math.abs(volume.ml - ml)).toBeLessThanOrEqual(Math.max(1, ml * 0.03))
          expect(Math.abs(length.metres - metres)).toBeLessThanOrEqual(0.2)
          expect(Math.abs(temperature.celsius - celsius)).toBeLessThanOrEqual(0.3)
          expect(share.share).toBeCloseTo(mille / 1000, 9)
        },
      ),
    )
  })
})
