import { describe, expect, test } from 'vitest'
import {
  jamWithoutPectin,
  jellyFor,
  juiceCupsPerLb,
  juiceToJelly,
  passedOn,
  pectinNotes,
  piecesToGrams,
  sauceLbPerSevenQuarts,
  spreadVolume,
  sugarIsNotCut,
} from '../../../src/core/practice/index.ts'
import { crops } from '../../../src/core/produce/index.ts'

const cup = 236.5882365
const pint = 473.176473
const pound = 453.59237

describe('jelly without added pectin', () => {
  // Guide 7 p. 7-5: cups of sugar to the cup of juice, tsp of lemon juice, half-pints from four cups.
  test.each([
    ['apple', 0.75, 0.75, 1.5, 4, 5],
    ['blackberry', 0.75, 1, 0, 7, 8],
    ['grape', 0.75, 1, 0, 8, 9],
    ['plum', 0.75, 0.75, 0, 8, 9],
  ])('%s is as printed', (crop, low, high, lemon, fewest, most) => {
    const jelly = jellyFor(crop, 4 * cup)
    expect(jelly?.gramsSugar[0]).toBeCloseTo(4 * low * 200, 6)
    expect(jelly?.gramsSugar[1]).toBeCloseTo(4 * high * 200, 6)
    expect(jelly?.mlLemon).toBeCloseTo(4 * lemon * 4.929, 2)
    expect(jelly?.halfPints[0]).toBeCloseTo(fewest, 6)
    expect(jelly?.halfPints[1]).toBeCloseTo(most, 6)
  })

  test('is not made up for other fruit, and needs juice', () => {
    expect(jellyFor('pear', 1000)).toBeNull()
    expect(() => jellyFor('apple', 0)).toThrow(RangeError)
    expect(juiceToJelly.every(({ simmerMinutes }) => simmerMinutes[0] < simmerMinutes[1])).toBe(true)
  })
})

describe('jam without added pectin', () => {
  // Guide 7 p. 7-6
  test('is as printed for berries and peaches', () => {
    expect(jamWithoutPectin).toMatchObject([
      { fruit: 'berries', cupsCrushed: [4, 4], cupsSugar: [4, 4], lemonTbsp: 0, halfPints: [3, 4] },
      { fruit: 'peaches', cupsCrushed: [5.5, 6], cupsSugar: [4, 5], lemonTbsp: 2, halfPints: [6, 7] },
    ])
  })

  test('comes to about the printed half-pints by the sugar that is in it, within a fifth', () => {
    // A cup of crushed berries weighs about 230 g with 5 % sugar, of crushed peaches 230 g with 8 % (memory).
    for (const [fruitCups, sugarCups, sugarInFruit, halfPints] of [
      [4, 4, 0.05, 4],
      [5.75, 4.5, 0.08, 6],
    ] as const) {
      const ml = spreadVolume({ fruitGrams: fruitCups * 230, sugarInFruit, sugarGrams: sugarCups * 200 })
      expect(Math.abs(ml / cup / halfPints - 1)).toBeLessThan(0.2)
    }
  })

  test('keeps its sugar, and says why', () => {
    expect(sugarIsNotCut.says).toMatch(/set.*mould/)
    expect(() => spreadVolume({ fruitGrams: 100, sugarInFruit: 0.1, sugarGrams: 900 })).toThrow(RangeError)
    expect(() => spreadVolume({ fruitGrams: 0, sugarInFruit: 0.1, sugarGrams: 900 })).toThrow(RangeError)
  })

  test('has each crop in one class of pectin, by its key', () => {
    const named = Object.values(pectinNotes).flatMap((note) => note.crops)
    expect(new Set(named).size).toBe(named.length)
    expect(named.filter((key) => !crops.some((crop) => crop.key === key))).toEqual([])
  })
})

describe('amounts that cooks pass on', () => {
  test('16 lb of fruit, 8 cups of sugar and a cup of lemon juice make about seven pints (common practice, no source; within 15 %)', () => {
    const { lbFruit, cupsSugar, pints } = passedOn.fruitButter
    // Whole plums with a tenth of sugar, or pears of which 78 % are used with an eighth of it (memory).
    for (const [used, sugarInFruit] of [
      [1, 0.1],
      [0.78, 0.12],
    ] as const) {
      const ml = spreadVolume({ fruitGrams: lbFruit * pound * used, sugarInFruit, sugarGrams: cupsSugar * 200 })
      expect(Math.abs(ml / pint / pints - 1)).toBeLessThan(0.15)
    }
  })

  test('36 medium pears make seven quarts of pie filling at three to the pound (common practice, no source; within 5 %), a quarter too few at four', () => {
    const { mediumPears, quarts } = passedOn.pearPieFilling
    // Pie fillings hold six quarts of sliced fruit in seven (Guide 2 p. 2-26, memory); 0.4 lb of sliced pears a cup
    // (Georgia), 78 % of a pear used (yield-percent chart).
    const needed = (((quarts * 6) / 7) * 4 * 0.4) / 0.78
    expect(Math.abs(piecesToGrams(mediumPears, 3) / pound / needed - 1)).toBeLessThan(0.05)
    expect(piecesToGrams(mediumPears, 4) / pound / needed).toBeCloseTo(0.73, 2)
    expect(() => piecesToGrams(0, 3)).toThrow(RangeError)
  })

  test('42 lb for seven quarts of sauce is twice the handbook, and the handbook counts (common practice, no source; the difference is exactly 21 lb)', () => {
    // Guide 2 p. 2-7: 21 lb of apples for seven quarts of sauce; 14 to 19 quarts from 48 lb, at most 24 lb for seven.
    expect(sauceLbPerSevenQuarts).toMatchObject({ lb: 21, source: { document: 'usda-2015', confidence: 'seen' } })
    expect(passedOn.sauce.lbFruit - sauceLbPerSevenQuarts.lb).toBe(21)
    expect(passedOn.sauce.lbFruit).toBeGreaterThan((48 / 14) * 7)
    expect(passedOn.sauce.source.confidence).toBe('practice')
  })

  test("a day's scraps give about a gallon of juice, from three canner loads of sauce (common practice, no source; within 10 %)", () => {
    // Three loads of 21 lb of apples; 24 % peels and cores (yield-percent chart); a cup of juice a pound (Guide 7 p. 7-5).
    const scrapsLb = 3 * sauceLbPerSevenQuarts.lb * (1 - 0.76)
    const gallons = (scrapsLb * juiceCupsPerLb.atLeast) / 16
    expect(Math.abs(gallons / passedOn.scraps.gallonsJuicePerDay - 1)).toBeLessThan(0.1)
  })
})
