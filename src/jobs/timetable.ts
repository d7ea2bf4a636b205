import { Worker } from 'node:worker_threads'
import type { AllocationResult } from '../core/allocation/index.ts'
import type { WorkedOut } from '../core/day/index.ts'
import type { Question } from '../core/division/index.ts'
import type { KitchenPlace } from '../core/recipes/index.ts'
import { typescriptWorkerOptions } from './worker-options.ts'

export type TimetableTask = {
  question: Question
  result: AllocationResult
  place: KitchenPlace
  timeLimitMs: number
  /** Passes of schedule generation at most. */
  maxSchedules: number
}

/** What a thread is given; `stop` is one shared number: 1 means give back the best so far. */
export type TimetableRequest = TimetableTask & { stop: SharedArrayBuffer }
export type TimetableReply = { kind: 'begun' } | { kind: 'done'; worked: WorkedOut }

export type TimetableJob = {
  /** Rejects with what went wrong in the thread, or because the service closes. */
  worked: Promise<WorkedOut>
  /** The thread gives back the best so far. */
  stop(): void
}

export type TimetableJobs = {
  /** `onBegun`: its turn has come. */
  solve(task: TimetableTask, onBegun?: () => void): TimetableJob
  /** Takes no more, ends what runs and waits for its thread. */
  close(): Promise<void>
}

/** Timetables worked out one after the other, each on a thread of its own that ends with it. */
export function createTimetableJobs(): TimetableJobs {
  let last: Promise<unknown> = Promise.resolve()
  let running: Worker | null = null
  let closed = false

  function solve(task: TimetableTask, onBegun: () => void = () => undefined): TimetableJob {
    const stop = new SharedArrayBuffer(4)
    const worked = last.then(() => onThread({ ...task, stop }, onBegun))
    // the next one waits for this one, however it ends
    last = worked.then(
      () => undefined,
      () => undefined,
    )
    return { worked, stop: () => Atomics.store(new Int32Array(stop), 0, 1) }
  }

  function onThread(request: TimetableRequest, onBegun: () => void): Promise<WorkedOut> {
    if (closed) return Promise.reject(new Error('the service is closing'))
    const worker = new Worker(new URL('./timetable-worker.ts', import.meta.url), typescriptWorkerOptions(request))
    running = worker
    return new Promise<WorkedOut>((resolve, reject) => {
      worker.on('message', (reply: TimetableReply) => {
        if (reply.kind === 'begun') onBegun()
        else resolve(reply.worked)
      })
      worker.on('error', reject)
      worker.on('exit', (code) => reject(new Error(`the thread of a timetable ended with code ${code}`)))
    })
  }

  return {
    solve,
    async close() {
      closed = true
      await running?.terminate()
      await last
    },
  }
}
