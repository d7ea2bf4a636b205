import type { ServiceState } from './dependencies.ts'

export type StopSteps = {
  state: ServiceState
  /** Each in turn, also when one before it failed: the app (finishes its requests), the jobs, the database. */
  steps: { name: string; stop: () => Promise<void> }[]
  tell: (failed: { step: string; error: unknown }) => void
  exit: (code: number) => void
  /** Milliseconds until a stop that hangs is cut off. */
  limitMs: number
}

/**
 * A handler for SIGTERM and SIGINT. The first time: readiness turns 503, then every step is taken, then exit 0 (1 when a
 * step failed or the time ran out). The second time: exit 1 at once.
 */
export function makeStop({ state, steps, tell, exit, limitMs }: StopSteps): () => Promise<void> {
  return async () => {
    if (state.phase === 'closing') return exit(1)
    state.phase = 'closing'
    const timer = setTimeout(() => {
      tell({ step: 'stopping', error: new Error('stopping took too long') })
      exit(1)
    }, limitMs)
    let code = 0
    for (const { name, stop } of steps) {
      try {
        await stop()
      } catch (error) {
        code = 1
        tell({ step: name, error })
      }
    }
    clearTimeout(timer)
    exit(code)
  }
}
