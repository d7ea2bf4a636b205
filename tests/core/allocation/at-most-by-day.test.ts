import { describe, expect, it } from 'vitest'
import {
  type AllocationProblem,
  checkAllocation,
  checkProblem,
  greedyBestGain,
  greedyFirstCome,
  solveAllocation,
} from '../../../src/core/allocation/index.ts'
import { askDivision, type ClockLimit, productId } from '../../../src/core/division/index.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'
import { diceFrom } from '../scheduling/random-problems.ts'
import { item, kitchen, product } from './larkrise.ts'
import { randomProblem } from './random-problem.ts'
import { referenceOptimum } from './reference.ts'

const days = ['2026-09-04', '2026-09-05']

function twoDays(atMostByDay: (number | null)[]): AllocationProblem {
  const plums = item('plums', 'plums', 10, { classByDay: ['ripe', 'ripe'] })
  return kitchen({ days, items: [plums], products: [product('jam', 'plums', { atMostByDay })] })
}

describe('at most so many on a day', () => {
  it.each([
    [[null, null], 10],
    [[3, null], 10],
    [[3, 2], 5],
    [[0, 0], 0],
    [[0, 4], 4],
  ])('%j: %i jars of ten kilograms', async (atMostByDay, units) => {
    const problem = twoDays(atMostByDay)
    for (const result of [await solveAllocation(problem), greedyFirstCome(problem), greedyBestGain(problem)]) {
      expect(result.batches.reduce((sum, batch) => sum + batch.units, 0)).toBe(units)
      expect(checkAllocation(problem, result).filter(({ rule }) => rule !== 'bound' && rule !== 'gap')).toEqual([])
    }
  })

  it('names no other limit where every day is limited so', async () => {
    expect((await solveAllocation(twoDays([3, 2]))).reasons).toEqual([{ productId: 'jam', units: 5, limits: [] }])
  })

  it.each([
    [[3], /1 entries for 2 days/],
    [[3, 1.5], /at most by day/],
    [[-1, null], /at most by day/],
  ])('refuses %j', (atMostByDay, says) => {
    const refusals = checkProblem(twoDays(atMostByDay))
    expect(refusals.map(({ where, detail }) => `${where}: ${detail}`).join()).toMatch(says)
  })

  it.each(Array.from({ length: 40 }, (_, seed) => seed + 1))('problem %i by chance is divided best', async (seed) => {
    const dice = diceFrom(seed)
    const asked = randomProblem(seed, 2)
    const problem = {
      ...asked,
      products: asked.products.map((one) => ({
        ...one,
        atMostByDay: asked.days.map(() => (dice.yes(0.6) ? dice.whole(0, 3) : null)),
      })),
    }
    const result = await solveAllocation(problem)
    expect(checkAllocation(problem, result)).toEqual([])
    const best = await referenceOptimum(problem)
    if (best === null) throw new Error('the reference found nothing')
    // The reference counts fractions of a gram; a gram here and there is worth a few minor units at the very most.
    expect(Math.abs(result.objective - best)).toBeLessThanOrEqual(5 + 1e-4 * Math.abs(best))
  })
})

describe('what a timetable taught', () => {
  const question = demonstrationQuestion()
  const wish = question.wishes[0]
  const day = question.days[0]
  if (!wish || !day) throw new Error('the demonstration wishes for nothing')
  const id = productId(wish.recipeId, wish.pack)
  const asked = (clock: ClockLimit[]) => askDivision({ ...question, clock })

  it('limits units of the day, the least of what was told', () => {
    const limit = (atMost: number): ClockLimit => ({ kind: 'units', productId: id, dayId: day.id, atMost })
    const { products } = asked([limit(7), limit(4)])
    const others = question.days.slice(1).map(() => null)
    expect(products.find((one) => one.id === id)?.atMostByDay).toEqual([4, ...others])
    expect(products.filter((one) => one.atMostByDay).map((one) => one.id)).toEqual([id])
  })

  it('limits machine minutes, never above what there is', () => {
    const minutes = (told: number) =>
      asked([{ kind: 'machine', machine: 'canner', dayId: day.id, minutes: told }]).machines.find(
        (one) => one.id === 'canner',
      )?.minutesByDay[0]
    expect(minutes(90)).toBe(90)
    expect(minutes(1e6)).toBe(askDivision(question).machines.find((one) => one.id === 'canner')?.minutesByDay[0])
  })
})
