import { Worker } from 'node:worker_threads'
import type { Help, Standing, Tried } from '../core/agreement/index.ts'
import type { Question } from '../core/division/index.ts'
import type { KitchenPlace } from '../core/recipes/index.ts'
import { oneAnswer } from './one-answer.ts'
import { createPatience, type Graces } from './patience.ts'
import { typescriptWorkerOptions } from './worker-options.ts'

export type WorthTask = {
  question: Question
  /** The timetable that there is. */
  before: Standing
  candidates: Help[]
  /** What has been tried already, in its order. */
  known: Tried[]
  place: KitchenPlace
  /** Milliseconds for each division. */
  divideMs: number
  /** Passes of schedule generation at most, for each division. */
  maxSchedules: number
}

/** `divided`: one more division was put on the clock, and the thread is still at work. */
export type WorthReply = { kind: 'divided' } | { kind: 'tried'; tried: Tried } | { kind: 'done' }

export type WorthJob = {
  /** Rejects with what went wrong in the thread, with `ThreadHung`, or because the service closes. */
  ended: Promise<'done' | 'stopped'>
  /** Ends the thread in the middle of what it tries: what was tried before has been told. */
  stop(): void
}

export type WorthJobs = {
  /** `onTried` is told what was reached with each help, one after the other. */
  work(task: WorthTask, onTried: (tried: Tried) => void): WorthJob
  /** Takes no more, ends what runs and waits for its thread. */
  close(): Promise<void>
}

/**
 * Helps tried for one timetable after the other, each timetable's on a thread of its own that ends with it. One that
 * hangs is ended: it has to tell of itself after each division.
 *
 * @param setup only tests give any: another file for the threads to run, and how long one that hangs is waited for
 */
export function createWorthJobs(setup: { worker?: URL; graces?: Partial<Graces> } = {}): WorthJobs {
  const file = setup.worker ?? new URL('./worth-worker.ts', import.meta.url)
  let last: Promise<unknown> = Promise.resolve()
  let running: Worker | null = null
  let closed = false

  function work(task: WorthTask, onTried: (tried: Tried) => void): WorthJob {
    let worker: Worker | null = null
    let stopped = false
    const ended = last.then(() => {
      if (closed) throw new Error('the service is closing')
      if (stopped) return 'stopped' as const
      worker = new Worker(file, typescriptWorkerOptions(task))
      running = worker
      return oneAnswer<WorthReply, 'done'>(worker, {
        what: 'the thread that tries helps',
        patience: createPatience(setup.graces),
        silentMs: task.divideMs,
        hear(reply) {
          if (reply.kind === 'done') return 'done'
          if (reply.kind === 'tried' && !stopped) onTried(reply.tried)
          return null
        },
      }).catch((error: unknown) => {
        if (stopped) return 'stopped' as const
        throw error
      })
    })
    // the next one waits for this one, however it ends
    last = ended.then(
      () => undefined,
      () => undefined,
    )
    return {
      ended,
      stop() {
        stopped = true
        void worker?.terminate()
      },
    }
  }

  return {
    work,
    async close() {
      closed = true
      await running?.terminate()
      await last
    },
  }
}
