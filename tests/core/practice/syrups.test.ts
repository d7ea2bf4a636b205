import { describe, expect, test } from 'vitest'
import {
  canningSyrup,
  canningSyrupNames,
  canningSyrups,
  freezingSyrup,
  freezingSyrupNames,
  freezingSyrups,
  syrupStrength,
  withHoney,
} from '../../../src/core/practice/index.ts'

describe('canning syrup', () => {
  // Guide 2 p. 2-5: cups of water and sugar for 9 pints and for 7 quarts; grams at 200 g a cup; percent by weight as others worked
  // it out, with a slightly lighter cup of water: within 0.1.
  test.each([
    ['very light', 6.5, 0.75, 8.9, 10.5, 1.25, 9.2],
    ['light', 5.75, 1.5, 18.1, 9, 2.25, 17.5],
    ['medium', 5.25, 2.25, 26.6, 8.25, 3.75, 27.8],
    ['heavy', 5, 3.25, 35.5, 7.75, 5.25, 36.5],
  ] as const)('%s is as printed for both loads', (name, water9, sugar9, percent9, water7, sugar7, percent7) => {
    const pints = canningSyrup(name, 'pint', 9)
    expect(pints).toMatchObject({ cupsWater: water9, cupsSugar: sugar9, gramsSugar: sugar9 * 200 })
    expect(pints.mlWater).toBeCloseTo(water9 * 236.588, 1)
    expect(Math.abs(pints.strength * 100 - percent9)).toBeLessThan(0.1)
    const quarts = canningSyrup(name, 'quart', 7)
    expect(quarts).toMatchObject({ cupsWater: water7, cupsSugar: sugar7, gramsSugar: sugar7 * 200 })
    expect(Math.abs(quarts.strength * 100 - percent7)).toBeLessThan(0.1)
  })

  test('is within 5 points of the strength that is printed for it, always weaker', () => {
    for (const name of canningSyrupNames) {
      for (const jar of ['pint', 'quart'] as const) {
        const strength = canningSyrup(name, jar, 9).strength * 100
        expect(canningSyrups[name].percent - strength).toBeGreaterThan(0)
        expect(canningSyrups[name].percent - strength).toBeLessThan(5)
      }
    }
  })

  test('grows with the load, and four quarts take the nine-pint amount as printed', () => {
    expect(canningSyrup('medium', 'quart', 14).cupsSugar).toBe(7.5)
    expect(canningSyrup('medium', 'pint', 3).gramsSugar).toBeCloseTo(150, 9)
    expect(canningSyrup('medium', 'half-pint', 18)).toEqual(canningSyrup('medium', 'pint', 9))
    expect(canningSyrup('medium', 'quart', 4)).toEqual(canningSyrup('medium', 'pint', 9))
    expect(canningSyrup('medium', '12-ounce', 12)).toEqual(canningSyrup('medium', 'pint', 9))
    expect(canningSyrup('medium', '1.5-pint', 28).cupsSugar).toBeCloseTo(11.25, 9)
    expect(() => canningSyrup('medium', 'quart', 0)).toThrow(RangeError)
    expect(() => canningSyrup('medium', 'quart', Number.NaN)).toThrow(RangeError)
  })

  test('of six cups of water to one of sugar or honey lies between very light and light (common practice, no source; tolerance 0)', () => {
    const mlWater = 6 * 236.588
    const veryLight = canningSyrup('very light', 'quart', 7).strength
    const light = canningSyrup('light', 'quart', 7).strength
    for (const strength of [syrupStrength({ mlWater, gramsSugar: 200 }), syrupStrength({ mlWater, gramsHoney: 339 })]) {
      expect(strength).toBeGreaterThan(Math.max(veryLight, 0.1))
      expect(strength).toBeLessThan(Math.min(light, 0.2))
    }
    expect(syrupStrength({ mlWater, gramsSugar: 200 })).toBeCloseTo(0.1235, 3)
    expect(syrupStrength({ mlWater, gramsHoney: 339 })).toBeCloseTo(0.158, 3)
  })
})

describe('freezing syrup', () => {
  // National Center, Syrups for use in freezing fruits: sugar to 4 cups of water, cups made.
  test.each([
    ['very light', 0.5, 4.5, 10],
    ['light', 1, 4.75, 20],
    ['medium', 1.75, 5, 30],
    ['very heavy', 4, 6, 50],
  ] as const)('%s is as printed: %d cups of sugar make %d', (name, cupsSugar, makesCups, percent) => {
    expect(freezingSyrups[name]).toEqual({ cupsWater: 4, cupsSugar, makesCups, percent })
  })

  test('makes what it is printed to make, within a quarter of a cup: sugar fills three fifths of its cup once dissolved', () => {
    for (const name of freezingSyrupNames) {
      const { cupsWater, cupsSugar, makesCups } = freezingSyrups[name]
      // 200 g of sugar take 0.62 ml a gram in solution (density of sugar, 1.6 g/ml).
      const filled = cupsWater + (cupsSugar * 200 * 0.62) / 236.588
      expect(Math.abs(filled - makesCups)).toBeLessThanOrEqual(0.25)
    }
  })

  test('is enough for two thirds of a cup a pint', () => {
    const { cupsWater, cupsSugar } = freezingSyrup('light', 4.75 / (2 / 3))
    expect(cupsWater).toBeCloseTo(4, 9)
    expect(cupsSugar).toBeCloseTo(1, 9)
    expect(() => freezingSyrup('light', -1)).toThrow(RangeError)
  })
})

describe('honey or corn syrup', () => {
  // Guide 2 p. 2-5: up to half in canning; National Center: up to a quarter in freezing.
  test('takes the place of up to half the sugar in canning, a quarter in freezing', () => {
    expect(withHoney(3.75, 0.5, 'canning')).toMatchObject({ cupsSugar: 1.875, cupsHoney: 1.875, gramsSugar: 375 })
    expect(withHoney(4, 0.25, 'freezing')).toMatchObject({ cupsSugar: 3, cupsHoney: 1 })
    expect(() => withHoney(4, 0.51, 'canning')).toThrow(RangeError)
    expect(() => withHoney(4, 0.26, 'freezing')).toThrow(RangeError)
    expect(() => withHoney(4, -0.1, 'canning')).toThrow(RangeError)
    expect(() => withHoney(0, 0.1, 'canning')).toThrow(RangeError)
  })

  test('a strength needs water and nothing below nothing', () => {
    expect(() => syrupStrength({ mlWater: 0, gramsSugar: 1 })).toThrow(RangeError)
    expect(() => syrupStrength({ mlWater: 100, gramsSugar: -1 })).toThrow(RangeError)
    expect(syrupStrength({ mlWater: 100 })).toBe(0)
  })
})
