import { describe, expect, test } from 'vitest'
import {
  afterDrying,
  driedGrams,
  driedMonths,
  driedVegetableLives,
  dryingTempC,
  dryingWays,
  dryingWaysFor,
  finalMoisture,
  hotOvenSlices,
  ovenFitness,
  ovenHours,
} from '../../../src/core/practice/index.ts'
import { saturationPressure } from '../../../src/core/process/atmosphere.ts'

const pound = 453.59237

describe('hours of drying', () => {
  // Georgia, Drying fruits at home, and the vegetable table of North Dakota and So Easy to Preserve (140 °F) first; then
  // two makers' at 135 °F.
  test.each([
    ['apple', '6-12 4-9 18-24'],
    ['banana', '8-10 7-12'],
    ['cherry-sour', '24-36 15-23'],
    ['peach', '36-48 6-10 36-48'],
    ['plum', '24-36 8-15'],
    ['damson', '24-36'],
    ['asparagus', '4-6 6-8'],
    ['snap-bean', '8-14 6-11'],
    ['beet', '10-12 4-7'],
    ['carrot', '10-12 4-10'],
    ['onion', '3-9 3-7'],
    ['sweet-pepper', '8-12 5-10'],
    ['tomato', '10-18 6-11'],
    ['chokecherry', ''],
  ])('%s: %s', (crop, hours) => {
    const printed = dryingWaysFor(crop).map((way) => way.hours.join('-'))
    expect(printed.join(' ')).toBe(hours)
  })

  test('come from a handbook before they come from a maker', () => {
    for (const { crops } of dryingWays) {
      const documents = dryingWaysFor(crops[0] ?? '').map(({ source }) => source.document)
      const makers = documents.indexOf('dryer-maker')
      if (documents.some((document) => document !== 'dryer-maker')) expect(makers).not.toBe(0)
    }
  })

  test('run at 57 to 60 °C in every line', () => {
    for (const { tempC, hours, cut } of dryingWays) {
      expect(tempC, cut).toBeGreaterThanOrEqual(dryingTempC.low)
      expect(tempC, cut).toBeLessThanOrEqual(dryingTempC.high)
      expect(hours[1], cut).toBeGreaterThan(hours[0])
    }
  })

  test('in an oven are two to three times as many: the printed 18 to 24 for apples lie within', () => {
    const [low, high] = ovenHours([6, 12])
    expect([low, high]).toEqual([12, 36])
    const oven = dryingWaysFor('apple').find(({ dryer }) => dryer === 'oven')
    expect(oven?.hours[0]).toBeGreaterThanOrEqual(low)
    expect(oven?.hours[1]).toBeLessThanOrEqual(high)
    expect(() => ovenHours([0, 3])).toThrow(RangeError)
  })

  test('two for thin slices in an oven at 170 °F is no printed time (common practice, no source; within 35 % of what the heat alone explains)', () => {
    const printed = dryingWaysFor('apple').map(({ hours }) => hours[0])
    expect(hotOvenSlices.hours).toBeLessThan(Math.min(...printed))
    expect(hotOvenSlices.tempC).toBeGreaterThan(dryingTempC.high + 10)
    expect(hotOvenSlices.source.confidence).toBe('practice')
    // Water leaves about as fast as its vapour pressure drives it: 6 handbook hours at 60 °C are some 2.9 at 77 °C.
    const asHot = 6 * (saturationPressure(60) / saturationPressure(hotOvenSlices.tempC))
    expect(Math.abs(hotOvenSlices.hours / asHot - 1)).toBeLessThan(0.35)
  })
})

describe('an oven', () => {
  // North Dakota: an oven fits if it holds 140 to 145 °F with the door open.
  test.each([
    [60, 63, 'good'],
    [61, 62, 'good'],
    [50, 62, 'second-best'],
    [60, 77, 'second-best'],
    [77, 77, 'second-best'],
  ])('that shows %d to %d °C is %s', (low, high, fit) => {
    expect(ovenFitness(low, high).fit).toBe(fit)
  })

  test('is told what is wrong with it', () => {
    expect(ovenFitness(40, 55).says).toContain('too cool')
    expect(ovenFitness(75, 90).says).toContain('too hot')
    expect(() => ovenFitness(70, 60)).toThrow(RangeError)
    expect(() => ovenFitness(Number.NaN, 60)).toThrow(RangeError)
  })
})

describe('what is left', () => {
  test('of 10 lb of apple slices with 85 % water is 1.875 lb at 20 %', () => {
    expect(driedGrams(10 * pound, 0.85, finalMoisture.fruit.share) / pound).toBeCloseTo(1.875, 9)
  })

  // Georgia: apples hold 84 to 86 % water; 10 lb prepared leave about 1.75 to 2 lb.
  test('has all that was not water', () => {
    for (const before of [0.84, 0.85, 0.86, 0.95]) {
      for (const after of [0.05, 0.1, 0.2]) {
        expect(driedGrams(1000, before, after) * (1 - after)).toBeCloseTo(1000 * (1 - before), 9)
      }
    }
    expect(driedGrams(1000, 0.5, 0.5)).toBe(1000)
  })

  test.each([
    [0, 0.85, 0.2],
    [1000, 1, 0.2],
    [1000, 0.1, 0.2],
    [1000, 1.2, 0.2],
    [1000, 0.85, Number.NaN],
  ])('is refused for %d g from %d to %d', (grams, before, after) => {
    expect(() => driedGrams(grams, before, after)).toThrow(RangeError)
  })

  // Farm and Garden Rule-Book, 1911: a bushel of apples gives 6 to 7.5 lb evaporated. 48 lb, 76 % edible, 85 % water, 20 % left.
  test('of a bushel of apples is near the 6 to 7.5 lb of an old farm book, within 0.1 lb', () => {
    const dried = driedGrams(48 * 0.76 * pound, 0.85, 0.2) / pound
    expect(dried).toBeGreaterThan(6 - 0.1)
    expect(dried).toBeLessThan(7.5 + 0.1)
  })
})

describe('keeping what is dry', () => {
  test("vegetables keep half as long as fruit, and the longest life of one is the handbook's year", () => {
    for (const place of ['at16C', 'at27C'] as const)
      expect(driedMonths.vegetable[place] * 2).toBe(driedMonths.fruit[place])
    for (const { crop, at16C, at21C } of driedVegetableLives) {
      expect(at16C[1], crop).toBeLessThanOrEqual(12)
      expect(at21C[1], crop).toBeLessThan(at16C[1])
      expect(at21C[0], crop).toBeLessThanOrEqual(at21C[1])
    }
  })

  // Colorado 9.308, months at 70 and 60 °F
  test.each([
    ['tomato', [2, 3], [3, 4]],
    ['sweet-pepper', [6, 8], [8, 12]],
    ['summer-squash', [0, 1], [1, 2]],
  ])('%s is as printed', (crop, at21C, at16C) => {
    expect(driedVegetableLives.find((one) => one.crop === crop)).toMatchObject({ at21C, at16C })
  })

  test('are blanched in the same chart as printed: beans 3 to 4 minutes in water or 4 to 6 in steam', () => {
    expect(driedVegetableLives.find(({ crop }) => crop === 'snap-bean')).toMatchObject({
      waterMinutes: [3, 4],
      steamMinutes: [4, 6],
    })
    expect(driedVegetableLives.find(({ crop }) => crop === 'onion')).toMatchObject({
      waterMinutes: null,
      steamMinutes: null,
    })
  })

  test('insects are killed at the hotter of two printed temperatures: 160 °F, not 150, for half an hour', () => {
    expect(Math.abs((afterDrying.pasteurise.oven.tempC * 9) / 5 + 32 - 160)).toBeLessThan(1)
    expect(afterDrying.pasteurise.oven.minutes).toBe(30)
    expect(afterDrying.pasteurise.freezer.hours).toBe(48)
  })
})
