import { describe, expect, test } from 'vitest'
import { seedRecipes } from '../../../seed/recipes.ts'
import { checkRecipe } from '../../../src/core/recipes/index.ts'

// Raw weights for each jar or bag of the demonstration's recipes against what was published. Pounds avoirdupois.
const lb = 453.59237

type Published = {
  recipe: string
  pack: string
  /** Pounds of raw produce for one unit: the least and the most that the published figures give. */
  pounds: [number, number]
  source: string
}

const canningGuide = 'USDA Complete Guide to Home Canning, AIB 539, 2015'
const georgia = 'University of Georgia Extension, Weights and Approximate Processed Yields for Fruits'

/** Quarts for a container of so many pounds, turned round: pounds for a quart. */
function perQuart(containerLb: number, fewest: number, most: number): [number, number] {
  return [containerLb / most, containerLb / fewest]
}

// All seen in the named edition unless a row says otherwise.
const published: Published[] = [
  {
    recipe: 'Peach slices in light syrup',
    pack: 'quart',
    pounds: perQuart(48, 16, 24),
    source: `${canningGuide}, Guide 2 p. 2-19: a 48 lb bushel gives 16 to 24 quarts, on average 2 1/2 lb a quart`,
  },
  {
    recipe: 'Peach slices in light syrup',
    pack: 'pint',
    pounds: [48 / 24 / 2, 48 / 16 / 2],
    source: `${canningGuide}, Guide 2 p. 2-19: 11 lb for 9 pints lies in the half of the quart's range`,
  },
  {
    recipe: 'Apple slices in light syrup',
    pack: 'quart',
    pounds: perQuart(48, 16, 19),
    source: `${canningGuide}, Guide 2 p. 2-7: a 48 lb bushel gives 16 to 19 quarts, on average 2 3/4 lb a quart`,
  },
  {
    recipe: 'Apple sauce',
    pack: 'quart',
    pounds: perQuart(48, 14, 19),
    source: `${canningGuide}, Guide 2 p. 2-7: a 48 lb bushel gives 14 to 19 quarts, on average 3 lb a quart`,
  },
  {
    recipe: 'Apple sauce',
    pack: 'pint',
    pounds: [48 / 19 / 2, 48 / 14 / 2],
    source: `${canningGuide}, Guide 2 p. 2-7: 13 1/2 lb for 9 pints`,
  },
  {
    recipe: 'Apple butter',
    pack: 'pint',
    // the published batch has cider beside the apples; only the apples are counted here
    pounds: [8 / 9, 8 / 8],
    source: `${canningGuide}, Guide 2 p. 2-6: 8 lb of apples give 8 to 9 pints`,
  },
  {
    recipe: 'Crushed tomatoes',
    pack: 'quart',
    pounds: perQuart(53, 17, 20),
    source: `${canningGuide}, Guide 3 p. 3-7: a 53 lb bushel gives 17 to 20 quarts, on average 2 3/4 lb a quart`,
  },
  {
    recipe: 'Tomato sauce, thin',
    pack: 'pint',
    pounds: [53 / 12 / 2, 53 / 10 / 2],
    source: `${canningGuide}, Guide 3 p. 3-8: a 53 lb bushel gives 10 to 12 quarts, 21 lb for 9 pints`,
  },
  {
    recipe: 'Bottled apple juice',
    pack: 'quart',
    pounds: perQuart(48, 10, 12),
    source: `${georgia}: a 48 lb bushel gives 10 to 12 quarts of juice`,
  },
  {
    recipe: 'Blackberry jam',
    pack: 'half-pint',
    // four cups of crushed berries make three to four half-pints; a cup of crushed berries is 145 to 240 g
    // (a quart of whole blackberries is 1 1/4 to 1 1/2 lb in the Georgia table; crushing closes the gaps: ours)
    pounds: [(4 * 145) / 4 / lb, (4 * 240) / 3 / lb],
    source: `${canningGuide}, Guide 7 p. 7-6, and ${georgia}`,
  },
  {
    recipe: 'Frozen apple slices',
    pack: 'bag-1kg',
    pounds: [1 / 0.78 / (lb / 1000), 1 / 0.76 / (lb / 1000)],
    source:
      'Edible portion of pared and cored apples: 0.76 (Baker/pastry mathematics, ch. 25 Yield Percents, seen) to 0.78 (USDA FNS Food Buying Guide, memory)',
  },
  {
    recipe: 'Frozen blackberries',
    pack: 'bag-500g',
    pounds: [0.5 / 1 / (lb / 1000), 0.5 / 0.92 / (lb / 1000)],
    source: 'Edible portion of blackberries 0.92 (Baker/pastry mathematics, ch. 25 Yield Percents, seen), at best all',
  },
  {
    recipe: 'Frozen diced tomatoes',
    pack: 'bag-1kg',
    pounds: [1 / 0.91 / (lb / 1000), 1 / 0.85 / (lb / 1000)],
    source:
      'Edible portion of cored tomatoes, not peeled, 0.91 (USDA FNS Food Buying Guide, memory); peeling takes more',
  },
  {
    recipe: 'Dried apple slices',
    pack: 'bag-200g',
    pounds: [(0.2 * 48) / 7.5 / (lb / 1000), (0.2 * 48) / 5 / (lb / 1000)],
    source:
      'L. H. Bailey, Farm and Garden Rule-Book, 1911, Fruit Figures: 6 to 7 1/2 lb dried from a bushel (seen); home handbooks give 1 in 9.6, 5 lb (memory)',
  },
]

const juice = {
  source: `${canningGuide}, Guide 7 p. 7-5: at least a cup of clear juice for each pound; 4 cups make 4 to 5 half-pints of apple jelly`,
  gramsPerCup: 248, // apple juice at about 1.05 kg a litre; a US cup is 236.6 ml (memory)
}

function packOf(recipe: string, pack: string) {
  const found = seedRecipes.find(({ name }) => name === recipe)?.definition.packs.find(({ key }) => key === pack)
  if (found === undefined) throw new Error(`no ${pack} of ${recipe} in the demonstration`)
  return found
}

describe('raw weight for one unit in the demonstration lies in the published range', () => {
  test.each(published)('$recipe, $pack ($source)', ({ recipe, pack, pounds: [least, most] }) => {
    const got = packOf(recipe, pack).gramsPerUnit / lb
    expect(got).toBeGreaterThanOrEqual(least * 0.995)
    expect(got).toBeLessThanOrEqual(most * 1.005)
  })

  test('covers at least twelve recipes', () => {
    expect(new Set(published.map(({ recipe }) => recipe)).size).toBeGreaterThanOrEqual(12)
  })

  test.each([
    ['Peach slices in light syrup', 'quart', 7, 17.5],
    ['Peach slices in light syrup', 'pint', 9, 11],
    ['Apple slices in light syrup', 'quart', 7, 19],
    ['Apple sauce', 'quart', 7, 21],
    ['Apple sauce', 'pint', 9, 13.5],
    ['Crushed tomatoes', 'quart', 7, 22],
    ['Tomato sauce, thin', 'pint', 9, 21],
  ])(
    '%s: the %s load of %i comes to about %f lb, as the canning guide prints for a load',
    (recipe, pack, units, pounds) => {
      // The guide's loads are rounded averages and not exactly seven times its weight for a quart.
      const load = (packOf(recipe, pack).gramsPerUnit * units) / lb
      expect(Math.abs(load - pounds) / pounds).toBeLessThan(0.13)
    },
  )
})

describe(`juice for jelly (${juice.source})`, () => {
  test('a pound of apples gives about a cup', () => {
    const { makes, gramsPerUnit } = packOf('Apple juice for jelly', 'litre')
    const cupsPerPound = (makes?.gramsPerUnit ?? 0) / juice.gramsPerCup / (gramsPerUnit / lb)
    expect(cupsPerPound).toBeGreaterThanOrEqual(1)
    expect(cupsPerPound).toBeLessThan(1.25)
  })

  test('a half-pint of jelly takes between a fifth and a quarter of four cups', () => {
    const cups = packOf('Apple jelly', 'half-pint').gramsPerUnit / juice.gramsPerCup
    expect(cups).toBeGreaterThanOrEqual(4 / 5)
    expect(cups).toBeLessThanOrEqual(4 / 4)
  })
})

describe('every recipe of the demonstration', () => {
  test.each(seedRecipes)('$name can be divided with', ({ definition }) => {
    expect(checkRecipe(definition)).toEqual([])
  })

  test.each(seedRecipes)('$name says where its figures come from', ({ definition }) => {
    expect(definition.source.length).toBeGreaterThan(5)
  })

  test.each(seedRecipes.filter(({ definition }) => (definition.workPerKg.cut ?? 0) > 2))(
    '$name warns of knives',
    ({ definition }) => expect(definition.cautions.join(' ')).toMatch(/knives/),
  )

  test.each(seedRecipes.filter(({ method }) => method.endsWith('canned')))(
    '$name defers to a tested process',
    ({ definition }) =>
      expect(definition.cautions.join(' ')).toMatch(/tested process.*extension service or food authority/),
  )

  test('none says that it is safe', () => {
    expect(JSON.stringify(seedRecipes)).not.toMatch(/\bsafe/i)
  })
})
