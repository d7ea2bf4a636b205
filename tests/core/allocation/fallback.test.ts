import { expect, it, vi } from 'vitest'
import { checkAllocation, greedyBestGain, solveAllocation } from '../../../src/core/allocation/index.ts'
import { larkriseWeekend } from './larkrise.ts'

vi.mock('highs', () => ({ default: () => Promise.reject(new Error('out of memory')) }))

it('falls back on the plain rules when the solver fails, and says why', async () => {
  const problem = larkriseWeekend()
  const result = await solveAllocation(problem)
  expect(result.status).toBe('fallback')
  expect(result.trouble).toBe('Error: out of memory')
  expect(result.bound).toBe(Number.POSITIVE_INFINITY)
  expect(result.batches.length).toBeGreaterThan(0)
  expect(result.objective).toBeGreaterThan(0.9 * greedyBestGain(problem).objective)
  expect(checkAllocation(problem, result)).toEqual([])
})
