import { Worker } from 'node:worker_threads'
import type { Change } from '../core/agreement/changed.ts'
import type { AllocationResult } from '../core/allocation/index.ts'
import type { DayEnd, NotedPlan } from '../core/day/index.ts'
import type { Question } from '../core/division/index.ts'
import type { KitchenPlace } from '../core/recipes/index.ts'
import type { Schedule } from '../core/scheduling/index.ts'
import { oneAnswer } from './one-answer.ts'
import { createPatience, type Graces, type Patience } from './patience.ts'
import { typescriptWorkerOptions } from './worker-options.ts'

/** A division put on the clock, or a timetable changed by hand or from the middle of its day. */
export type TimetableTask = AgreeTask | ChangeTask

export type AgreeTask = {
  kind: 'agree'
  question: Question
  result: AllocationResult
  place: KitchenPlace
  /** Milliseconds for each division that is solved again because the clock does not hold the one before. */
  divideMs: number
  /** Passes of schedule generation at most, for each of these divisions. */
  maxSchedules: number
}

export type ChangeTask = Change<NotedPlan> & {
  kind: 'change'
  /** Passes of schedule generation at most. */
  maxSchedules: number
  /** How the timetable that all of this goes back to came to agree with its division. */
  root: Pick<WorkedOut, 'rounds' | 'gave'>
}

/** A timetable as it is kept, and how it came to agree with its division. */
export type WorkedOut = {
  plan: NotedPlan
  schedule: Schedule
  /** Everything that was divided is done within its day. */
  holds: boolean
  /** Divisions solved again until the clock held one. */
  rounds: number
  /** Products of which the clock changed the number of units. */
  gave: { productId: string; before: number; after: number }[]
  /** Of each work day when its last hands are done, and what no order goes below; absent where it was changed by hand. */
  days?: DayEnd[]
  /** Tasks that begin at another time than in the timetable gone on from; absent where it was made from a division. */
  moved?: number
}

/** What comes back; `division`: another one than was asked, which the clock holds (or holds more of). */
export type TimetableAnswer = { worked: WorkedOut; division: { question: Question; result: AllocationResult } | null }

/** What a thread is given; `stop` is one shared number: 1 means give back the best so far. */
export type TimetableRequest = TimetableTask & { stop: SharedArrayBuffer }
export type TimetableReply =
  | { kind: 'progress'; round: number; unitsOver: number }
  | ({ kind: 'done' } & TimetableAnswer)

export type TimetableJob = {
  /** Rejects with what went wrong in the thread, with `ThreadHung`, or because the service closes. */
  answer: Promise<TimetableAnswer>
  /** The thread gives back the best so far. */
  stop(): void
}

export type TimetableJobs = {
  /** `onProgress` is told after each round: how many divisions were solved again, units that the clock does not hold. */
  solve(task: TimetableTask, onProgress?: (told: { round: number; unitsOver: number }) => void): TimetableJob
  /** Takes no more, ends what runs and waits for its thread. */
  close(): Promise<void>
}

type OnProgress = (told: { round: number; unitsOver: number }) => void

/**
 * Timetables worked out one after the other, each on a thread of its own that ends with it. One that hangs is ended: it
 * has to tell of itself after each division.
 *
 * @param setup only tests give any: another file for the threads to run, and how long one that hangs is waited for
 */
export function createTimetableJobs(setup: { worker?: URL; graces?: Partial<Graces> } = {}): TimetableJobs {
  const file = setup.worker ?? new URL('./timetable-worker.ts', import.meta.url)
  let last: Promise<unknown> = Promise.resolve()
  let running: Worker | null = null
  let closed = false

  function solve(task: TimetableTask, onProgress: OnProgress = () => undefined): TimetableJob {
    const stop = new SharedArrayBuffer(4)
    const patience = createPatience(setup.graces)
    const answer = last.then(() => onThread({ ...task, stop }, onProgress, patience))
    // the next one waits for this one, however it ends
    last = answer.then(
      () => undefined,
      () => undefined,
    )
    return {
      answer,
      stop() {
        Atomics.store(new Int32Array(stop), 0, 1)
        patience.stopAsked()
      },
    }
  }

  function onThread(request: TimetableRequest, onProgress: OnProgress, patience: Patience): Promise<TimetableAnswer> {
    if (closed) return Promise.reject(new Error('the service is closing'))
    const worker = new Worker(file, typescriptWorkerOptions(request))
    running = worker
    return oneAnswer<TimetableReply, TimetableAnswer>(worker, {
      what: 'the thread of a timetable',
      patience,
      silentMs: request.kind === 'agree' ? request.divideMs : 0,
      hear(reply) {
        if (reply.kind === 'done') return { worked: reply.worked, division: reply.division }
        onProgress(reply)
        return null
      },
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
