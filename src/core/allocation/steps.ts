import type { AllocationProblem, SolveOptions } from './problem.ts'
import type { AllocationResult, StepWorth } from './result.ts'

export async function worthOfSteps(
  _p: AllocationProblem,
  _r: AllocationResult,
  _o: SolveOptions = {},
): Promise<StepWorth[]> {
  return []
}
