import { describe, expect, test } from 'vitest'
import { type KitchenPlace, type RecipeToJudge, verdictOn } from '../../../src/core/recipes/index.ts'
import { canned, claimOf, cropInput, definitionOf, ingredientOf, judged, lowKitchen, packOf } from './making.ts'

const at = (altitudeM: number | null): KitchenPlace => ({ ...lowKitchen, altitudeM })

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
