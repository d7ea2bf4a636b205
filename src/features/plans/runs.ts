import { databaseFailure } from '../../db/errors.ts'
import type { JobKey, JobKind, JobQueue, Work } from '../../jobs/queue.ts'
import { loggedError } from '../../web/log.ts'

/** Hands noted rows to whoever works on them. No transaction is open meanwhile. */
export type Runner = {
  /** Has it worked out, here or in another process, and returns at once. */
  start(noted: JobKey): void
  /** Has its thread give back the best so far. One that runs in another process hears of it by its row. */
  stop(id: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

/** One row that is being worked out here. */
export type Run<Job> = {
  /** Takes note of what works on it, stopped at once where that was asked meanwhile. */
  begin(job: Job): Job
  /** The row is left as it is: the service closes, or another process works on it. */
  isLeftAlone(): boolean
}

/** How rows of one kind are worked out. */
export type Doing<Job> = Pick<Work, 'atATime' | 'giveUp' | 'unanswered'> & {
  kind: JobKind
  queue: JobQueue
  log: { error(details: object, words: string): void }
  /** What the log says of one that failed. */
  failed: string
  /** Works it out and saves what comes, unless it is left alone by then. */
  workOut(key: JobKey, run: Run<Job>): Promise<void>
  saveFailure(key: JobKey, error: unknown): Promise<void>
  stopIsAsked(key: JobKey): Promise<boolean>
}

type Entry<Job> = { job: Job | null; stopAsked: boolean; abandoned: boolean; done: Promise<void> }

/** Runs rows that are worked out on threads: each once at a time, to be stopped, left to another process, or given up. */
export function createRuns<Job extends { stop(): void }>(doing: Doing<Job>): Runner & { work: Work; close(): void } {
  const running = new Map<string, Entry<Job>>()
  const closing = settleable()

  function run(key: JobKey): Promise<void> {
    if (closing.is) return Promise.resolve()
    const at = running.get(key.id)
    if (at !== undefined) return at.done
    const entry: Entry<Job> = { job: null, stopAsked: false, abandoned: false, done: Promise.resolve() }
    const isLeftAlone = () => closing.is || entry.abandoned
    running.set(key.id, entry)
    const done = doing
      .workOut(key, { begin: (job) => begin(entry, job), isLeftAlone })
      .catch((error: unknown) => (isLeftAlone() ? undefined : afterFailure(key, error)))
      .finally(() => running.delete(key.id))
    // a service that closes does not wait for a thread that is slow to stop
    entry.done = Promise.race([done, closing.promise])
    return entry.done
  }

  function begin(entry: Entry<Job>, job: Job): Job {
    entry.job = job
    if (entry.stopAsked) job.stop()
    return job
  }

  async function afterFailure(key: JobKey, error: unknown): Promise<void> {
    // The database was away when the answer was to be saved: that is no failure of what was worked out.
    if (databaseFailure(error) !== null) throw error
    doing.log.error({ [doing.kind]: key.id, error: loggedError(error) }, doing.failed)
    await doing.saveFailure(key, error)
  }

  function stop(id: string): void {
    const entry = running.get(id)
    if (entry === undefined) return
    entry.stopAsked = true
    entry.job?.stop()
  }

  const { atATime, giveUp, unanswered } = doing
  return {
    start: ({ coopId, id }) => doing.queue.enqueue(doing.kind, { coopId, id }),
    stop,
    async settled() {
      await Promise.allSettled([...running.values()].map(({ done }) => done))
    },
    /** What still runs stays unanswered, and goes back to the queue. */
    close() {
      for (const { job } of running.values()) job?.stop()
      closing.settle()
    },
    work: {
      atATime,
      giveUp,
      unanswered,
      run,
      async heed(key) {
        if (await doing.stopIsAsked(key)) stop(key.id)
      },
      abandon({ id }) {
        const entry = running.get(id)
        if (entry === undefined) return
        entry.abandoned = true
        stop(id)
      },
    },
  }
}

/** Something that is not so yet, and will be once. */
function settleable(): { is: boolean; promise: Promise<void>; settle(): void } {
  let resolve = () => {}
  const promise = new Promise<void>((done) => {
    resolve = done
  })
  const one = {
    is: false,
    promise,
    settle() {
      one.is = true
      resolve()
    },
  }
  return one
}
