import { parentPort, threadId } from 'node:worker_threads'
import type { AllocationRequest } from '../../src/jobs/allocation-messages.ts'

// Hangs on a problem that is to be proved (gap 0); gives half of one an answer and hangs after it; answers any other
// with nothing but which thread it is.
parentPort?.on('message', ({ gap }: AllocationRequest) => {
  if (gap === 0.5) parentPort?.postMessage({ kind: 'result', result: { status: 'limit' } })
  while (gap === 0 || gap === 0.5);
  parentPort?.postMessage({ kind: 'failed', message: `alive on ${threadId}`, refusals: null })
})
