import { parentPort } from 'node:worker_threads'
import { ProblemRefused, solveAllocation, worthOfSteps } from '../core/allocation/index.ts'
import type { AllocationReply, AllocationRequest } from './allocation-messages.ts'

// Runs in a thread of its own: a solve blocks it, and nothing else.
if (!parentPort) throw new Error('this file runs only as a worker thread')
const port = parentPort
const reply = (message: AllocationReply) => port.postMessage(message)

port.on('message', (request: AllocationRequest) => {
  answer(request).catch((error: unknown) => {
    reply({
      kind: 'failed',
      message: error instanceof Error ? error.message : String(error),
      refusals: error instanceof ProblemRefused ? error.refusals : null,
    })
  })
})

/** Progress more often than this is not told. */
const progressEveryMs = 200

async function answer({ problem, timeLimitMs, gap, stepsMs, stop }: AllocationRequest): Promise<void> {
  const flag = new Int32Array(stop)
  const shouldStop = () => Atomics.load(flag, 0) === 1
  const now = () => performance.now()
  let told = Number.NEGATIVE_INFINITY
  const result = await solveAllocation(problem, {
    timeLimitMs,
    gap,
    shouldStop,
    now,
    onProgress: (progress) => {
      if (progress.elapsedMs - told < progressEveryMs) return
      told = progress.elapsedMs
      reply({ kind: 'progress', progress })
    },
  })
  reply({ kind: 'result', result })
  const steps =
    stepsMs > 0 && !shouldStop() ? await worthOfSteps(problem, result, { timeLimitMs: stepsMs, shouldStop, now }) : []
  reply({ kind: 'steps', steps })
}
