import { describe, expect, test } from 'vitest'
import {
  freezerHeadspace,
  freezerLoadPerDay,
  freezingWay,
  freezingWays,
  frozenMonths,
  sugarPack,
  sugarPackRatios,
  trayPack,
} from '../../../src/core/practice/index.ts'
import { crops } from '../../../src/core/produce/index.ts'

const cubicFoot = 28.316846592
const pound = 453.59237
const quart = 946.352946

describe('headspace in the freezer', () => {
  // National Center, Headspace to allow between packed food and closure; inches.
  test.each([
    ['liquid', 'wide', 'pint', 0.5],
    ['liquid', 'wide', 'quart', 1],
    ['liquid', 'narrow', 'pint', 0.75],
    ['liquid', 'narrow', 'quart', 1.5],
    ['dry', 'wide', 'pint', 0.5],
    ['dry', 'wide', 'quart', 0.5],
    ['dry', 'narrow', 'pint', 0.5],
    ['dry', 'narrow', 'quart', 0.5],
    ['juice', 'wide', 'pint', 0.5],
    ['juice', 'wide', 'quart', 1],
    ['juice', 'narrow', 'pint', 1.5],
    ['juice', 'narrow', 'quart', 1.5],
  ] as const)('%s pack, %s top, %s: %d in', (pack, top, size, inches) => {
    expect(freezerHeadspace(pack, top, size)).toMatchObject({ inches, mm: inches * 25.4 })
  })
})

describe('a freezer', () => {
  // A maker's chart that quotes USDA: 15 cubic feet take 30 to 45 lb a day; 32 to 48 g a litre.
  test('of 15 cubic feet takes 30 to 45 lb a day', () => {
    const { grams, gramsPerLitre } = freezerLoadPerDay(15 * cubicFoot)
    expect(grams[0] / pound).toBeCloseTo(30, 9)
    expect(grams[1] / pound).toBeCloseTo(45, 9)
    expect(gramsPerLitre.map(Math.round)).toEqual([32, 48])
    expect(() => freezerLoadPerDay(0)).toThrow(RangeError)
  })

  test('holds pieces side by side for a few hours first (common practice, no source; two to six hours)', () => {
    expect(trayPack.hours[0]).toBeGreaterThanOrEqual(2)
    expect(trayPack.hours[1]).toBeLessThanOrEqual(6)
    expect(trayPack.source.confidence).not.toBe('seen')
    expect(freezerHeadspace('tray', 'wide', 'quart').inches).toBe(0)
  })

  test('keeps fruit 12 months and vegetables 8 to 12', () => {
    expect(frozenMonths.fruit.months).toEqual([12, 12])
    expect(frozenMonths.vegetable.months).toEqual([8, 12])
  })
})

describe('how a crop is frozen', () => {
  test('is listed by the keys of crops, each once', () => {
    const keys = freezingWays.map(({ crop }) => crop)
    expect(new Set(keys).size).toBe(keys.length)
    expect(keys.filter((key) => !crops.some((crop) => crop.key === key))).toEqual([])
  })

  // Extension list of blanching times, seen in a newspaper; minutes in boiling water.
  test.each([
    ['snap-bean', [3, 3]],
    ['carrot', [2, 5]],
    ['sweet-corn', [4, 4]],
    ['pea', [1.5, 1.5]],
    ['summer-squash', [3, 3]],
    ['asparagus', [2, 4]],
    ['spinach', [2, 2]],
    ['sweet-pepper', null],
    ['plum', null],
  ])('%s: %o minutes', (crop, minutes) => {
    expect(freezingWay(crop)?.blanchMinutes).toEqual(minutes)
  })

  test('is not made up for what is not listed', () => {
    expect(freezingWay('chokecherry')).toBeNull()
    expect(sugarPack('chokecherry', 1000)).toBeNull()
    expect(sugarPack('plum', 1000)).toBeNull()
  })

  // Home and Garden Bulletin 10 (memory): cups of sugar to the quart of fruit.
  test.each([
    ['apple', 100],
    ['blackberry', 150],
    ['cherry-sour', 150],
    ['peach', 400 / 3],
    ['raspberry', 150],
    ['strawberry', 150],
  ])('%s takes %d g of sugar to the quart', (crop, grams) => {
    expect(sugarPack(crop, quart)?.grams).toBeCloseTo(grams, 6)
    expect(() => sugarPack(crop, 0)).toThrow(RangeError)
  })

  test('in sugar lies between 8 to 1 and 3 to 1, fruit to sugar by weight', () => {
    // A quart of prepared fruit weighs 1 1/3 lb, of sliced apples 1 1/4 lb (Bulletin 10, memory).
    const [weakest, strongest] = sugarPackRatios.fruitToSugar
    for (const [crop, pounds] of [
      ['apple', 1.25],
      ['blackberry', 4 / 3],
      ['peach', 4 / 3],
    ] as const) {
      const ratio = (pounds * pound) / (sugarPack(crop, quart)?.grams ?? 0)
      expect(ratio).toBeLessThanOrEqual(weakest)
      expect(ratio).toBeGreaterThanOrEqual(strongest)
    }
  })
})
