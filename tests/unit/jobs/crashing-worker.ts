import { parentPort } from 'node:worker_threads'
import type { AllocationRequest } from '../../../src/jobs/allocation-messages.ts'

// Dies on a problem without a budget, answers any other with nothing.
parentPort?.on('message', ({ problem }: AllocationRequest) => {
  if (problem.budget === null) throw new Error('out of jars')
  parentPort?.postMessage({ kind: 'failed', message: 'alive', refusals: null })
})
