import { describe, expect, test } from 'vitest'
import {
  boilingPointAt,
  feetAt,
  kPaPerPsi,
  pressureAt,
  saturationPressure,
  saturationTemperature,
  steamTemperature,
  toFahrenheit,
} from '../../../src/core/process/atmosphere.ts'
import { boilBeforeTasting, sterilisingBoil } from '../../../src/core/process/heating.ts'

const feet = (ft: number) => ft * 0.3048

describe('air pressure', () => {
  // US Standard Atmosphere 1976, Table I, by geopotential altitude (memory); printed to five figures.
  test.each([
    [-500, 107.478],
    [0, 101.325],
    [500, 95.461],
    [1000, 89.875],
    [1500, 84.556],
    [2000, 79.495],
    [3000, 70.109],
    [5000, 54.02],
    [8000, 35.6],
    [11_000, 22.632],
  ])('%d m has %d kPa, within 0.002', (metres, kPa) => {
    expect(Math.abs(pressureAt(metres) - kPa)).toBeLessThan(0.002)
  })

  test.each([-500.001, 11_000.1, Number.NaN, Number.POSITIVE_INFINITY])('%d m is refused', (metres) => {
    expect(() => pressureAt(metres)).toThrow(RangeError)
    expect(() => feetAt(metres)).toThrow(RangeError)
    expect(() => boilingPointAt(metres)).toThrow(RangeError)
  })
})

describe('boiling water', () => {
  // IAPWS-IF97, Table 35 and Table 36: the check values of the release, nine figures.
  test.each([
    [300, 0.353658941e-2],
    [500, 0.263889776e1],
    [600, 0.123443146e2],
  ])('at %d K has the published pressure', (kelvin, megapascal) => {
    expect(saturationPressure(kelvin - 273.15) / 1000 / megapascal).toBeCloseTo(1, 8)
  })

  test.each([
    [0.1, 372.755919],
    [1, 453.035632],
    [10, 584.149488],
  ])('at %d MPa has the published temperature', (megapascal, kelvin) => {
    expect(saturationTemperature(megapascal * 1000) + 273.15).toBeCloseTo(kelvin, 6)
  })

  test('comes back to the same temperature by way of its pressure', () => {
    for (let celsius = 1; celsius <= 373; celsius += 4) {
      expect(saturationTemperature(saturationPressure(celsius))).toBeCloseTo(celsius, 6)
    }
  })

  test('has no boiling point beyond the ends of its line', () => {
    for (const kPa of [0.6, 22_065, -1, Number.NaN]) expect(() => saturationTemperature(kPa)).toThrow(RangeError)
    for (const celsius of [-0.1, 374, Number.NaN]) expect(() => saturationPressure(celsius)).toThrow(RangeError)
  })

  // Feet; °C and °F worked out from ISO 2533 and IAPWS-IF97 by others, to two and one decimals; and the °F of a table
  // printed with the canning guide, which assumes air of one temperature all the way up and so lies up to 1 °F higher.
  test.each([
    [0, 101.33, 99.97, 212, 212],
    [1000, 97.72, 98.96, 210.1, 210.2],
    [2000, 94.21, 97.95, 208.3, 208.5],
    [3000, 90.81, 96.93, 206.5, 206.7],
    [5000, 84.31, 94.9, 202.8, 203.2],
    [6000, 81.2, 93.89, 201, 201.5],
    [8000, 75.26, 91.85, 197.3, 198.1],
    [9000, 72.43, 90.83, 195.5, 196.4],
    [10_000, 69.68, 89.81, 193.7, 194.7],
  ])('at %d ft: %d kPa, %d °C, %d °F; printed %d °F within 1.1', (ft, kPa, celsius, fahrenheit, printed) => {
    expect(Math.abs(pressureAt(feet(ft)) - kPa)).toBeLessThan(0.006)
    const boils = boilingPointAt(feet(ft))
    expect(Math.abs(boils - celsius)).toBeLessThan(0.006)
    expect(Math.abs(toFahrenheit(boils) - fahrenheit)).toBeLessThan(0.06)
    expect(printed - toFahrenheit(boils)).toBeGreaterThan(-0.06)
    expect(printed - toFahrenheit(boils)).toBeLessThan(1.1)
  })

  test('boils cooler the higher it is', () => {
    for (let metres = -500; metres < 11_000; metres += 100) {
      expect(boilingPointAt(metres + 100)).toBeLessThan(boilingPointAt(metres))
    }
  })
})

describe('steam in a pressure canner', () => {
  // psi at the gauge, feet; °C and °F worked out from ISO 2533 and IAPWS-IF97 by others.
  test.each([
    [5, 0, 108.4, 227.1],
    [10, 0, 115.2, 239.4],
    [10.5, 0, 115.8, 240.5],
    [11, 0, 116.4, 241.6],
    [11, 2000, 115.2, 239.3],
    [12, 4000, 115.2, 239.3],
    [13, 6000, 115.3, 239.5],
    [14, 8000, 115.5, 239.8],
    [15, 0, 121, 249.7],
    [15, 1001, 120.4, 248.7],
    [15, 6000, 117.7, 243.9],
    [15, 10_000, 115.7, 240.3],
    [6, 2000, 108.3, 227],
    [7, 4000, 108.4, 227.1],
  ])('%d psi at %d ft has %d °C, within 0.06', (psi, ft, celsius, fahrenheit) => {
    const steam = steamTemperature({ psi }, feet(ft))
    expect(Math.abs(steam - celsius)).toBeLessThan(0.06)
    expect(Math.abs(toFahrenheit(steam) - fahrenheit)).toBeLessThan(0.06)
    expect(steamTemperature({ kPa: psi * kPaPerPsi }, feet(ft))).toBeCloseTo(steam, 9)
  })

  test('10.5 psi at sea level is the 240 °F of Guide 1 p. 1-19, within 0.6 °F', () => {
    expect(Math.abs(toFahrenheit(steamTemperature({ psi: 10.5 }, 0)) - 240)).toBeLessThan(0.6)
  })

  test('without pressure is boiling water; less than none is refused', () => {
    expect(steamTemperature({ psi: 0 }, 800)).toBe(boilingPointAt(800))
    expect(() => steamTemperature({ psi: -1 }, 0)).toThrow(RangeError)
    expect(() => steamTemperature({ kPa: Number.NaN }, 0)).toThrow(RangeError)
  })
})

describe('boiling by altitude', () => {
  // Guide 1 p. 1-14 and the front matter, by the longer reading: 5,000 ft 15 minutes, 8,200 ft 18.
  test.each([
    [-1000, 10],
    [0, 10],
    [999, 10],
    [1000, 11],
    [1999.9, 11],
    [2000, 12],
    [5000, 15],
    [8200, 18],
    [10_000, 20],
  ])('%d ft takes %d minutes', (ft, minutes) => {
    expect(sterilisingBoil(feet(ft)).minutes).toBe(minutes)
    expect(boilBeforeTasting(feet(ft)).minutes).toBe(minutes)
  })

  test('is never shorter than the other reading, a minute for each thousand feet begun above the first', () => {
    for (let ft = 0; ft <= 20_000; ft += 125) {
      const other = 10 + Math.max(0, Math.ceil((ft - 1000) / 1000))
      expect(sterilisingBoil(feet(ft)).minutes).toBeGreaterThanOrEqual(other)
    }
  })

  test('before tasting permits nothing, and is refused where nobody said how high', () => {
    const boil = boilBeforeTasting(0)
    expect(boil.permits).toBe(false)
    expect(boil.says).toContain('thrown away')
    expect(boil.says).not.toMatch(/\bsafe\b/)
    expect(() => boilBeforeTasting(Number.NaN)).toThrow(RangeError)
  })
})
