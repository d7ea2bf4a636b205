import { afterEach, expect, it } from 'vitest'
import { checkAllocation, ProblemRefused } from '../../../src/core/allocation/index.ts'
import { type AllocationJobs, createAllocationJobs } from '../../../src/jobs/allocation.ts'
import type { AllocationProgress } from '../../../src/jobs/allocation-messages.ts'
import { sizes } from '../../benchmarks/plain-glut.ts'
import { richGlut } from '../../benchmarks/rich-glut.ts'
import { larkriseWeekend } from '../../core/allocation/larkrise.ts'

const said: string[] = []
const log = {
  info: (_: object, message: string) => void said.push(message),
  warn: (_: object, message: string) => void said.push(message),
}
let jobs: AllocationJobs | undefined

afterEach(async () => {
  await jobs?.close()
  jobs = undefined
  said.length = 0
})

it('solves on a thread while the main loop keeps ticking, and tells of its progress', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const progress: AllocationProgress[] = []
  let ticks = 0
  const clock = setInterval(() => ticks++, 10)
  const began = performance.now()
  const problem = richGlut(sizes.coop, 1)
  const result = await jobs.solve(problem, { timeLimitMs: 3000, onProgress: (p) => progress.push(p) }).result
  const took = performance.now() - began
  clearInterval(clock)
  expect(checkAllocation(problem, result)).toEqual([])
  // A loop that is blocked would not tick at all; an idle one 1 in 10 ms. Others use this machine too.
  expect(ticks).toBeGreaterThan((took / 10) * 0.4)
  expect(progress.length).toBeGreaterThan(0)
})

it('ends at its time limit', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const problem = richGlut(sizes.coopScarce, 2)
  const result = await jobs.solve(problem, { timeLimitMs: 1500 }).result
  expect(result.status).toBe('limit')
  // Far from the minutes that it goes on for without one; how near it comes is for `npm run bench:allocation` to say.
  expect(result.elapsedMs).toBeLessThan(15_000)
  expect(Number.isFinite(result.bound)).toBe(true)
})

it('can be stopped and keeps the best so far', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const problem = richGlut(sizes.coopScarce, 3)
  const job = jobs.solve(problem, {
    timeLimitMs: 60_000,
    onProgress: ({ elapsedMs }) => {
      if (elapsedMs > 800) job.stop()
    },
  })
  const result = await job.result
  expect(result.status).toBe('stopped')
  // Far from its minute; the solver looks up only between two of its own steps.
  expect(result.elapsedMs).toBeLessThan(15_000)
  expect(result.batches.length).toBeGreaterThan(0)
  expect(checkAllocation(problem, result)).toEqual([])
  expect(await job.steps).toEqual([])
})

it('asks afterwards what a step more is worth, if it is told to', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const job = jobs.solve(larkriseWeekend(), { timeLimitMs: 20_000, stepsMs: 20_000 })
  expect((await job.result).status).toBe('proved')
  const steps = await job.steps
  expect(steps.length).toBeGreaterThan(0)
  expect(Math.min(...steps.map(({ gain }) => gain))).toBeGreaterThan(0)
})

it('says what is wrong with a problem that is refused, and solves the next one', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const problem = richGlut(sizes.household, 1)
  await expect(jobs.solve({ ...problem, spoilagePerKg: Number.NaN }).result).rejects.toBeInstanceOf(ProblemRefused)
  const result = await jobs.solve(problem, { gap: 0.02 }).result
  expect(checkAllocation(problem, result)).toEqual([])
})

it('rejects when its thread dies, says so in the log, and starts a new thread for the next solve', async () => {
  jobs = createAllocationJobs({ threads: 1, log, worker: new URL('./crashing-worker.ts', import.meta.url) })
  const problem = richGlut(sizes.household, 1)
  await expect(jobs.solve(problem).result).rejects.toThrow('the thread that divided the produce failed: out of jars')
  expect(said).toContain('a thread that divided produce failed')
  await expect(jobs.solve({ ...problem, budget: 1 }).result).rejects.toThrow('alive')
})

it('gives back running and waiting solves when it closes, and takes no more', async () => {
  jobs = createAllocationJobs({ threads: 1, log })
  const problem = richGlut(sizes.coop, 4)
  const running = jobs.solve(problem, { timeLimitMs: 60_000 })
  const queued = jobs.solve(problem, { timeLimitMs: 60_000 })
  // a busy machine may take long to start the thread: how soon they are cut off is not what this is about
  await jobs.close({ graceMs: 300, stopMs: 40_000 })
  for (const job of [running, queued]) {
    const result = await job.result
    expect(result.status).toBe('stopped')
    expect(checkAllocation(problem, result)).toEqual([])
  }
  expect(() => jobs?.solve(problem)).toThrow('closing')
}, 60_000)
