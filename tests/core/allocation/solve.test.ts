import { expect, it } from 'vitest'
import {
  checkAllocation,
  greedyBestGain,
  greedyFirstCome,
  solveAllocation,
} from '../../../src/core/allocation/index.ts'
import { sizes } from '../../benchmarks/plain-glut.ts'
import { richGlut } from '../../benchmarks/rich-glut.ts'

it.each([1, 2, 3])(
  'divides a household glut better than either plain rule, and the checker passes all three (seed %i)',
  async (seed) => {
    const problem = richGlut(sizes.household, seed)
    const firstCome = greedyFirstCome(problem)
    const bestGain = greedyBestGain(problem)
    const result = await solveAllocation(problem, { gap: 0.05 })
    expect(checkAllocation(problem, firstCome)).toEqual([])
    expect(checkAllocation(problem, bestGain)).toEqual([])
    expect(checkAllocation(problem, result)).toEqual([])
    expect(result.objective).toBeGreaterThanOrEqual(Math.max(firstCome.objective, bestGain.objective))
    expect(result.bound).toBeGreaterThanOrEqual(result.objective)
  },
)
