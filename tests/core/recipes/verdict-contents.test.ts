import { describe, expect, test } from 'vitest'
import { publishedBatch } from '../../../src/core/process/formulas/index.ts'
import { processTable } from '../../../src/core/process/index.ts'
import { crop } from '../../../src/core/produce/index.ts'
import { type Ingredient, type RecipeDefinition, verdictOn } from '../../../src/core/recipes/index.ts'
import { cropsPublishedFor } from '../../../src/core/recipes/published-crops.ts'
import { canned, claimOf, cropInput, ingredientOf, judged, lowKitchen, packOf } from './making.ts'

const tomatoes = (changes: Partial<RecipeDefinition> = {}) =>
  canned({
    inputs: [cropInput('tomato')],
    process: claimOf({ product: 'tomatoes, crushed' }),
    packs: [packOf({ gramsPerUnit: 1250 })],
    ...changes,
  })

describe('what goes in', () => {
  test.each([
    ['starch', 'starch'],
    ['modified-starch', 'too-much-modified-starch'],
    ['oil', 'oil'],
    ['dairy', 'dairy'],
    ['egg', 'egg'],
    ['meat', 'meat'],
    ['nuts', 'nuts'],
    ['lime', 'lime'],
    ['vinegar-unmeasured', 'unmeasured-vinegar'],
    ['low-acid-vegetable', 'added-low-acid'],
    ['alcohol', 'other-recipe'],
    ['other', 'other-recipe'],
  ] as const)('%s in plain plums: %s', (kind, departs) => {
    const { found, standing } = judged(canned({ ingredients: [ingredientOf(kind, { perKg: 20 })] }))
    expect([standing, found]).toEqual(['departs', [`${departs} ingredients.0`]])
  })

  test('only counts for the packs it goes into', () => {
    const pint = packOf({ key: 'pint', jar: 'pint', gramsPerUnit: 450 })
    const oiled = canned({ packs: [packOf(), pint], ingredients: [ingredientOf('oil', { perUnit: { pint: 10 } })] })
    expect(verdictOn(oiled, lowKitchen).packs.map(({ standing }) => standing)).toEqual(['tested', 'departs'])
  })

  // Guide 2 p. 2-26, for a quart: 3 1/2 cups of apples (1,092 g as bought by the load of 2 3/4 lb a quart), 1/4 cup of
  // modified starch (about 32 g), 2 tbsp of bottled lemon juice; and apple juice
  const filling = (...ingredients: Ingredient[]) =>
    canned({
      inputs: [cropInput('apple')],
      packs: [packOf({ gramsPerUnit: 1092 })],
      process: claimOf({ product: 'apple pie filling' }),
      ingredients: [ingredientOf('juice', { unit: 'ml', perUnit: { quart: 177 } }), ...ingredients],
    })
  const lemonJuice = ingredientOf('bottled-lemon-juice', { unit: 'ml', perUnit: { quart: 29.6 } })
  const starch = ingredientOf('modified-starch', { perUnit: { quart: 32 } })

  test('pie filling as published, and with less lemon juice, fresh lemons or more starch', () => {
    expect(judged(filling(lemonJuice, starch)).found).toEqual([])
    expect(judged(filling({ ...lemonJuice, perUnit: { quart: 20 } }, starch)).found).toEqual([
      'less-acid ingredients.1',
    ])
    expect(judged(filling({ ...lemonJuice, kind: 'fresh-citrus-juice' }, starch)).found).toEqual([
      'fresh-citrus ingredients.1',
    ])
    expect(judged(filling(lemonJuice, { ...starch, perUnit: { quart: 50 } })).found).toEqual([
      'too-much-modified-starch ingredients.2',
    ])
    const flour = { ...starch, kind: 'starch' as const, name: 'flour' }
    expect(judged(filling(lemonJuice, flour)).found).toEqual(['starch ingredients.2'])
  })

  test('flour in pie filling leaves what is kept cold', () => {
    const { says, verdict } = judged(filling(lemonJuice, { ...starch, kind: 'starch', name: 'flour' }))
    expect(says).toContain('flour')
    expect(verdict.instead).toEqual(['frozen', 'refrigerated'])
  })

  test('a published recipe whose proportions are not known here cannot be compared', () => {
    const preserves = canned({
      inputs: [cropInput('strawberry')],
      process: claimOf({ product: 'strawberry preserves' }),
    })
    expect(publishedBatch('strawberry preserves')).toBeUndefined()
    expect(
      judged({ ...preserves, definition: { ...preserves.definition, packs: [packOf({ jar: 'pint' })] } }),
    ).toMatchObject({
      standing: 'departs',
      found: ['other-recipe process'],
    })
  })

  test('other produce than it was published for', () => {
    const { found, says } = judged(canned({ inputs: [cropInput('apple')] }))
    expect(found).toEqual(['other-produce inputs.0'])
    expect(says).toMatch(/plums, damsons/)
  })

  test('a crop that is not acid, alone or in part', () => {
    const melonless = judged(canned({ inputs: [cropInput('fig')] }))
    expect(melonless.found).toEqual(['alkaline-crop inputs.0'])
    expect(melonless.says).toContain('4.6')
    const mixed = canned({ inputs: [cropInput('plum', 0.8, 1), cropInput('sweet-pepper', 0, 0.2)] })
    expect(judged(mixed).found).toEqual(['added-low-acid inputs.1'])
  })

  test('elderberries, which later advice took out of the berries', () => {
    const elder = canned({ inputs: [cropInput('elderberry')], process: claimOf({ product: 'berries', pack: 'hot' }) })
    expect(judged(elder).found).toEqual(['alkaline-crop inputs.0'])
  })

  test('peaches that are called white', () => {
    const peaches = canned({ inputs: [cropInput('peach')], process: claimOf({ product: 'peaches' }) })
    expect(judged(peaches).standing).toBe('tested')
    expect(judged({ ...peaches, name: 'White-fleshed peaches in syrup' }).found).toEqual(['white-flesh inputs.0'])
    expect(judged({ ...peaches, name: 'White peach halves' }).found).toEqual(['white-flesh inputs.0'])
    expect(judged({ ...peaches, name: 'Peaches in white grape juice' }).standing).toBe('tested')
  })

  test('juice of the fruit may cover it; home-made vinegar and peels may not', () => {
    const apples = (material: string) =>
      canned({
        inputs: [cropInput('apple', 0.7), { from: { material }, suits: {}, share: { min: 0.3, max: 0.3 }, trim: [] }],
        process: claimOf({ product: 'apples' }),
      })
    expect(judged(apples('apple-juice')).standing).toBe('tested')
    expect(judged(apples('damson-juice')).found).toEqual(['other-produce inputs.1'])
    expect(judged(apples('cider-vinegar')).found).toEqual(['unmeasured-vinegar inputs.1'])
    expect(judged(apples('peels-cores')).found).toEqual(['other-produce inputs.1'])
  })

  test('meat and any vegetable belong in soups, and in no other vegetables', () => {
    // Guide 4 p. 4-18
    const vegetables = (product: string, pack: 'hot' | 'raw') => ({
      ...canned({
        inputs: [cropInput('carrot')],
        packs: [packOf({ key: 'pint', jar: 'pint', gramsPerUnit: 300 })],
        process: claimOf({ product, pack }),
        ingredients: [ingredientOf('meat', { perKg: 200 }), ingredientOf('low-acid-vegetable', { perKg: 200 })],
      }),
      method: 'pressure-canned' as const,
    })
    expect(judged(vegetables('soups (vegetable, bean, meat)', 'hot')).found).toEqual([])
    expect(judged(vegetables('carrots', 'hot')).found).toEqual(['meat ingredients.0', 'other-produce ingredients.1'])
  })

  test('every product of the tables has its crops written down', () => {
    const products = [...new Set(processTable().map(({ product }) => product))]
    expect(products.filter((product) => cropsPublishedFor(product) === undefined)).toEqual([])
    for (const product of products) {
      const batch = publishedBatch(product)
      const named = [...Object.keys(batch?.fruit ?? {}), ...Object.keys(batch?.vegetables ?? {})]
      expect(cropsPublishedFor(product)).toEqual(expect.arrayContaining(named.filter((key) => crop(key))))
    }
  })
})

describe('acid in tomatoes', () => {
  // Guide 3 p. 3-5: a quart 2 tbsp (30 ml) of bottled lemon juice, or 1/2 tsp (2.3 g) of citric acid, or 4 tbsp of vinegar of 5 %; a pint half
  test.each([
    ['bottled-lemon-juice', 'ml', 30],
    ['bottled-lemon-juice', 'ml', 29.57],
    ['bottled-lemon-juice', 'g', 31],
    ['citric-acid', 'g', 2.3],
    ['citric-acid', 'ml', 2.5],
    ['vinegar-5', 'ml', 60],
  ] as const)('%s, %s: %d in a quart is enough', (kind, unit, amount) => {
    expect(judged(tomatoes({ ingredients: [ingredientOf(kind, { unit, perUnit: { quart: amount } })] })).found).toEqual(
      [],
    )
  })

  test.each([
    ['bottled-lemon-juice', 'ml', 29],
    ['bottled-lemon-juice', 'ml', 15],
    ['citric-acid', 'g', 2.2],
    ['vinegar-5', 'ml', 30],
  ] as const)('%s, %s: %d in a quart is less than published', (kind, unit, amount) => {
    const { found, says } = judged(
      tomatoes({ ingredients: [ingredientOf(kind, { unit, perUnit: { quart: amount } })] }),
    )
    expect(found).toEqual(['less-acid ingredients.0'])
    expect(says).toContain('2 tbsp (30 ml) of bottled lemon juice')
  })

  test('half of one and half of another are not one whole', () => {
    const halves = [
      ingredientOf('bottled-lemon-juice', { unit: 'ml', perUnit: { quart: 15 } }),
      ingredientOf('citric-acid', { perUnit: { quart: 1.2 } }),
    ]
    expect(judged(tomatoes({ ingredients: halves })).found).toEqual(['less-acid ingredients.1'])
  })

  test('none at all, fresh lemons, or acid only by weight', () => {
    expect(judged(tomatoes()).found).toEqual(['no-acid ingredients'])
    const fresh = ingredientOf('fresh-citrus-juice', { unit: 'ml', perUnit: { quart: 60 } })
    expect(judged(tomatoes({ ingredients: [fresh] })).found).toEqual(['fresh-citrus ingredients.0'])
    const byWeight = ingredientOf('bottled-lemon-juice', { unit: 'ml', perKg: 60 })
    expect(judged(tomatoes({ ingredients: [byWeight] })).found).toEqual(['no-acid ingredients.0'])
  })

  test('is wanted under pressure as well', () => {
    expect(judged({ ...tomatoes(), method: 'pressure-canned' }).found).toEqual(['no-acid ingredients'])
  })
})
