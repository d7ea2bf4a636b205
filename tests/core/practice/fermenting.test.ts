import { describe, expect, test } from 'vitest'
import {
  brixOf,
  dilute,
  expectedAcidity,
  fermentTime,
  fromSugar,
  scrapVinegar,
  simpleSugarIn,
  sugarForAcidity,
  sugarPerLitre,
  titratedAcidity,
  vinegarMaking,
  vinegarUse,
} from '../../../src/core/practice/index.ts'

const celsius = (fahrenheit: number) => ((fahrenheit - 32) * 5) / 9

describe('weeks of fermenting', () => {
  // Guide 6 p. 6-7 and 6-8
  test.each([
    ['sauerkraut', 70, [3, 4]],
    ['sauerkraut', 75, [3, 4]],
    ['sauerkraut', 62, [5, 6]],
    ['dill pickles', 72, [3, 4]],
    ['dill pickles', 55, [5, 6]],
    ['dill pickles', 65, [5, 6]],
  ] as const)('%s at %d °F: as printed', (ferment, fahrenheit, weeks) => {
    expect(fermentTime(ferment, celsius(fahrenheit))).toMatchObject({ answer: 'weeks', weeks, printed: true })
  })

  test('between two printed bands run from the quicker to the slower, and are not called printed', () => {
    for (const ferment of ['sauerkraut', 'dill pickles'] as const) {
      expect(fermentTime(ferment, celsius(67.5))).toMatchObject({ weeks: [3, 6], printed: false })
    }
    expect(fermentTime('dill pickles', celsius(78))).toMatchObject({ weeks: [3, 4], printed: false })
  })

  test('are not given where it is too warm or too cold', () => {
    expect(fermentTime('sauerkraut', celsius(76)).answer).toBe('too-warm')
    expect(fermentTime('dill pickles', celsius(79)).answer).toBe('weeks')
    expect(fermentTime('dill pickles', celsius(81)).answer).toBe('too-warm')
    expect(fermentTime('sauerkraut', celsius(59)).answer).toBe('too-cold')
    expect(fermentTime('dill pickles', celsius(54)).answer).toBe('too-cold')
    expect(() => fermentTime('sauerkraut', Number.NaN)).toThrow(RangeError)
  })
})

describe('from sugar to vinegar', () => {
  // C6H12O6 -> 2 C2H5OH + 2 CO2; C2H5OH + O2 -> CH3COOH + H2O: one mole of glucose is 180.156 g.
  test('one mole of glucose gives 92.138 g of alcohol, 88.02 of carbon dioxide, 120.104 of acetic acid', () => {
    const made = fromSugar(180.156)
    expect(made.ethanolGrams).toBeCloseTo(92.138, 3)
    expect(made.carbonDioxideGrams).toBeCloseTo(88.02, 3)
    expect(made.aceticAcidGrams).toBeCloseTo(120.104, 3)
    expect(made.ethanolGrams / 180.156).toBeCloseTo(0.5114, 4)
    // Often written 1.3036; by the masses beside it, 1.3035.
    expect(made.aceticAcidGrams / made.ethanolGrams).toBeCloseTo(1.3036, 3)
    expect(made.aceticAcidGrams / 180.156).toBeCloseTo(0.6667, 4)
    // Nothing is lost on the way from sugar to alcohol, within the rounding of atomic masses.
    expect(made.ethanolGrams + made.carbonDioxideGrams).toBeCloseTo(180.156, 2)
  })

  test('5 % asks for 75 g of sugar a litre, about 7.3 degrees Brix, and 93.8 g at four fifths', () => {
    expect(sugarForAcidity(5)).toBeCloseTo(75, 1)
    expect(brixOf(75)).toBeCloseTo(7.3, 1)
    expect(sugarForAcidity(5, 0.8)).toBeCloseTo(93.75, 1)
    expect(() => sugarForAcidity(5, 0)).toThrow(RangeError)
    expect(() => sugarForAcidity(5, 1.1)).toThrow(RangeError)
  })

  // Sugar tables at 20 °C (memory): 10 °Bx 1.0400 and 20 °Bx 1.0830 times water; within 0.3 %.
  test.each([
    [0, 0],
    [10, 104],
    [20, 216.6],
  ])('%d degrees Brix are %d g a litre', (brix, grams) => {
    expect(Math.abs(sugarPerLitre(brix) - grams)).toBeLessThanOrEqual(grams * 0.003)
    expect(brixOf(sugarPerLitre(brix))).toBeCloseTo(brix, 6)
  })

  test('is expected from Brix, and not more than all of it', () => {
    const { acidity, reachesLegalMinimum } = expectedAcidity({ brix: 12 })
    expect(acidity).toBeCloseTo((sugarPerLitre(12) * 0.8 * 0.66667) / 10, 3)
    expect(reachesLegalMinimum).toBe(true)
    expect(expectedAcidity({ brix: 7 }).reachesLegalMinimum).toBe(false)
    expect(expectedAcidity({ brix: 7.3, efficiency: 1 }).acidity).toBeCloseTo(5, 1)
    expect(() => expectedAcidity({ brix: 90 })).toThrow(RangeError)
    expect(() => expectedAcidity({ brix: 10, efficiency: 2 })).toThrow(RangeError)
  })

  test('a cup of sugar to the gallon alone falls short of 4 %: it must come from the scraps as well (common practice, no source; tolerance 0.3 points on 2.9)', () => {
    const tableSugarGramsPerLitre = (scrapVinegar.mostSugarCupsPerGallon * 200) / 3.785411784
    const alone = expectedAcidity({ brix: 0, tableSugarGramsPerLitre })
    expect(Math.abs(alone.acidity - 2.9)).toBeLessThan(0.3)
    expect(alone.reachesLegalMinimum).toBe(false)
    // Scraps that bring three degrees Brix into the water make up for it.
    expect(expectedAcidity({ brix: 3, tableSugarGramsPerLitre }).reachesLegalMinimum).toBe(true)
    expect(simpleSugarIn(342.297)).toBeCloseTo(360.312, 3)
  })

  test('scraps come out after a few days, then it stands a month or more (common practice, no source; no less than the three to four weeks printed for cider)', () => {
    expect(scrapVinegar.scrapsOutAfterDays[0]).toBeGreaterThanOrEqual(2)
    expect(scrapVinegar.scrapsOutAfterDays[1]).toBeLessThanOrEqual(7)
    expect(scrapVinegar.thenAtLeastDays).toBeGreaterThanOrEqual(vinegarMaking.weeks.high * 7)
    expect(scrapVinegar.source).toMatchObject({ confidence: 'practice' })
  })

  // Ohio HYG-5346: 60 to 80 °F, pasteurised at 140 to 160 °F; whole degrees Celsius.
  test('is made in the warmth and pasteurised as printed, within half a degree', () => {
    const { tempC, pasteuriseC } = vinegarMaking
    for (const [printed, stated] of [
      [60, tempC.low],
      [80, tempC.high],
      [140, pasteuriseC.low],
      [160, pasteuriseC.high],
    ] as const) {
      expect(Math.abs(celsius(printed) - stated)).toBeLessThan(0.5)
    }
  })
})

describe('the strength of vinegar', () => {
  test('1 ml of 0.1 M lye is 6.005 mg of acetic acid', () => {
    // In 1 ml of vinegar, 6.005 mg are 0.6005 g in 100 ml.
    expect(titratedAcidity({ mlLye: 1, molarity: 0.1, mlVinegar: 1 })).toBeCloseTo(0.6005, 4)
    // 5 ml of vinegar of 5 % take up 41.6 ml.
    expect(titratedAcidity({ mlLye: 41.63, molarity: 0.1, mlVinegar: 5 })).toBeCloseTo(5, 2)
    expect(() => titratedAcidity({ mlLye: 1, molarity: 0.1, mlVinegar: 0 })).toThrow(RangeError)
  })

  test('10 % is halved into 5 %, and nothing grows stronger by water', () => {
    expect(dilute({ from: 10, to: 5, litres: 1 })).toEqual({ vinegarLitres: 0.5, waterLitres: 0.5 })
    expect(dilute({ from: 5, to: 5, litres: 2 })).toEqual({ vinegarLitres: 2, waterLitres: 0 })
    expect(() => dilute({ from: 4.5, to: 5, litres: 1 })).toThrow(RangeError)
    expect(() => dilute({ from: Number.NaN, to: 5, litres: 1 })).toThrow(RangeError)
  })

  test('unmeasured or below 5 % is not for canning or pickling', () => {
    for (const measured of [null, 0, 4, 4.99]) {
      const use = vinegarUse(measured)
      expect(use).toMatchObject({ mayPickle: false, ingredient: 'vinegar-unmeasured' })
      expect(use.says).toMatch(/^Not for canning or pickling/)
    }
    expect(vinegarUse(4.99).says).toContain('4.9 %')
    expect(vinegarUse(5)).toMatchObject({ mayPickle: true, ingredient: 'vinegar-5' })
    expect(vinegarUse(6.2).says).toContain('bought vinegar')
    expect(() => vinegarUse(Number.NaN)).toThrow(RangeError)
    expect(() => vinegarUse(-1)).toThrow(RangeError)
  })
})
