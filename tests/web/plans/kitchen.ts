import { loadDemonstration } from '../../../seed/load.ts'
import { createAllocationJobs } from '../../../src/jobs/allocation.ts'
import { type TestApp, type TestAppOptions, testApp } from '../../support/app.ts'

/** The demonstration co-op on its first morning, a Friday, with all its lots, days, recipes, outlets and one plan. */
export async function demonstrationApp(options: TestAppOptions = {}): Promise<TestApp & { planId: string }> {
  const kitchen = await testApp({
    coop: false,
    now: '2026-09-18T12:00:00Z',
    ...options,
    environment: { SOLVE_SECONDS: '2', ...options.environment },
  })
  let next = 0
  // ids that say in a failure which thing they are
  await loadDemonstration(kitchen.prisma, kitchen.app.clock.now(), () => `seed-${(next++).toString(36)}`)
  const plan = await kitchen.prisma.plan.findFirstOrThrow()
  return { ...kitchen, planId: plan.id }
}

/** Real jobs, for a double that changes what they answer. */
export const realJobs = () => createAllocationJobs({ threads: 1, log: { info: () => {}, warn: () => {} } })
