import { afterEach, describe, expect, it } from 'vitest'
import { type AllocationJobs, createAllocationJobs } from '../../../src/jobs/allocation.ts'
import { ThreadHung } from '../../../src/jobs/patience.ts'
import { type AgreeTask, createTimetableJobs } from '../../../src/jobs/timetable.ts'
import { createWorthJobs, type WorthTask } from '../../../src/jobs/worth.ts'
import { larkriseWeekend } from '../../core/allocation/larkrise.ts'

// Real threads that loop for ever. What answers is given minutes, so that no busy machine takes it for one that hangs.
const minutes = 600_000
const afterItsTime = { afterTimeMs: 50, afterStopMs: minutes }
const afterAStop = { afterTimeMs: minutes, afterStopMs: 50 }

const open: { close(): Promise<void> }[] = []
afterEach(async () => {
  await Promise.all(open.splice(0).map((jobs) => jobs.close()))
})

describe('a thread that hangs over a division', () => {
  const said: { error?: string }[] = []
  const log = { info: () => {}, warn: (details: object) => void said.push(details) }

  function jobsWith(graces: typeof afterItsTime): AllocationJobs {
    said.length = 0
    const worker = new URL('../../support/hanging-divider.ts', import.meta.url)
    const jobs = createAllocationJobs({ threads: 1, log, worker, graces })
    open.push(jobs)
    return jobs
  }

  async function threadOf(jobs: AllocationJobs): Promise<string> {
    const job = jobs.solve(larkriseWeekend(), { gap: 1, timeLimitMs: minutes })
    return job.result.then(
      () => 'an answer',
      ({ message }: Error) => message,
    )
  }

  it('is ended after its time, the division fails, and the next one in line gets a fresh thread', async () => {
    const jobs = jobsWith(afterItsTime)
    const before = await threadOf(jobs)
    expect(before).toMatch(/^alive on \d+$/)
    const job = jobs.solve(larkriseWeekend(), { timeLimitMs: 50 })
    const inLine = threadOf(jobs)
    const error = await job.result.catch((thrown: unknown) => thrown)
    expect(error).toBeInstanceOf(ThreadHung)
    expect(String(error)).toContain('gave no answer 0.05 s after its time was over')
    await expect(job.steps).rejects.toBe(error)
    expect(await inLine).toMatch(/^alive on \d+$/)
    expect(await inLine).not.toBe(before)
    expect(said).toEqual([{ error: (error as Error).message }])
  })

  it('is ended when it does not heed a stop', async () => {
    const jobs = jobsWith(afterAStop)
    const before = await threadOf(jobs)
    const job = jobs.solve(larkriseWeekend(), { timeLimitMs: minutes })
    job.stop()
    await expect(job.result).rejects.toThrow('after it was asked to stop')
    const after = await threadOf(jobs)
    expect(after).toMatch(/^alive on \d+$/)
    expect(after).not.toBe(before)
  })

  it('after its answer leaves the answer, and fails only what was asked afterwards', async () => {
    const jobs = jobsWith(afterItsTime)
    const job = jobs.solve(larkriseWeekend(), { gap: 0.5, timeLimitMs: minutes, stepsMs: 50 })
    expect((await job.result).status).toBe('limit')
    await expect(job.steps).rejects.toBeInstanceOf(ThreadHung)
    expect(await threadOf(jobs)).toMatch(/^alive on \d+$/)
  })
})

// what these threads do is told by `maxSchedules` alone
const worker = new URL('../../support/hanging-thread.ts', import.meta.url)

describe('a thread that hangs over a timetable', () => {
  const task = (maxSchedules: number, divideMs: number) => ({ kind: 'agree', maxSchedules, divideMs }) as AgreeTask

  it('is ended after its time, and the next one is worked out', async () => {
    const jobs = createTimetableJobs({ worker, graces: afterItsTime })
    open.push(jobs)
    const hung = jobs.solve(task(2, 50)).answer
    const next = jobs.solve(task(0, minutes)).answer
    await expect(hung).rejects.toBeInstanceOf(ThreadHung)
    expect((await next).worked).toBe('worked out')
  })

  it('is ended when it does not heed a stop, though it told of itself', async () => {
    const jobs = createTimetableJobs({ worker, graces: afterAStop })
    open.push(jobs)
    const told: number[] = []
    const job = jobs.solve(task(2, minutes), ({ unitsOver }) => {
      told.push(unitsOver)
      job.stop()
    })
    await expect(job.answer).rejects.toThrow('after it was asked to stop')
    expect(told).toContain(2)
  })
})

describe('a thread that hangs over a help', () => {
  const task = (maxSchedules: number, divideMs: number) => ({ maxSchedules, divideMs }) as WorthTask

  it('is ended after its time, and the next one is tried', async () => {
    const jobs = createWorthJobs({ worker, graces: afterItsTime })
    open.push(jobs)
    const tried: unknown[] = []
    const hung = jobs.work(task(2, 50), () => {}).ended
    const next = jobs.work(task(0, minutes), (one) => tried.push(one)).ended
    await expect(hung).rejects.toBeInstanceOf(ThreadHung)
    expect(await next).toBe('done')
    expect(tried).toEqual([0])
  })
})
