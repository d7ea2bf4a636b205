import { describe, expect, test } from 'vitest'
import { processSources } from '../../../src/core/process/index.ts'
import { boilingWaterTomatoes } from '../../../src/core/process/tables/boiling-water-tomatoes.ts'
import { expectAsPrinted, expectSensible, type PrintedRow, rowsFor } from './printed-rows.ts'

const guide = 'usda-2015'

// USDA Complete Guide to Home Canning, 2015, Guide 3, "Recommended process time in a boiling-water canner"
const printed: readonly PrintedRow[] = [
  ['tomato juice', 'juice', 'hot', 'pints', '35 40 45 50', 0.5, guide, '3-6'],
  ['tomato juice', 'juice', 'hot', 'quarts', '40 45 50 55', 0.5, guide, '3-6'],
  ['tomatoes, crushed', 'no added liquid', 'hot', 'pints', '35 40 45 50', 0.5, guide, '3-7'],
  ['tomatoes, crushed', 'no added liquid', 'hot', 'quarts', '45 50 55 60', 0.5, guide, '3-7'],
  ['tomato sauce, standard', 'thin or thick', 'hot', 'pints', '35 40 45 50', 0.25, guide, '3-8'],
  ['tomato sauce, standard', 'thin or thick', 'hot', 'quarts', '40 45 50 55', 0.25, guide, '3-8'],
  ['tomatoes, whole or halved', 'packed in water', 'hot', 'pints', '40 45 50 55', 0.5, guide, '3-9'],
  ['tomatoes, whole or halved', 'packed in water', 'raw', 'pints', '40 45 50 55', 0.5, guide, '3-9'],
  ['tomatoes, whole or halved', 'packed in water', 'hot', 'quarts', '45 50 55 60', 0.5, guide, '3-9'],
  ['tomatoes, whole or halved', 'packed in water', 'raw', 'quarts', '45 50 55 60', 0.5, guide, '3-9'],
  ['tomatoes, whole or halved', 'raw, no added liquid', 'raw', 'pints or quarts', '85 90 95 100', 0.5, guide, '3-11'],
  ['easy hot sauce', 'sauce', 'hot', 'half-pints', '10 15 20', 0.25, guide, '3-16'],
  ['tomato ketchup', 'ketchup', 'hot', 'pints', '15 20 25', 0.125, guide, '3-17'],
  ['chile salsa', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-21'],
  ['tomato salsa (paste tomatoes)', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-23'],
  ['tomato salsa (slicing tomatoes)', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-24'],
  ['tomato/tomato paste salsa', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-25'],
]

// The same guide as read in copies: the 2015 text (blend, juice pack, tomatillos, cayenne sauce, tomatillo salsa), the
// tables of 1994 (two ketchups)
const printedInCopies: readonly PrintedRow[] = [
  ['tomato and vegetable juice blend', 'juice', 'hot', 'pints', '35 40 45 50', 0.5, guide, '3-6'],
  ['tomato and vegetable juice blend', 'juice', 'hot', 'quarts', '40 45 50 55', 0.5, guide, '3-6'],
  ['tomatoes, whole or halved', 'packed in tomato juice', 'hot', 'pints or quarts', '85 90 95 100', 0.5, guide, '3-10'],
  ['tomatoes, whole or halved', 'packed in tomato juice', 'raw', 'pints or quarts', '85 90 95 100', 0.5, guide, '3-10'],
  ['tomatillos', 'whole', 'hot', 'pints', '40 45 50 55', 0.5, guide, '3-13'],
  ['tomatillos', 'whole', 'hot', 'quarts', '45 50 55 60', 0.5, guide, '3-13'],
  ['cayenne pepper sauce', 'sauce', 'hot', 'pints', '10 15 20', 0.5, guide, '3-17'],
  ['country western ketchup', 'ketchup', 'hot', 'pints', '15 20 25', 0.125, 'usda-1994', '3-18'],
  ['blender ketchup', 'ketchup', 'hot', 'pints', '15 20 25', 0.125, 'usda-1994', '3-18'],
  ['tomatillo green salsa', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-22'],
]

// From memory of the same guide, not read again
const remembered: readonly PrintedRow[] = [
  ['chile salsa II', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-22'],
  ['tomato/green chile salsa', 'salsa', 'hot', 'pints', '15 20 25', 0.5, guide, '3-24'],
  ['tomato taco sauce', 'sauce', 'hot', 'pints', '15 20 25', 0.5, guide, '3-26'],
]

const plain = ['tomato juice', 'tomatoes, crushed', 'tomato sauce, standard', 'tomatoes, whole or halved', 'tomatillos']

describe('tomatoes in a boiling-water canner', () => {
  test.each([...printed, ...printedInCopies, ...remembered])('%s, %s, %s, %s: %s', (...row) => expectAsPrinted(row))

  test('what is remembered says so, what was read says so', () => {
    for (const row of [...printed, ...printedInCopies].flatMap(rowsFor)) expect(row.source.confidence).toBe('seen')
    for (const row of remembered.flatMap(rowsFor)) expect(row.source.confidence).toBe('memory')
    for (const row of printedInCopies.flatMap(rowsFor)) expect(row.source.note).toMatch(/read in/)
  })

  test('there is nothing beyond the printed lines', () => {
    const known = [...printed, ...printedInCopies, ...remembered].flatMap(rowsFor).map(({ id }) => id)
    expect(boilingWaterTomatoes.map(({ id }) => id).sort()).toEqual(known.sort())
  })

  test('no bigger jar and no higher place takes less time', () => expectSensible(boilingWaterTomatoes))

  test('every row names a document, and no time is under ten minutes', () => {
    for (const row of boilingWaterTomatoes) {
      expect(Object.keys(processSources)).toContain(row.source.document)
      expect(row.source.section).toBeTruthy()
      expect(row.sterileJars).toBe(false)
    }
  })

  test('acid goes into every jar of tomatoes and tomatillos, nothing into what has vinegar or lemon in its recipe', () => {
    // Guide 3 p. 3-5, by the quart: 2 tbsp lemon juice, 1/2 tsp citric acid or 4 tbsp vinegar; half of it by the pint
    const acid = [
      { acid: 'bottled-lemon-juice', perPint: 1, perQuart: 2 },
      { acid: 'citric-acid', perPint: 0.25, perQuart: 0.5 },
      { acid: 'vinegar-5', perPint: 2, perQuart: 4 },
    ]
    for (const row of boilingWaterTomatoes) {
      const withAcid = plain.includes(row.product) || row.product === 'tomato and vegetable juice blend'
      expect([row.acidity, row.acid], row.id).toEqual(withAcid ? ['acidified', acid] : ['acid', []])
    }
  })

  test('only plain packs hold for the crop as such', () => {
    for (const row of boilingWaterTomatoes) expect(row.asPublished, row.id).toBe(!plain.includes(row.product))
  })

  test('nothing with meat, okra or zucchini: that is for pressure (Guide 3 p. 3-12 to 3-15)', () => {
    const names = boilingWaterTomatoes.map(({ product }) => product).join()
    expect(names).not.toMatch(/meat|okra|zucchini|spaghetti|mexican/i)
  })

  test('salsa is thickened when served', () => {
    const salsas = boilingWaterTomatoes.filter((row) => row.form === 'salsa')
    expect(salsas).toHaveLength(7)
    for (const { notes } of salsas) expect(notes.join()).toMatch(/starch/)
  })
})
