import type { AllocationProblem, AllocationResult, Refusal, StepWorth } from '../core/allocation/index.ts'

/** How far a running solve is; worth and bound in minor units. */
export type AllocationProgress = { objective: number; bound: number; gap: number; elapsedMs: number }

/** What the thread is asked. `stop` is one shared number: 1 means stop and give back the best so far. */
export type AllocationRequest = {
  problem: AllocationProblem
  timeLimitMs: number
  gap: number
  /** Milliseconds for asking afterwards what one more of a limit would be worth; 0: not asked. */
  stepsMs: number
  stop: SharedArrayBuffer
}

/** What the thread says, in this order: progress any number of times, the result, the steps; or a failure. */
export type AllocationReply =
  | { kind: 'progress'; progress: AllocationProgress }
  | { kind: 'result'; result: AllocationResult }
  | { kind: 'steps'; steps: StepWorth[] }
  | { kind: 'failed'; message: string; refusals: Refusal[] | null }
