import { describe, expect, test } from 'vitest'
import { crop } from '../../../src/core/produce/index.ts'
import type { Container } from '../../../src/core/units/index.ts'

// Figures typed from the documents named beside them, not from the tables under test. 1 lb = 0.45359237 kg.
const poundKg = 0.45359237

function known(key: string) {
  const found = crop(key)
  if (found === undefined) throw new Error(`no crop ${key}`)
  return found
}

describe('container weights are those that were published', () => {
  const guide = 'USDA Complete Guide to Home Canning, AIB 539, rev. 2015'
  const georgia = 'University of Georgia, Weights and Approximate Processed Yields for Fruits'
  const rows: [string, Container, number, string][] = [
    ['apple', 'bushel', 48, `${guide}, Guide 2 p. 2-7`],
    ['peach', 'bushel', 48, `${guide}, Guide 2 p. 2-19`],
    ['pear', 'bushel', 50, `${guide}, Guide 2 p. 2-19`],
    ['plum', 'bushel', 56, `${guide}, Guide 2 p. 2-21`],
    ['damson', 'bushel', 56, `${guide}, Guide 2 p. 2-21, plums`],
    ['tomato', 'bushel', 53, `${guide}, Guide 3 p. 3-5`],
    ['snap-bean', 'bushel', 30, `${guide}, Guide 4 p. 4-8`],
    ['beet', 'bushel', 52, `${guide}, Guide 4 p. 4-9`],
    ['carrot', 'bushel', 50, `${guide}, Guide 4 p. 4-10`],
    ['sweet-corn', 'bushel', 35, `${guide}, Guide 4 p. 4-11`],
    ['pea', 'bushel', 30, `${guide}, Guide 4 p. 4-14`],
    ['sweet-pepper', 'bushel', 25, `${guide}, Guide 4 p. 4-15`],
    ['spinach', 'bushel', 18, `${guide}, Guide 4 p. 4-19`],
    ['cucumber', 'bushel', 48, `${guide}, Guide 6 p. 6-5`],
    ['cherry-sour', 'lug', 25, `${guide}, Guide 2 p. 2-12`],
    ['grape', 'lug', 26, `${guide}, Guide 2 p. 2-16`],
    ['blackberry', 'crate', 36, `${guide}, Guide 2 p. 2-10, 24-quart crate`],
    ['strawberry', 'crate', 36, `${georgia}, 24-quart crate`],
    // Ranges count with their middle.
    ['grape', 'bushel', (44 + 50) / 2, `${georgia}, with stems, 44 to 50`],
    ['peach', 'lug', (19 + 22) / 2, `${georgia}, 19 to 22`],
    ['pear', 'lug', (21 + 24) / 2, `${georgia}, 21 to 24`],
    ['blueberry', 'quart', (1.5 + 2) / 2, `${georgia}, 1.5 to 2`],
  ]
  test.each(rows)('%s, %s: %d lb (%s)', (key, container, pounds) => {
    const row = known(key).containers.find((one) => one.container === container)
    expect(row?.grams).toBe(Math.round(pounds * poundKg * 1000))
    expect(row?.source.confidence).toBe('seen')
  })
})

describe('medium pieces in a pound', () => {
  // Michigan State University 01600351 (apple); a newspaper's produce weights and measures list (others).
  const rows: [string, number][] = [
    ['apple', 3],
    ['peach', 4],
    ['pear', 3.5],
    ['tomato', 3.5],
    ['onion', 3.5],
    ['carrot', 5.5],
    ['beet', 5],
    ['potato', 3],
    ['cucumber', 2],
  ]
  test.each(rows)('%s: %d', (key, pieces) => {
    expect((known(key).pieces?.perKg.medium ?? 0) * poundKg).toBeCloseTo(pieces, 9)
  })
})

describe('pH and acidity', () => {
  // FDA, Approximate pH of Foods; Clemson copy; compiled list of 2012; AHEA Handbook of Food Preparation, 9th ed. 1993.
  const rows: [string, number, number, 'acid' | 'borderline' | 'low-acid', string][] = [
    ['apple', 3.3, 4, 'acid', 'FDA'],
    ['apricot', 3.3, 4.8, 'borderline', 'FDA'],
    ['blackberry', 3.85, 4.5, 'acid', 'Clemson'],
    ['blueberry', 3.12, 3.33, 'acid', 'Clemson'],
    ['fig', 5.05, 5.98, 'low-acid', 'Clemson, Calimyrna'],
    ['asparagus', 6, 6.7, 'low-acid', 'Clemson'],
    ['beet', 5.3, 6.6, 'low-acid', 'Clemson'],
    ['cabbage', 5.2, 6.8, 'low-acid', 'Clemson'],
    ['carrot', 5.88, 6.4, 'low-acid', 'Clemson'],
    ['sweet-corn', 5.9, 7.5, 'low-acid', 'Clemson'],
    ['cucumber', 5.12, 5.78, 'low-acid', 'Clemson'],
    ['pumpkin', 4.99, 5.5, 'low-acid', 'Clemson'],
    ['gooseberry', 2.8, 3.1, 'acid', 'compiled'],
    ['plum', 2.8, 4.5, 'acid', 'compiled'],
    ['raspberry', 3.22, 3.95, 'acid', 'compiled'],
    ['tomato', 4.3, 4.9, 'borderline', 'compiled'],
    ['onion', 5.3, 5.85, 'low-acid', 'compiled'],
    ['pea', 6.2, 6.2, 'low-acid', 'AHEA'],
    ['spinach', 5.5, 5.5, 'low-acid', 'AHEA'],
    // University of Maine, June 2020: elderberries can be low-acid, whatever the older pH says.
    ['elderberry', 3.6, 3.8, 'borderline', 'compiled, withdrawn by Maine'],
  ]
  test.each(rows)('%s: %d to %d, %s (%s)', (key, low, high, acidity) => {
    expect(known(key).ph).toMatchObject({ low, high })
    expect(known(key).acidity).toBe(acidity)
  })
})

describe('storage lives', () => {
  const rows: [string, 'cold-store' | 'household', number, number, number, string][] = [
    ['apple', 'cold-store', -1.1, 90, 180, 'UC Davis list'],
    ['apricot', 'cold-store', -0.25, 7, 21, 'UC Davis list, -0.5 to 0'],
    ['blackberry', 'cold-store', -0.25, 3, 6, 'ASHRAE, -0.5 to 0'],
    ['raspberry', 'cold-store', -0.25, 2, 5, 'Ontario, -0.5 to 0'],
    ['strawberry', 'cold-store', 0, 5, 7, 'Handbook 66, 1986'],
    ['cherry-sour', 'cold-store', 0, 3, 7, 'Handbook 66, 1986'],
    ['plum', 'cold-store', -0.5, 14, 28, 'tables from Handbook 66, 2002, -1 to 0'],
    ['spinach', 'cold-store', 0, 7, 14, 'Handbook 66, 1954'],
    ['sweet-corn', 'cold-store', 0, 4, 7, 'Handbook 66, 1954'],
    ['cucumber', 'cold-store', 10, 7, 14, 'New England guide, Table 16'],
    ['tomato', 'household', 10, 7, 14, 'Handbook 66, 1954, ripe, 45 to 55 F'],
    ['apple', 'household', 4, 28, 42, 'FoodKeeper 248, refrigerator'],
    ['apple', 'household', 20, 21, 21, 'FoodKeeper 248, pantry'],
    ['damson', 'household', 4, 3, 5, 'FoodKeeper 266, refrigerator'],
    ['grape', 'household', 20, 1, 1, 'FoodKeeper 261, pantry'],
    ['winter-squash', 'household', 20, 14, 42, 'FoodKeeper 303, pantry'],
  ]
  test.each(rows)('%s, %s at %d: %d to %d days (%s)', (key, basis, tempC, low, high) => {
    expect(known(key).storageLives).toContainEqual(expect.objectContaining({ basis, tempC, days: [low, high] }))
  })
})

describe('edible portions', () => {
  // Yield Percents, Open Washington (apple to summer squash); Food Buying Guide (the others, from memory).
  const rows: [string, number][] = [
    ['apple', 0.76],
    ['asparagus', 0.56],
    ['snap-bean', 0.88],
    ['beet', 0.76],
    ['blackberry', 0.92],
    ['cabbage', 0.79],
    ['carrot', 0.82],
    ['pear', 0.78],
    ['strawberry', 0.87],
    ['summer-squash', 0.95],
    ['plum', 0.94],
    ['tomato', 0.91],
    ['sweet-corn', 0.33],
    ['quince', 0.61],
  ]
  test.each(rows)('%s: %d', (key, portion) => {
    expect(known(key).trim.edible).toBe(portion)
    expect(known(key).trim.share).toBeCloseTo(1 - portion, 12)
  })
})
