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

export type Stop = {
  /** For SIGTERM and SIGINT. The second time, or while it stops already: exit 1 at once. */
  asked(): Promise<void>
  /** For a failure that nobody took care of: the exit code is 1 in the end. While it stops already it goes on stopping. */
  failed(): Promise<void>
}

/**
 * Ends the process in order: readiness turns 503, then every step is taken, then exit 0 (1 when a step failed, the time
 * ran out or a failure was the reason).
 */
export function makeStop({ state, steps, tell, exit, limitMs }: StopSteps): Stop {
  let code = 0
  async function stop(): Promise<void> {
    state.phase = 'closing'
    const timer = setTimeout(() => {
      tell({ step: 'stopping', error: new Error('stopping took too long') })
      exit(1)
    }, limitMs)
    for (const { name, stop: take } of steps) {
      try {
        await take()
      } catch (error) {
        code = 1
        tell({ step: name, error })
      }
    }
    clearTimeout(timer)
    exit(code)
  }
  return {
    asked: async () => (state.phase === 'closing' ? exit(1) : stop()),
    failed: async () => {
      code = 1
      if (state.phase !== 'closing') await stop()
    },
  }
}
