import { describe, expect, test } from 'vitest'
import { ascorbicAcidFor, bathNames, baths } from '../../../src/core/practice/index.ts'

const gallon = 3785.411784

describe('ascorbic acid against browning', () => {
  // Guide 1 p. 1-11: 1 tsp, about 3 g, or six 500 mg tablets to the gallon; 0.79 g a litre.
  test('is 3 g, a teaspoon or six tablets to the gallon', () => {
    const acid = ascorbicAcidFor('holding', gallon)
    expect(acid.grams).toBeCloseTo(3, 9)
    expect(acid.teaspoons).toBeCloseTo(1, 9)
    expect(acid.tablets).toBe(6)
    expect(ascorbicAcidFor('holding', 1000).grams).toBeCloseTo(0.79, 2)
  })

  test('is the larger of two amounts that one recipe prints as equal: 3 g, not 1.5', () => {
    expect(ascorbicAcidFor('pie peaches', gallon).grams).toBeCloseTo(3, 9)
  })

  // Guide 2 p. 2-25: 1,500 mg to the half gallon; a Canadian guide: 1/2 tsp to the quart of syrup; 20 tablets in 2 cups.
  test.each([
    ['salsa soak', gallon / 2, 1.5, 3],
    ['freezing syrup', gallon / 4, 1.5, 3],
    ['before drying', gallon / 8, 10, 20],
  ] as const)('%s is as printed', (name, ml, grams, tablets) => {
    expect(ascorbicAcidFor(name, ml)).toMatchObject({ tablets })
    expect(ascorbicAcidFor(name, ml).grams).toBeCloseTo(grams, 9)
  })

  test('before drying agrees with the 3 3/4 teaspoons printed beside its tablets, within 15 %', () => {
    expect(Math.abs(ascorbicAcidFor('before drying', gallon / 8).teaspoons / 3.75 - 1)).toBeLessThan(0.15)
  })

  test('counts whole tablets, never too few', () => {
    for (const name of bathNames) {
      for (const ml of [1, 250, 999, 5000]) {
        const { grams, tablets } = ascorbicAcidFor(name, ml)
        expect(tablets * 0.5).toBeGreaterThanOrEqual(grams - 1e-9)
        expect((tablets - 1) * 0.5).toBeLessThan(grams)
      }
    }
  })

  test('needs water, and says where it is from', () => {
    expect(() => ascorbicAcidFor('holding', 0)).toThrow(RangeError)
    for (const name of bathNames) expect(baths[name].source.confidence).toBe('seen')
  })
})
