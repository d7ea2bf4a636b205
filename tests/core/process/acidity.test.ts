import { describe, expect, test } from 'vitest'
import {
  acidityOf,
  acidNeeded,
  acidNeededFor,
  classOfPh,
  foodAcidity,
  phLine,
  pieFillingLemon,
} from '../../../src/core/process/acidity.ts'
import { crops } from '../../../src/core/produce/index.ts'

describe('the list of pH ranges', () => {
  test('has at least 80 foods, each once, each with a range and a source', () => {
    expect(foodAcidity.length).toBeGreaterThanOrEqual(80)
    expect(new Set(foodAcidity.map(({ food }) => food)).size).toBe(foodAcidity.length)
    for (const { food, ph, source } of foodAcidity) {
      expect(ph.low, food).toBeGreaterThanOrEqual(2)
      expect(ph.high, food).toBeGreaterThanOrEqual(ph.low)
      expect(ph.high, food).toBeLessThanOrEqual(7.5)
      expect(source.confidence, food).not.toBe('practice')
    }
  })

  test('is classed by the 4.6 line; a warning only makes it stricter', () => {
    const stricter = foodAcidity.filter(({ class: acidity, ph }) => acidity !== classOfPh(ph.low, ph.high))
    expect(stricter.map(({ food, class: acidity }) => [food, acidity])).toEqual([['elderberry', 'borderline']])
  })

  // FDA, Approximate pH of Foods and Food Products, and lists drawn from it; Idaho's copy of the AHEA handbook.
  test.each([
    ['apple, Jonathan', 3.33, 3.33],
    ['apricot', 3.3, 4.8],
    ['beans, string (green)', 5.6, 5.6],
    ['tomato', 4.3, 4.9],
    ['pear, Bartlett', 3.5, 4.6],
    ['fig, Calimyrna', 5.05, 5.98],
    ['sauerkraut', 3.6, 3.6],
    ['lemon juice', 2, 2.6],
    ['pumpkin', 4.99, 5.5],
  ])('%s has %d to %d', (food, low, high) => {
    expect(foodAcidity.find((one) => one.food === food)?.ph).toEqual({ low, high })
  })
})

describe('the line', () => {
  test('belongs to the acid side', () => {
    expect(phLine).toBe(4.6)
    expect(classOfPh(3.5, 4.6)).toBe('acid')
    expect(classOfPh(4.61, 4.7)).toBe('low-acid')
    expect(classOfPh(4.6, 4.61)).toBe('borderline')
  })

  test.each([
    [5, 4],
    [-1, 4],
    [3, 15],
    [Number.NaN, 4],
  ])('no range: %d to %d', (low, high) => {
    expect(() => classOfPh(low, high)).toThrow(RangeError)
  })
})

describe('a food found by name', () => {
  test.each([
    ['Tomatoes', 'borderline'],
    ['tomato', 'borderline'],
    ['damsons', 'acid'],
    ['cherries', 'acid'],
    ['sour cherries', 'acid'],
    ['peaches', 'acid'],
    ['figs', 'low-acid'],
    ['Asian pears', 'low-acid'],
    ['green beans', 'low-acid'],
    ['snap-bean', 'low-acid'],
    ['elderberries', 'borderline'],
    ['melon', 'low-acid'],
    ['mango', 'low-acid'],
    ['asparagus', 'low-acid'],
    ['zucchini', 'low-acid'],
  ])('%s is %s', (name, acidity) => {
    expect(acidityOf(name)?.class).toBe(acidity)
  })

  test('by a whole family has all its members, the widest range and the strictest class', () => {
    const apples = acidityOf('apples')
    expect(apples?.foods).toHaveLength(6)
    expect(apples?.ph).toEqual({ low: 3.3, high: 4 })
    const mango = acidityOf('mango')
    expect(mango?.ph).toEqual({ low: 3.4, high: 6 })
    expect(acidityOf('mango, green')?.class).toBe('borderline')
  })

  test('that is not listed is not guessed', () => {
    for (const name of ['', 'pear tree', 'chokecherry', 'app']) expect(acidityOf(name)).toBeNull()
  })

  test('does not contradict what is said of a crop that is listed in both places', () => {
    const both = crops.flatMap((crop) => {
      const listed = acidityOf(crop.singular)
      return listed === null ? [] : [{ key: crop.key, crop: crop.acidity, listed: listed.class }]
    })
    expect(both.length).toBeGreaterThan(20)
    expect(both.filter((one) => one.crop === 'acid' && one.listed === 'low-acid')).toEqual([])
    expect(both.filter((one) => one.crop === 'low-acid' && one.listed === 'acid')).toEqual([])
  })
})

describe('acid in the jar', () => {
  // Guide 3 p. 3-5, Guide 2 p. 2-14 and 2-20
  test('is needed by tomatoes, figs and Asian pears', () => {
    expect(acidNeeded.map(({ food }) => food)).toEqual(['tomato', 'fig', 'Asian pear'])
    const quarts = acidNeededFor('tomatoes')?.choices.map(({ acid, perQuart }) => [acid, 7 * perQuart])
    expect(quarts).toEqual([
      ['bottled-lemon-juice', 14],
      ['citric-acid', 3.5],
      ['vinegar-5', 28],
    ])
    expect(acidNeededFor('Figs')?.choices.map(({ acid }) => acid)).toEqual(['bottled-lemon-juice', 'citric-acid'])
    expect(acidNeededFor('asian pears')?.choices.map(({ acid, perPint }) => [acid, perPint])).toEqual([
      ['bottled-lemon-juice', 1],
    ])
    expect(acidNeededFor('plums')).toBeNull()
  })

  test('is asked of no crop that is plainly acid, and all of them are listed', () => {
    for (const { food } of acidNeeded) expect(['borderline', 'low-acid']).toContain(acidityOf(food)?.class)
  })

  // Guide 2 p. 2-26 to 2-30: 3/4, 1/2 and 1 3/4 cups for seven quarts; 16 tablespoons to the cup.
  test('of the pie fillings is as printed for seven quarts, not seven times one', () => {
    expect(pieFillingLemon.map(({ fruit, perSevenQuarts }) => [fruit, perSevenQuarts / 16])).toEqual([
      ['apple', 0.75],
      ['blueberry', 0.5],
      ['peach', 1.75],
    ])
    expect(pieFillingLemon.find(({ fruit }) => fruit === 'blueberry')?.perQuart).toBe(3)
  })
})
