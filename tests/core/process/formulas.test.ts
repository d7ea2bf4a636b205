import { describe, expect, test } from 'vitest'
import { publishedBatch, publishedFormula, publishedFormulas } from '../../../src/core/process/formulas/index.ts'
import { processTable } from '../../../src/core/process/index.ts'
import { crop } from '../../../src/core/produce/crops.ts'

const lb = 453.59237
const cup = 236.588

function formula(product: string) {
  const found = publishedFormula(product, '')
  if (found === undefined) throw new Error(`nothing is written down for ${product}`)
  return found
}

const copy = 'copies of the USDA guide, seen'

describe('published recipes', () => {
  // Weights that are printed as weights: they must come out to the gram.
  test.each([
    ['chile salsa', 5, 3, 1, `${copy}: Michigan sheet 01600882`],
    ['bread-and-butter pickles', 0, 9, 4, `${copy}: Michigan sheet 01600131`],
    ['quick fresh-pack dill pickles', 0, 8, 6, `${copy}: Michigan sheet 01600865`],
    ['pickled green tomato relish', 10, 5, 4, `${copy}: Michigan sheet 01600869`],
    ['apple butter', 8, 0, 2, 'USDA guide 2015, Guide 2 p. 2-6, seen'],
  ])('%s: %f lb of fruit, %f lb of vegetables, %f cups of vinegar (%s)', (product, fruit, vegetables, vinegar) => {
    const { acidProduceGrams, lowAcidGrams, vinegarMl } = formula(product)
    expect(Math.abs(acidProduceGrams - fruit * lb)).toBeLessThanOrEqual(2)
    expect(Math.abs(lowAcidGrams - vegetables * lb)).toBeLessThanOrEqual(3)
    expect(vinegarMl).toBe(Math.round(vinegar * cup))
  })

  test('tomato ketchup: 24 lb of tomatoes, 3 cups each of onion and vinegar (Michigan sheet 01600827, seen)', () => {
    const ketchup = formula('tomato ketchup')
    expect(ketchup.acidProduceGrams).toBe(Math.round(24 * lb))
    expect(ketchup.vinegarMl).toBe(Math.round(3 * cup))
    // a cup of chopped onion is 160 g, 88 % of the onion as bought (memory)
    expect(ketchup.lowAcidGrams).toBe(Math.round((3 * 160) / 0.88))
  })

  test('fillings have the bottled lemon juice of a quart (Guide 2 p. 2-26, 2-27, 2-30, seen)', () => {
    expect(formula('apple pie filling').bottledLemonMl).toBeCloseTo(2 * (cup / 16), 1)
    expect(formula('blueberry pie filling').bottledLemonMl).toBeCloseTo(3 * (cup / 16), 1)
    expect(formula('peach pie filling').bottledLemonMl).toBe(Math.round(cup / 4))
  })

  test('salsas of paste tomatoes have lemon juice, which vinegar may not replace (Guide 3 p. 3-19, seen)', () => {
    expect(formula('tomato salsa (paste tomatoes)')).toMatchObject({
      bottledLemonMl: Math.round(2 * cup),
      vinegarMl: 0,
    })
    expect(formula('tomato/tomato paste salsa')).toMatchObject({ bottledLemonMl: Math.round(2 * cup), vinegarMl: 0 })
  })

  test('only jams and jellies keep by their sugar', () => {
    const keeps = publishedFormulas().filter(({ sugarCounts }) => sugarCounts)
    expect(keeps.length).toBeGreaterThan(5)
    expect(keeps.filter(({ product }) => !/jam|jelly|preserves/.test(product))).toEqual([])
    expect(keeps.every(({ sugarGrams }) => sugarGrams > 0)).toBe(true)
  })

  test('jam from berries by the cup has more sugar than is asked for at the least', () => {
    // Guide 7 p. 7-6 (seen): a cup of sugar for a cup of crushed berries, 240 g (a common figure, memory)
    const { acidProduceGrams, sugarGrams } = formula('jam, no added pectin')
    expect(sugarGrams / acidProduceGrams).toBeLessThan(200 / 240)
    expect(sugarGrams / acidProduceGrams).toBeGreaterThan(0.4)
  })

  test('starch is in the fillings, and a spoon of it in two relishes; nowhere else', () => {
    const starchy = publishedFormulas().filter((one) => one.modifiedStarchGrams + one.otherStarchGrams > 0)
    expect(starchy.map(({ product }) => product).sort()).toEqual([
      'apple pie filling',
      'blueberry pie filling',
      'cherry pie filling',
      'peach pie filling',
      'pickled corn relish',
      'pickled green tomato relish',
    ])
  })

  test('each is behind a row of the tables that holds only as published', () => {
    const lost = publishedFormulas().filter(
      ({ product, form }) =>
        !processTable().some(
          (row) => row.product === product && row.asPublished && (form === null || form === row.form),
        ),
    )
    expect(lost.map(({ product }) => product)).toEqual([])
  })

  test('each has produce, a yield and a source, and is written down once', () => {
    const products = publishedFormulas().map(({ product, form, crops }) => `${product}/${form}/${crops}`)
    expect(new Set(products).size).toBe(products.length)
    expect(products.length).toBeGreaterThanOrEqual(50)
    for (const one of publishedFormulas()) {
      expect(one.acidProduceGrams + one.lowAcidGrams, one.product).toBeGreaterThan(0)
      expect(one.yields.least).toBeGreaterThan(0)
      expect(one.yields.most).toBeGreaterThanOrEqual(one.yields.least)
      expect(one.source.section, one.product).not.toBe('')
    }
  })

  test('what counts as low-acid is not a crop that is acid, and the other way round', () => {
    for (const { product } of publishedFormulas()) {
      const batch = publishedBatch(product)
      const wrongFruit = Object.keys(batch?.fruit ?? {}).filter((key) => crop(key)?.acidity === 'low-acid')
      const wrongVegetables = Object.keys(batch?.vegetables ?? {}).filter((key) => {
        const known = crop(key)
        return known !== undefined && known.acidity !== 'low-acid'
      })
      expect([product, wrongFruit, wrongVegetables]).toEqual([product, [], []])
    }
  })

  test('is the one for the crops where a guide prints a product anew for them', () => {
    // Guide 7 p. 7-6, jam without added pectin: berries take 4 cups of sugar to 4 cups crushed, peaches 4 to 5 1/2
    const sugarFor = (crops: string[]) => {
      const found = publishedFormula('jam, no added pectin', 'jam', crops)
      return found === undefined ? 0 : found.sugarGrams / found.acidProduceGrams
    }
    expect(sugarFor(['blackberry'])).toBeCloseTo(800 / 960, 2)
    expect(sugarFor(['blackberry', 'raspberry'])).toBeCloseTo(800 / 960, 2)
    expect(sugarFor(['peach'])).toBeLessThan(0.5)
    expect(sugarFor(['peach', 'raspberry'])).toBe(sugarFor(['peach']))
  })

  test('has no answer for a product that is not among them', () => {
    expect(publishedFormula('plums', 'halved or whole')).toBeUndefined()
  })
})

describe('a jar of a published recipe', () => {
  // Produce shrinks and vinegar boils away, but no jar holds much less than it can, nor several times as much.
  const litres = {
    'half-pint': 0.237,
    '12-ounce': 0.355,
    pint: 0.473,
    '1.5-pint': 0.71,
    quart: 0.946,
    'half-gallon': 1.893,
  }

  test.each(publishedFormulas().map((one) => ({ ...one })))('$product goes into so many jars', (one) => {
    const grams = one.acidProduceGrams + one.lowAcidGrams + one.vinegarMl + one.bottledLemonMl + one.sugarGrams
    const perLitre = grams / (one.yields.most * litres[one.yields.jar])
    expect(perLitre).toBeGreaterThan(500)
    expect(perLitre).toBeLessThan(4500)
  })
})
