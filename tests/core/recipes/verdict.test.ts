import { describe, expect, test } from 'vitest'
import { publishedBatch } from '../../../src/core/process/formulas/index.ts'
import type { LocalProcess } from '../../../src/core/process/index.ts'
import { processTable } from '../../../src/core/process/index.ts'
import { crop } from '../../../src/core/produce/index.ts'
import {
  type Ingredient,
  type KitchenPlace,
  type RecipeDefinition,
  type RecipeToJudge,
  verdictOn,
} from '../../../src/core/recipes/index.ts'
import { cropsPublishedFor } from '../../../src/core/recipes/published-crops.ts'
import { claimOf, cropInput, definitionOf, ingredientOf, lowKitchen, packOf } from './making.ts'

const canned = (changes: Partial<RecipeDefinition> = {}): RecipeToJudge => ({
  method: 'water-bath-canned',
  definition: definitionOf(changes),
})
const tomatoes = (changes: Partial<RecipeDefinition> = {}) =>
  canned({
    inputs: [cropInput('tomato')],
    process: claimOf({ product: 'tomatoes, crushed' }),
    packs: [packOf({ gramsPerUnit: 1250 })],
    ...changes,
  })
const at = (altitudeM: number | null): KitchenPlace => ({ ...lowKitchen, altitudeM })

/** The only pack's standing, and its departures as "kind at". */
function judged(recipe: RecipeToJudge, place = lowKitchen) {
  const verdict = verdictOn(recipe, place)
  const pack = verdict.packs[0]
  if (pack === undefined) throw new Error('no pack')
  const found = pack.departures.map((one) => `${one.kind} ${one.at}`)
  return { ...pack, verdict, found, says: pack.departures.map((one) => one.says).join(' ') }
}

describe('a recipe that follows its table', () => {
  test.each([
    // USDA guide of 2015, Guide 2 p. 2-22: plums, hot pack, quarts: 25, 30, 35, 40 minutes up to 1,000, 3,000, 6,000 ft and above
    [200, 25],
    [304, 25],
    [640, 30],
    [1500, 35],
    [2500, 40],
  ])('plums in quarts at %d m: %d minutes', (altitude, minutes) => {
    const { standing, process, shelfStable, verdict } = judged(canned(), at(altitude))
    expect(standing).toBe('tested')
    expect(process?.minutes).toBe(minutes)
    expect(shelfStable).toBe(true)
    expect(verdict).toMatchObject({ standing: 'tested', instead: [] })
  })

  test('sugar, honey or water to cover with make no difference', () => {
    for (const kind of ['sugar', 'honey', 'water', 'spice', 'salt'] as const) {
      expect(judged(canned({ ingredients: [ingredientOf(kind, { perKg: 100 })] })).standing).toBe('tested')
    }
  })

  test('damsons are plums', () => {
    expect(judged(canned({ inputs: [cropInput('damson')] })).standing).toBe('tested')
  })

  test('each pack stands by itself, and the recipe as its best', () => {
    const halfGallon = packOf({ key: 'half-gallon', unit: 'half-gallon', jar: 'half-gallon', gramsPerUnit: 1800 })
    const verdict = verdictOn(canned({ packs: [packOf(), halfGallon] }), lowKitchen)
    expect(verdict.packs.map(({ standing }) => standing)).toEqual(['tested', 'departs'])
    expect(verdict.packs[1]?.departures).toMatchObject([{ kind: 'bigger-jar', at: 'packs.1' }])
    expect(verdict.standing).toBe('tested')
    expect(verdict.instead).toEqual(['frozen', 'refrigerated', 'dried'])
  })
})

describe('what has no heat process', () => {
  test('keeps on a shelf only when it is dried', () => {
    for (const [method, stable] of [
      ['frozen', false],
      ['dried', true],
      ['refrigerated', false],
      ['fermented', false],
      ['juiced', false],
      ['fresh', false],
    ] as const) {
      const pack = judged({ method, definition: definitionOf({ process: null }) })
      expect([pack.standing, pack.shelfStable]).toEqual(['not-canned', stable])
      expect(pack.verdict.instead).toEqual([])
    }
  })

  test('canned without a claim, or for food in no table, is unknown', () => {
    expect(judged(canned({ process: null }))).toMatchObject({ standing: 'unknown', found: [], shelfStable: false })
    expect(judged(canned({ process: claimOf({ product: 'damson chutney of ours' }) })).standing).toBe('unknown')
  })

  test('a pack in no jar is unknown, and says so', () => {
    expect(judged(canned({ packs: [packOf({ jar: null })] }))).toMatchObject({
      standing: 'unknown',
      found: ['jar-not-tested packs.0'],
    })
  })
})

describe('the kitchen', () => {
  test('whose altitude nobody has said has no tested time, and still hears what else differs', () => {
    expect(judged(canned(), at(null))).toMatchObject({
      standing: 'departs',
      found: ['altitude-unknown '],
      process: null,
      shelfStable: false,
    })
    const floured = canned({ ingredients: [ingredientOf('starch', { perKg: 40 })] })
    expect(judged(floured, at(null)).found).toEqual(['altitude-unknown ', 'starch ingredients.0'])
  })

  const beans: RecipeToJudge = {
    method: 'pressure-canned',
    definition: definitionOf({
      inputs: [cropInput('snap-bean')],
      process: claimOf({ product: 'snap-bean', pack: 'raw' }),
    }),
  }

  test('takes each gauge by its own table, and the pressure printed for it', () => {
    // Guide 4 p. 4-8: quarts 25 minutes; 11 psi on a dial up to 2,000 ft, 10 psi on a weight up to 1,000 ft, 15 above
    for (const [gauge, altitude, psi] of [
      ['dial', 200, 11],
      ['dial', 700, 12],
      ['weighted', 200, 10],
      ['weighted', 700, 15],
    ] as const) {
      const { process, standing } = judged(beans, { altitudeM: altitude, gauges: [gauge], local: [] })
      expect([standing, process?.minutes, process?.psi]).toEqual(['tested', 25, psi])
    }
    const both = judged(beans).process
    expect([both?.method, ...(both?.others ?? []).map(({ method }) => method)].sort()).toEqual([
      'dial-gauge',
      'weighted-gauge',
    ])
  })

  test('without a gauge has no pressure table', () => {
    expect(judged(beans, { altitudeM: 200, gauges: [], local: [] }).found).toEqual(['gauge-missing '])
  })

  test('above a dial table has none, but may have a weighted one', () => {
    // dial tables end at 8,000 ft (2,438 m); the weighted one has no upper edge
    expect(judged(beans, { altitudeM: 2500, gauges: ['dial'], local: [] }).found).toEqual(['refused process'])
    expect(judged(beans, { altitudeM: 2500, gauges: ['dial', 'weighted'], local: [] }).process?.method).toBe(
      'weighted-gauge',
    )
  })

  test('in an open canner low-acid food is refused', () => {
    expect(judged({ ...beans, method: 'water-bath-canned' }).found).toEqual(['refused process'])
  })
})

describe('what the recipe itself states', () => {
  test('less time than the first band', () => {
    const short = judged(canned({ process: claimOf({ minutes: 20 }) }))
    expect(short.found).toEqual(['shorter-time process'])
    expect(short.says).toMatch(/20 minutes.*25 minutes/)
    expect(judged(canned({ process: claimOf({ minutes: 25 }) })).standing).toBe('tested')
    expect(judged(canned({ process: claimOf({ minutes: 30 }) })).standing).toBe('tested')
  })

  test('less headspace than the table', () => {
    // Guide 2 p. 2-21: half an inch, 12.7 mm
    expect(judged(canned({ process: claimOf({ headspaceMm: 6 }) })).found).toEqual(['less-headspace process'])
    expect(judged(canned({ process: claimOf({ headspaceMm: 13 }) })).standing).toBe('tested')
    expect(judged(canned({ process: claimOf({ headspaceMm: 12.7 }) })).standing).toBe('tested')
  })

  test('a pack that was not tested', () => {
    const rawPears = canned({ inputs: [cropInput('pear')], process: claimOf({ product: 'pears', pack: 'raw' }) })
    expect(judged(rawPears).found).toEqual(['refused process'])
  })
})

describe('the jar', () => {
  test('a quart of what is only tested in half-pints', () => {
    // Guide 2 p. 2-11: cranberry orange chutney, half-pints only
    const chutney = canned({
      inputs: [cropInput('cranberry')],
      process: claimOf({ product: 'cranberry orange chutney' }),
    })
    const { found, standing, shelfStable } = judged(chutney)
    expect([standing, shelfStable, found]).toEqual(['departs', false, ['bigger-jar packs.0']])
  })

  test('packed a quarter tighter than the published load', () => {
    // Guide 2 p. 2-21: 14 lb for 7 quarts, 907 g a quart; a quarter more is 1,134 g
    expect(judged(canned({ packs: [packOf({ gramsPerUnit: 1134 })] })).found).toEqual(['thicker-pack packs.0'])
    expect(judged(canned({ packs: [packOf({ gramsPerUnit: 1133 })] })).standing).toBe('tested')
    // 9 lb for 9 pints, 454 g a pint; a half-pint has half of it
    const halfPint = packOf({ key: 'half-pint', jar: 'half-pint', gramsPerUnit: 300 })
    expect(judged(canned({ packs: [halfPint] })).says).toMatch(/300 g.*227 g/)
  })
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

describe('a process that the co-op noted', () => {
  const noted: LocalProcess = {
    id: 'one',
    product: 'damson cheese',
    method: 'boiling-water',
    pack: 'hot',
    jars: ['half-pint', 'pint'],
    fromM: 0,
    toM: 500,
    minutes: 15,
    kPa: null,
    headspaceMm: 6,
    acid: '',
    source: 'invented for tests',
    notedBy: 'Mara',
    notedOn: '2026-09-01',
    withdrawn: false,
  }
  const cheese = canned({
    inputs: [cropInput('damson')],
    packs: [packOf({ key: 'pint', jar: 'pint' })],
    process: claimOf({ product: 'damson cheese', local: 'one' }),
  })
  const withNote = (changes: Partial<LocalProcess> = {}, place: Partial<KitchenPlace> = {}) =>
    judged(cheese, { ...lowKitchen, local: [{ ...noted, ...changes }], ...place })

  test('covers what it says, at both ends of its altitudes', () => {
    for (const altitudeM of [0, 500]) {
      expect(withNote({}, { altitudeM })).toMatchObject({ standing: 'local', shelfStable: true, process: null })
    }
    expect(withNote().local?.minutes).toBe(15)
  })

  test.each([
    [{ withdrawn: true }, 'local-elsewhere process'],
    [{ fromM: 300 }, 'local-elsewhere '],
    [{ toM: 199 }, 'local-elsewhere '],
    [{ jars: ['half-pint'] as const }, 'local-elsewhere packs.0'],
    [{ pack: 'raw' as const }, 'local-elsewhere process'],
    [{ method: 'dial-gauge' as const, kPa: 76 }, 'local-elsewhere process'],
    [{ id: 'another' }, 'local-elsewhere process'],
  ])('does not cover more: %j', (changes, found) => {
    expect(withNote(changes)).toMatchObject({ standing: 'departs', shelfStable: false, found: [found] })
  })

  test('needs to know how high the kitchen lies', () => {
    expect(withNote({}, { altitudeM: null }).found).toEqual(['altitude-unknown '])
  })

  test('is not shortened either', () => {
    const short = {
      ...cheese,
      definition: { ...cheese.definition, process: claimOf({ local: 'one', minutes: 10, headspaceMm: 3 }) },
    }
    expect(judged(short, { ...lowKitchen, local: [noted] }).found).toEqual([
      'shorter-time process',
      'less-headspace process',
    ])
  })

  test('under pressure needs its own gauge', () => {
    const dialed = { ...noted, method: 'dial-gauge' as const, kPa: 76 }
    const recipe = { ...cheese, method: 'pressure-canned' as const }
    expect(judged(recipe, { ...lowKitchen, gauges: ['weighted'], local: [dialed] }).found).toEqual(['gauge-missing '])
    expect(judged(recipe, { ...lowKitchen, gauges: ['dial'], local: [dialed] }).standing).toBe('local')
  })
})
