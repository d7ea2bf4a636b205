import { describe, expect, test } from 'vitest'
import { processSources } from '../../../src/core/process/index.ts'
import { boilingWaterPickles } from '../../../src/core/process/tables/boiling-water-pickles.ts'
import { expectAsPrinted, expectSensible, type PrintedRow, rowsFor } from './printed-rows.ts'

const guide = 'usda-2015'
const centre = 'national-center'

// USDA Complete Guide to Home Canning, 2015, Guide 6, "Recommended process time in a boiling-water canner"
const printed: readonly PrintedRow[] = [
  ['dill pickles (fermented)', 'whole', 'raw', 'pints', '10 15 20', 0.5, guide, '6-7'],
  ['dill pickles (fermented)', 'whole', 'raw', 'quarts', '15 20 25', 0.5, guide, '6-7'],
  ['sauerkraut', 'fermented cabbage', 'hot', 'pints', '10 15 15 20', 0.5, guide, '6-8'],
  ['sauerkraut', 'fermented cabbage', 'hot', 'quarts', '15 20 20 25', 0.5, guide, '6-8'],
  ['sauerkraut', 'fermented cabbage', 'raw', 'pints', '20 25 30 35', 0.5, guide, '6-8'],
  ['sauerkraut', 'fermented cabbage', 'raw', 'quarts', '25 30 35 40', 0.5, guide, '6-8'],
  ['bread-and-butter pickles', 'slices', 'hot', 'pints or quarts', '10 15 20', 0.5, guide, '6-9'],
  ['quick fresh-pack dill pickles', 'whole', 'raw', 'pints', '10 15 20', 0.5, guide, '6-10'],
  ['quick fresh-pack dill pickles', 'whole', 'raw', 'quarts', '15 20 25', 0.5, guide, '6-10'],
  ['quick sweet pickles', 'strips or slices', 'hot', 'pints or quarts', '5 10 15', 0.5, guide, '6-12'],
  ['quick sweet pickles', 'strips or slices', 'raw', 'pints', '10 15 20', 0.5, guide, '6-12'],
  ['quick sweet pickles', 'strips or slices', 'raw', 'quarts', '15 20 25', 0.5, guide, '6-12'],
  ['pickled dilled beans', 'whole', 'raw', 'pints', '5 10 15', 0.5, guide, '6-14'],
  ['pickled three-bean salad', 'mixed', 'hot', 'pints', '15 20 25', 0.5, guide, '6-14'],
  ['pickled beets', 'slices or baby whole', 'hot', 'pints or quarts', '30 35 40 45', 0.5, guide, '6-15'],
  ['chayote and jicama slaw', 'slaw', 'hot', 'half-pints', '15 20 25', 0.5, guide, '6-17'],
  ['marinated whole mushrooms', 'whole', 'hot', 'half-pints', '20 25 30 35', 0.5, guide, '6-18'],
  ['pickled pearl onions', 'whole', 'hot', 'pints', '10 15 20', 0.5, guide, '6-20'],
  ['marinated peppers', 'whole or quartered', 'raw', 'pints', '15 20 25', 0.5, guide, '6-20'],
  ['pickled hot peppers', 'whole or quartered', 'raw', 'pints', '10 15 20', 0.5, guide, '6-22'],
  ['pickled jalapeno rings', 'rings, limed', 'hot', 'pints', '10 15 20', 0.5, guide, '6-23'],
  ['pickled mixed vegetables', 'pieces', 'hot', 'pints', '5 10 15', 0.5, guide, '6-25'],
  ['pickled mixed vegetables', 'pieces', 'hot', 'quarts', '10 15 20', 0.5, guide, '6-25'],
  ['pickled bread-and-butter zucchini', 'slices', 'hot', 'pints or quarts', '10 15 20', 0.5, guide, '6-26'],
  ['piccalilli', 'relish', 'hot', 'pints', '5 10 15', 0.5, guide, '6-27'],
  ['pickle relish', 'relish', 'hot', 'pints', '10 15 20', 0.5, guide, '6-28'],
  ['pickled green tomato relish', 'relish', 'hot', 'pints', '5 10 15', 0.5, guide, '6-29'],
  ['spicy jicama relish', 'relish', 'hot', 'pints', '20 25 30 35', 0.5, guide, '6-30'],
  ['no sugar added sweet cucumber slices', 'slices', 'hot', 'pints', '10 15 20', 0.5, guide, '6-33'],
  ['reduced-sodium sliced sweet pickles', 'slices', 'hot', 'pints', '10 15 20', 0.5, guide, '6-34'],
]

// Read in copies of the guide of 1994, of sheets of the National Center, and of So Easy to Preserve; with the page of
// the 2015 guide, or the name where it is not in that
const printedInCopies: readonly PrintedRow[] = [
  ['sweet gherkin pickles', 'whole', 'raw', 'pints', '5 10 15', 0.5, 'usda-1994', '6-10'],
  ['reduced-sodium sliced dill pickles', 'slices', 'raw', 'pints', '15 20 25', 0.25, centre, '6-34'],
  ['pickled asparagus', 'spears', 'raw', '12-ounce or pints', '10 15 20', 0.5, 'so-easy', '6-13'],
  ['no sugar added pickled beets', 'slices or baby whole', 'hot', 'pints', '30 35 40 45', 0.5, centre, '6-32'],
  ['pickled carrots', 'slices', 'hot', 'pints', '15 20 25', 0.5, guide, '6-16'],
  ['pickled baby carrots', 'whole', 'hot', 'pints', '15 20 25', 0.5, centre, '6-16'],
  [
    'pickled cauliflower or Brussels sprouts',
    'florets or whole sprouts',
    'hot',
    'pints',
    '10 15 20',
    0.5,
    'usda-1994',
    '6-17',
  ],
  ['bread-and-butter pickled jicama', 'cubes', 'hot', 'pints', '15 20 25', 0.5, centre, '6-18'],
  ['pickled bell peppers', 'strips', 'hot', 'pints', '5 10 15', 0.5, 'usda-1994', '6-21'],
  ['pickled yellow pepper rings', 'rings', 'raw', 'pints', '10 15 20', 0.5, centre, '6-24'],
  ['chayote and pear relish', 'relish', 'hot', 'pints', '15 20 25', 0.5, centre, '6-26'],
  ['pickled corn relish', 'relish', 'hot', 'pints', '15 20 25', 0.5, centre, '6-28'],
  ['pickled pepper-onion relish', 'relish', 'hot', 'pints', '5 10 15', 0.5, centre, '6-30'],
  ['tangy tomatillo relish', 'relish', 'hot', 'pints', '15 20 25', 0.5, centre, '6-31'],
  ['watermelon rind pickles', '1-inch squares', 'hot', 'pints', '10 15 20', 0.5, 'so-easy', '6th edition'],
  ['fall garden relish', 'relish', 'hot', 'pints', '15 20 25', 0.5, 'so-easy', '6th edition'],
  ['pear relish', 'relish', 'hot', 'pints', '20 25 30 35', 0.5, centre, 'Pear Relish'],
  ['sweet pepper relish', 'relish', 'hot', 'pints', '10 15 20', 0.5, centre, 'Sweet Pepper Relish'],
  ['apple chutney', 'chutney', 'hot', 'pints', '10 15 20', 0.5, 'so-easy', '6th edition'],
  ['tomato-apple chutney', 'chutney', 'hot', 'pints', '10 15 20', 0.5, 'so-easy', '5th edition'],
]

// From memory of the same guide, not read again
const remembered: readonly PrintedRow[] = [
  ['14-day sweet pickles', 'whole, strips or slices', 'raw', 'pints', '5 10 15', 0.5, guide, '6-11'],
  ['14-day sweet pickles', 'whole, strips or slices', 'raw', 'quarts', '10 15 20', 0.5, guide, '6-11'],
  ['pickled dilled okra', 'whole', 'hot', 'pints', '10 15 20', 0.5, guide, '6-19'],
  ['pickled sweet green tomatoes', 'slices', 'hot', 'pints', '10 15 20', 0.5, guide, '6-24'],
  ['pickled sweet green tomatoes', 'slices', 'hot', 'quarts', '15 20 25', 0.5, guide, '6-24'],
]

describe('pickles and relishes in a boiling-water canner', () => {
  test.each([...printed, ...printedInCopies, ...remembered])('%s, %s, %s, %s: %s', (...row) => expectAsPrinted(row))

  test('what is remembered says so, what was read says so', () => {
    for (const row of [...printed, ...printedInCopies].flatMap(rowsFor)) expect(row.source.confidence).toBe('seen')
    for (const row of remembered.flatMap(rowsFor)) expect(row.source.confidence).toBe('memory')
    for (const row of printedInCopies.flatMap(rowsFor)) expect(row.source.note, row.id).toBeTruthy()
  })

  test('there is nothing beyond the printed lines', () => {
    const known = [...printed, ...printedInCopies, ...remembered].flatMap(rowsFor).map(({ id }) => id)
    expect(boilingWaterPickles.map(({ id }) => id).sort()).toEqual(known.sort())
  })

  test('no bigger jar and no higher place takes less time', () => expectSensible(boilingWaterPickles))

  test('every row names a document, and asks for no acid beside its own', () => {
    for (const row of boilingWaterPickles) {
      expect(Object.keys(processSources)).toContain(row.source.document)
      expect(row.source.section).toBeTruthy()
      expect([row.acidity, row.acid], row.id).toEqual(['acid', []])
    }
  })

  test('empty jars are boiled first for these alone (Guide 6, "sterile jars")', () => {
    const sterile = boilingWaterPickles
      .filter((row) => row.sterileJars)
      .map(({ product, jars }) => [product, jars.at(-1)])
    expect(sterile.sort()).toEqual([
      ['14-day sweet pickles', 'pint'],
      ['piccalilli', 'pint'],
      ['pickled bell peppers', 'pint'],
      ['pickled dilled beans', 'pint'],
      ['pickled green tomato relish', 'pint'],
      ['pickled mixed vegetables', 'pint'],
      ['pickled pepper-onion relish', 'pint'],
      ['quick sweet pickles', 'quart'],
      ['sweet gherkin pickles', 'pint'],
    ])
  })

  test('only ferments hold for the crop as such', () => {
    const ferments = ['dill pickles (fermented)', 'sauerkraut']
    for (const row of boilingWaterPickles) expect(row.asPublished, row.id).toBe(!ferments.includes(row.product))
  })

  test('horseradish sauce and pickled eggs have no process: they are kept cold (Guide 6 p. 6-30)', () => {
    expect(boilingWaterPickles.map(({ product }) => product).join()).not.toMatch(/horseradish|egg/)
  })
})
