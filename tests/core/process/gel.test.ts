import { describe, expect, test } from 'vitest'
import { boilingPointAt, toFahrenheit } from '../../../src/core/process/atmosphere.ts'
import { gelPoint, printedJellyPoints } from '../../../src/core/process/gel.ts'

const feet = (ft: number) => ft * 0.3048

describe('the jelly point', () => {
  // USDA Guide 7 p. 7-5 prints whole degrees, which drop part of a degree: up to 0.7 °F lower than water boils plus 8.
  test.each(printedJellyPoints)('at $ft ft is the printed $jellyF °F, within 0.7', ({ ft, jellyF }) => {
    const worked = toFahrenheit(gelPoint('jelly', { altitudeM: feet(ft) }).celsius)
    expect(Math.abs(worked - jellyF)).toBeLessThan(0.7)
  })

  test('is 8 °F above boiling water for jelly and 9 °F for jam', () => {
    for (const altitudeM of [0, 640, 2400]) {
      const jelly = gelPoint('jelly', { altitudeM })
      expect(jelly.waterBoilsC).toBe(boilingPointAt(altitudeM))
      expect(jelly.celsius - jelly.waterBoilsC).toBeCloseTo(4.444, 3)
      expect(gelPoint('jam', { altitudeM }).celsius - jelly.waterBoilsC).toBeCloseTo(5, 9)
    }
  })

  test('is 104.4 °C where a thermometer shows 100 °C in boiling water', () => {
    expect(gelPoint('jelly', { waterBoilsC: 100 }).celsius).toBeCloseTo(104.44, 2)
  })

  test('falls by about 2 °F for each 1,000 ft, within 0.3', () => {
    for (let ft = 0; ft < 8000; ft += 1000) {
      const [low, high] = [ft, ft + 1000].map((at) => toFahrenheit(gelPoint('jelly', { altitudeM: feet(at) }).celsius))
      expect(Math.abs((low ?? 0) - (high ?? 0) - 2)).toBeLessThan(0.3)
    }
  })

  test.each([{ altitudeM: 12_000 }, { altitudeM: Number.NaN }, { waterBoilsC: 212 }, { waterBoilsC: Number.NaN }])(
    'is refused for %o',
    (where) => {
      expect(() => gelPoint('jelly', where)).toThrow(RangeError)
    },
  )
})
