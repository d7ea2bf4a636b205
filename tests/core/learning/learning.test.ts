import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  believe,
  learn,
  likelyShare,
  type Observation,
  strengths,
  withLearnt,
} from '../../../src/core/learning/index.ts'
import type { Recipe } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'

describe('shrinkage', () => {
  test('by hand: four batches that gave 10 % more, as many as the recipe weighs, move it half way', () => {
    // Conjugate normal with known spread: m n / (n + k) = ln(1.1) 4 / (4 + 4) = 0.5 ln(1.1), so the factor is √1.1.
    const four = believe([1.1, 1.1, 1.1, 1.1], { batches: 4, spread: 0.1 })
    expect(four.factor).toBeCloseTo(Math.sqrt(1.1), 12)
    // Predictive spread: 0.1 √(1 + 1/8) = 0.1060660; times 1.2815516 = 0.1359291.
    expect(Math.log(four.high / four.factor)).toBeCloseTo(0.1359291, 6)
    expect(Math.log(four.factor / four.low)).toBeCloseTo(0.1359291, 6)
  })

  test('by hand: one batch of 21 % more and one of the recipe’s own, with a strength of 2', () => {
    // (ln 1.21 + ln 1) / (2 + 2) = 0.1906204 / 4 = 0.0476551; exp = 1.0488088, which is √1.1.
    expect(believe([1.21, 1], { batches: 2, spread: 0.2 }).factor).toBeCloseTo(1.0488088, 7)
  })

  test('nothing seen leaves the recipe', () => {
    expect(believe([], strengths.yield)).toMatchObject({ factor: 1, batches: 0 })
  })

  test('lies between the recipe and what batches gave, and comes closer with each', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 3, noNaN: true }), fc.integer({ min: 1, max: 60 }), (ratio, n) => {
        const { factor } = believe(Array(n).fill(ratio), strengths.yield)
        const next = believe(Array(n + 1).fill(ratio), strengths.yield).factor
        expect(Math.abs(Math.log(factor))).toBeLessThanOrEqual(Math.abs(Math.log(ratio)) + 1e-12)
        expect(Math.abs(Math.log(next / ratio))).toBeLessThanOrEqual(Math.abs(Math.log(factor / ratio)) + 1e-12)
      }),
      { numRuns: 300 },
    )
  })

  test('the likely range holds about four of five next batches where the belief’s own model is true', () => {
    // Drawn from the model itself: a recipe's mean by its prior, batches around it. Seeded, so that it is repeatable.
    const { batches: k, spread } = strengths.yield
    const draw = normals(7)
    let within = 0
    const runs = 4000
    for (let run = 0; run < runs; run++) {
      const mean = draw() * (spread / Math.sqrt(k))
      const seen = Array.from({ length: 6 }, () => Math.exp(mean + draw() * spread))
      const { low, high } = believe(seen, strengths.yield)
      const next = Math.exp(mean + draw() * spread)
      if (low <= next && next <= high) within++
    }
    // standard error √(0.8 × 0.2 / 4000) = 0.0063: four of them
    expect(Math.abs(within / runs - likelyShare)).toBeLessThan(0.026)
  })

  test('what is no ratio is refused', () => {
    for (const wrong of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => believe([wrong], strengths.yield)).toThrow(RangeError)
  })
})

const jam = starterNamed('Damson jam')
const pack = jam.definition.packs[0]
if (pack === undefined) throw new Error('damson jam has no pack')
const batch = (more: Partial<Observation>): Observation => ({
  recipeId: jam.id,
  pack: pack.key,
  inGrams: 12 * pack.gramsPerUnit,
  units: 12,
  trimGrams: null,
  handMinutes: null,
  expected: { units: 12, trimGrams: 1000, handMinutes: 60 },
  ...more,
})

describe('a recipe that was made', () => {
  test('asks for less fruit a jar where batches gave more jars', () => {
    const seen = Array(4).fill(batch({ units: 15 }))
    const { definition } = withLearnt(jam, learn(jam, seen))
    // 12 jars expected, 15 came, four batches of strength four: √(15 / 12) more jars of the same fruit.
    expect(definition.packs[0]?.gramsPerUnit).toBe(Math.round(pack.gramsPerUnit / Math.sqrt(15 / 12)))
  })

  test('takes longer where hands took longer, everywhere alike, and keeps its process', () => {
    const seen = Array(3).fill(batch({ handMinutes: 240 }))
    const { definition } = withLearnt(jam, learn(jam, seen))
    // ratio 4, three batches of strength three: factor 2
    expect(definition.steps.map(({ minutes }) => minutes.perKg)).toEqual(
      jam.definition.steps.map(({ minutes }) => expect.closeTo(minutes.perKg * 2, 9)),
    )
    expect(definition.process).toBe(jam.definition.process)
    expect(definition.packs.map(({ runs }) => runs.map((run) => run.machineMinutes))).toEqual(
      jam.definition.packs.map(({ runs }) => runs.map((run) => run.machineMinutes)),
    )
  })

  test('stays itself where nothing of it was seen', () => {
    expect(withLearnt(jam, learn(jam, [batch({ recipeId: 'another', units: 30 })]))).toBe(jam)
    expect(
      withLearnt(jam, learn(jam, [batch({ units: 30, expected: { units: 2, trimGrams: 0, handMinutes: 0 } })])),
    ).toBe(jam)
  })

  test('never trims away all of it', () => {
    const seen = Array(200).fill(batch({ trimGrams: 9000, expected: { units: 12, trimGrams: 10, handMinutes: 60 } }))
    for (const { trim } of withLearnt(jam, learn(jam, seen)).definition.inputs)
      expect(trim.reduce((sum, { share }) => sum + share, 0)).toBeLessThan(1)
  })
})

function starterNamed(name: string): Recipe {
  const found = starters.find((one) => one.name === name)
  if (!found) throw new Error(`there is no starter "${name}"`)
  return { id: 'jam', name: found.name, method: found.method, definition: found.definition }
}

/** Standard normals by Box and Muller from a small seeded generator. */
function normals(seed: number): () => number {
  let state = seed
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state + 0.5) / 2 ** 32
  }
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}
