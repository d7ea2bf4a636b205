import { setTimeout as sleep } from 'node:timers/promises'
import { afterEach, describe, expect, it } from 'vitest'
import type { AllocationResult } from '../../../src/core/allocation/index.ts'
import { type AllocationJobs, createAllocationJobs } from '../../../src/jobs/allocation.ts'
import { textAt } from '../../support/html.ts'
import { answerOf, demonstrationApp, divide, divideAtLength, type PlanKitchen, workedOut } from './kitchen.ts'

let kitchen: PlanKitchen | null = null
afterEach(async () => {
  await kitchen?.close()
  kitchen = null
})

const quiet = { info: () => {}, warn: () => {} }

/** Real jobs whose answers pass through a hand before they are given back. */
function jobsWith(change: (result: AllocationResult) => AllocationResult | Promise<AllocationResult>): AllocationJobs {
  const real = createAllocationJobs({ threads: 1, log: quiet })
  return {
    close: (options) => real.close(options),
    solve(problem, options) {
      const job = real.solve(problem, options)
      return { ...job, result: job.result.then(change) }
    },
  }
}

describe('an answer that does not hold', () => {
  it.each<[string, (result: AllocationResult) => AllocationResult, RegExp]>([
    [
      'grams out of nothing',
      (result) => ({
        ...result,
        allocations: result.allocations.map((use, i) => (i === 0 ? { ...use, grams: use.grams + 1_000 } : use)),
      }),
      /does not hold/,
    ],
    ['more worth than it has', (result) => ({ ...result, objective: result.objective + 500 }), /does not hold/],
    [
      'a proof that was not made',
      (result) => ({ ...result, status: 'proved', bound: result.objective * 2 }),
      /does not hold/,
    ],
    ['batches left out', (result) => ({ ...result, batches: result.batches.slice(1) }), /does not hold/],
  ])('is refused and not saved: %s', async (_, damage, words) => {
    kitchen = await demonstrationApp({ jobs: jobsWith(damage), environment: { SOLVE_SECONDS: '1' } })
    const path = await divide(kitchen)
    const $ = await workedOut(kitchen, path)
    expect(textAt($, '.lead')).toMatch(words)
    const row = await kitchen.prisma.division.findFirstOrThrow()
    expect(row.state).toBe('failed')
    expect(row.answer).toBeNull()
    expect($(`form[action="${kitchen.planPath}/divisions"] button`).text()).toBe('Work it out again')
  })

  it('is not given when the thread breaks', async () => {
    const jobs = jobsWith(() => Promise.reject(new Error('the thread that divided the produce failed')))
    kitchen = await demonstrationApp({ jobs, environment: { SOLVE_SECONDS: '1' } })
    const $ = await workedOut(kitchen, await divide(kitchen))
    expect(textAt($, '.lead')).toBe('The work broke off before there was an answer. Work it out again.')
    expect((await kitchen.prisma.division.findFirstOrThrow()).state).toBe('failed')
  })

  it('is not waited for for ever when the thread hangs', async () => {
    const worker = new URL('../../support/hanging-divider.ts', import.meta.url)
    const jobs = createAllocationJobs({ threads: 1, log: quiet, worker, graces: { afterTimeMs: 50 } })
    kitchen = await demonstrationApp({ jobs, environment: { SOLVE_SECONDS: '1' } })
    const path = await divide(kitchen)
    const $ = await workedOut(kitchen, path)
    expect(textAt($, '.lead')).toBe(
      'The work gave no answer long after its time, and was ended. Work it out again, and tell the person who hosts the kitchen if it stays.',
    )
    expect((await kitchen.prisma.division.findFirstOrThrow()).state).toBe('failed')
    expect($(`form[action="${kitchen.planPath}/divisions"] button`).text()).toBe('Work it out again')
  })
})

describe('while a division is worked out', () => {
  it('it can be stopped, and the best so far is kept', async () => {
    kitchen = await demonstrationApp({ environment: { SOLVE_SECONDS: '120' } })
    const path = await divideAtLength(kitchen)
    let shown = ''
    for (let tries = 0; tries < 200 && !shown.includes('Being worked out'); tries++) {
      await sleep(100)
      shown = (await kitchen.getPage(path))('main').text()
    }
    expect(shown).toContain('Best so far, in worth')
    expect((await answerOf(kitchen, path)).progress.objective).toBeGreaterThan(0)
    const began = performance.now()
    expect(await kitchen.postTaken(`${path}/stop`, {}, { from: path })).toBe(path)
    const $ = await workedOut(kitchen, path)
    expect(performance.now() - began).toBeLessThan(30_000)
    expect($('#division').text()).toContain('Stopped by hand')
    const { answer, stopAsked } = await answerOf(kitchen, path)
    expect(stopAsked).toBe(true)
    expect(answer.result.status).toBe('stopped')
    expect(answer.result.batches.length).toBeGreaterThan(0)
  })

  it('others are answered at once and their writes are saved: no transaction is open', async () => {
    let release: () => void = () => {}
    const held = new Promise<void>((resolve) => {
      release = resolve
    })
    kitchen = await demonstrationApp({
      jobs: jobsWith((result) => held.then(() => result)),
      environment: { SOLVE_SECONDS: '1' },
    })
    const path = await divide(kitchen)
    const began = performance.now()
    await kitchen.postTaken(`${kitchen.planPath}/outlets`, { budget: '12', go: 'save' })
    expect(performance.now() - began).toBeLessThan(2_000)
    expect((await kitchen.prisma.plan.findFirstOrThrow()).budgetMinor).toBe(1_200)
    release()
    // the plan has moved meanwhile: the answer is kept, and says that it is to an older question
    const $ = await workedOut(kitchen, path)
    expect(textAt($, '.panel h2')).toBe('The plan has changed since')
    expect($('.panel').text()).toContain('$12.00 may be spent instead of $90.00')
    expect((await answerOf(kitchen, path)).planMoved).toBe(true)
  })

  it('a plan that was changed and changed back says so too', async () => {
    let release: () => void = () => {}
    const held = new Promise<void>((resolve) => {
      release = resolve
    })
    kitchen = await demonstrationApp({
      jobs: jobsWith((result) => held.then(() => result)),
      environment: { SOLVE_SECONDS: '1' },
    })
    const path = await divide(kitchen)
    for (const budget of ['12', '90']) await kitchen.postTaken(`${kitchen.planPath}/outlets`, { budget, go: 'save' })
    release()
    const $ = await workedOut(kitchen, path)
    expect($('.panel').text()).toContain('changed while this was worked out, and changed back')
  })

  it('the same form sent twice asks only once', async () => {
    kitchen = await demonstrationApp({ environment: { SOLVE_SECONDS: '1' } })
    const form = { _submission: 'the-very-same-form' }
    const paths = [
      await kitchen.postTaken(`${kitchen.planPath}/divisions`, form, { from: kitchen.planPath }),
      await kitchen.postTaken(`${kitchen.planPath}/divisions`, form, { from: kitchen.planPath }),
    ]
    expect(paths[0]).toBe(paths[1])
    expect(await kitchen.prisma.division.count()).toBe(1)
  })

  it('two at the same moment get two numbers, one after the other', async () => {
    kitchen = await demonstrationApp({ environment: { SOLVE_SECONDS: '1' } })
    const paths = await Promise.all([divide(kitchen), divide(kitchen)])
    expect([...paths].sort()).toEqual([1, 2].map((number) => `${kitchen?.planPath}/divisions/${number}`))
    for (const path of paths) await workedOut(kitchen, path)
    expect(await kitchen.prisma.division.count({ where: { state: 'done' } })).toBe(2)
  })
})

describe('a service that was stopped', () => {
  it('leaves a division unanswered, and works it out at its next start', async () => {
    const never = jobsWith(() => new Promise<AllocationResult>(() => {}))
    kitchen = await demonstrationApp({ jobs: never, environment: { SOLVE_SECONDS: '1' } })
    const path = await divide(kitchen)
    const row = await kitchen.prisma.division.findFirstOrThrow()
    expect(row.finishedAt).toBeNull()
    // another process on the same database
    const { testApp } = await import('../../support/app.ts')
    const database = {
      prisma: kitchen.prisma,
      kind: 'embedded' as const,
      checkReady: async () => ({ ready: true as const }),
      close: async () => {},
      withMigrationConnection: async () => {
        throw new Error('nobody migrates here')
      },
    }
    const next = await testApp({ database, now: '2026-09-18T12:05:00Z', environment: { SOLVE_SECONDS: '1' } })
    expect(await next.app.queue.start()).toBe(1)
    const $ = await workedOut({ ...next, planId: kitchen.planId, planPath: kitchen.planPath }, path)
    expect($('#products').length).toBe(1)
    expect(await next.app.queue.start()).toBe(0)
    await next.close()
  })
})
