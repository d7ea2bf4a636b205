import { Worker } from 'node:worker_threads'
import type { AllocationProblem, AllocationResult, StepWorth } from '../core/allocation/index.ts'
import { ProblemRefused } from '../core/allocation/refuse.ts'
import type { AllocationProgress, AllocationReply, AllocationRequest } from './allocation-messages.ts'
import { createPatience, type Graces, type Patience } from './patience.ts'
import { typescriptWorkerOptions } from './worker-options.ts'

/** Where jobs say what happened; pino's loggers fit. */
export type JobLog = {
  info(details: object, message: string): void
  warn(details: object, message: string): void
}

export type AllocationJobOptions = {
  /** Default 5,000. */
  timeLimitMs?: number
  /** Relative gap at which it is good enough; default 0: prove it if there is time. */
  gap?: number
  /** Milliseconds for asking afterwards what one more of a limit would be worth; default 0: not asked. */
  stepsMs?: number
  onProgress?: (progress: AllocationProgress) => void
}

export type AllocationJob = {
  /** Rejects with `ProblemRefused`, with `ThreadHung`, or with an error that says that the thread failed. */
  result: Promise<AllocationResult>
  /** Follows the result; empty if it was not asked for or the job was stopped. */
  steps: Promise<StepWorth[]>
  /** Ends the solve: the result comes at once, as `stopped`, with the best so far. */
  stop(): void
}

export type CloseOptions = { graceMs?: number; stopMs?: number }

export type AllocationJobs = {
  solve(problem: AllocationProblem, options?: AllocationJobOptions): AllocationJob
  /**
   * Takes no more; lets what runs and waits finish for `graceMs`, then stops it (each still gives back its best so far)
   * and ends the threads; one that has not answered `stopMs` (5,000) after being stopped is cut off.
   */
  close(options?: CloseOptions): Promise<void>
}

/** A stopped solve that has not answered after this long is cut off, and rejects. */
const stopTakesAtMostMs = 5_000

type Setup = {
  /** So many divisions at a time. */
  threads: number
  log: JobLog
  /** The file a thread runs; only tests give another one. */
  worker?: URL
  /** How long a thread is waited for that does not answer; only tests give shorter ones. */
  graces?: Partial<Graces>
}

/**
 * Divisions solved on threads of their own, so many at a time; others wait in line. Threads start when first needed.
 * One that hangs is ended, and the next division gets a fresh one.
 */
export function createAllocationJobs(setup: Setup): AllocationJobs {
  const file = setup.worker ?? new URL('./allocation-worker.ts', import.meta.url)
  const waiting: Task[] = []
  const threads = new Set<Thread>()
  let closed = false

  function solve(problem: AllocationProblem, options: AllocationJobOptions = {}): AllocationJob {
    if (closed) throw new Error('no more divisions are taken: the service is closing')
    const task = taskFor(problem, options, createPatience(setup.graces))
    waiting.push(task)
    startNext()
    return { result: task.result, steps: task.steps, stop: task.stop }
  }

  function startNext(): void {
    const thread = [...threads].find(({ task }) => task === null) ?? (threads.size < setup.threads ? newThread() : null)
    const task = thread ? waiting.shift() : undefined
    if (!thread || !task) return
    thread.task = task
    thread.worker.ref()
    thread.worker.postMessage(task.request)
    task.patience.expectWithin(task.request.timeLimitMs, (error) => lose(thread, error))
  }

  function newThread(): Thread {
    const thread: Thread = { worker: new Worker(file, typescriptWorkerOptions()), task: null }
    threads.add(thread)
    thread.worker.on('message', (reply: AllocationReply) => hear(thread, reply))
    thread.worker.on('error', (error) => lose(thread, failed(error.message)))
    thread.worker.on('exit', (code) => lose(thread, failed(`it ended with code ${code}`)))
    return thread
  }

  function hear(thread: Thread, reply: AllocationReply): void {
    const { task } = thread
    if (!task) return
    if (reply.kind === 'progress') task.onProgress?.(reply.progress)
    else if (reply.kind === 'result') {
      const { trouble } = reply.result
      if (trouble) setup.log.warn({ trouble }, 'the solver failed; the plain rule divided')
      task.succeed(reply.result)
      task.patience.expectWithin(task.request.stepsMs, (error) => lose(thread, error))
    } else {
      task.patience.end()
      if (reply.kind === 'steps') task.succeedSteps(reply.steps)
      else task.fail(reply.refusals ? new ProblemRefused(reply.refusals) : new Error(reply.message))
      thread.task = null
      // An idle thread does not keep the process alive.
      thread.worker.unref()
      startNext()
    }
  }

  /** The thread is gone, or is ended here; what it worked on fails, and what waits gets another thread. */
  function lose(thread: Thread, error: Error): void {
    if (!threads.delete(thread)) return
    if (!closed) setup.log.warn({ error: error.message }, 'a thread that divided produce failed')
    thread.task?.patience.end()
    thread.task?.fail(error)
    void thread.worker.terminate()
    startNext()
  }

  async function close({ graceMs = 0, stopMs = stopTakesAtMostMs }: CloseOptions = {}): Promise<void> {
    closed = true
    const open = [...[...threads].flatMap(({ task }) => task ?? []), ...waiting]
    const allDone = Promise.allSettled(open.flatMap((task) => [task.result, task.steps]))
    if (!(await within(graceMs, allDone))) {
      for (const task of open) task.stop()
      setup.log.info({ solves: open.length }, 'running divisions were stopped')
      await within(stopMs, allDone)
    }
    for (const task of waiting.splice(0)) task.fail(new Error('the service is closing'))
    await Promise.all([...threads].map(({ worker }) => worker.terminate()))
  }

  return { solve, close }
}

type Thread = { worker: Worker; task: Task | null }

function failed(why: string): Error {
  return new Error(`the thread that divided the produce failed: ${why}`)
}

type Task = {
  request: AllocationRequest
  /** For the thread that works on it. */
  patience: Patience
  onProgress: AllocationJobOptions['onProgress']
  result: Promise<AllocationResult>
  steps: Promise<StepWorth[]>
  succeed(result: AllocationResult): void
  succeedSteps(steps: StepWorth[]): void
  fail(error: Error): void
  stop(): void
}

function taskFor(problem: AllocationProblem, options: AllocationJobOptions, patience: Patience): Task {
  const stop = new SharedArrayBuffer(4)
  const result = settleable<AllocationResult>()
  const steps = settleable<StepWorth[]>()
  // Whoever asked only for the result must not be hit by an unhandled rejection of the steps, which fail with it.
  steps.promise.catch(() => undefined)
  return {
    request: {
      problem,
      timeLimitMs: options.timeLimitMs ?? 5_000,
      gap: options.gap ?? 0,
      stepsMs: options.stepsMs ?? 0,
      stop,
    },
    patience,
    onProgress: options.onProgress,
    result: result.promise,
    steps: steps.promise,
    succeed: result.resolve,
    succeedSteps: steps.resolve,
    fail: (error) => {
      result.reject(error)
      steps.reject(error)
    },
    stop: () => {
      Atomics.store(new Int32Array(stop), 0, 1)
      patience.stopAsked()
    },
  }
}

function settleable<T>(): { promise: Promise<T>; resolve: (value: T) => void; reject: (error: Error) => void } {
  let resolve: (value: T) => void = () => undefined
  let reject: (error: Error) => void = () => undefined
  const promise = new Promise<T>((settle, fail) => {
    resolve = settle
    reject = fail
  })
  return { promise, resolve, reject }
}

/** Whether it is done within so many milliseconds. */
async function within(ms: number, work: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined
  const timeUp = new Promise<false>((resolve) => {
    timer = setTimeout(() => resolve(false), ms)
  })
  const done = await Promise.race([work.then(() => true), timeUp])
  clearTimeout(timer)
  return done
}
