/** What takes long and is noted in a row first: its kind, and the row. */
export const jobKinds = ['division', 'timetable', 'worth'] as const
export type JobKind = (typeof jobKinds)[number]
export type JobKey = { coopId: string; id: string }

/** How one kind of work is done. The row says whether it is still to be done, and keeps how far it is and the answer. */
export type Work = {
  /** So many at a time in one process. */
  atATime: number
  /**
   * Works on it until its answer or its failure is saved, or until the service closes, which leaves the row as it is.
   * Nothing for a row that is answered or gone. Rejects where nothing could be saved: it is tried again later.
   */
  run(key: JobKey): Promise<void>
  /** Reads whether somebody asked elsewhere for what runs here to end, and has it end. */
  heed(key: JobKey): Promise<void>
  /** Ends what runs here without saving anything: another process has it now. */
  abandon(key: JobKey): void
  /** Saves in words that it is not tried any more. */
  giveUp(key: JobKey): Promise<void>
  /** Rows of all co-ops that nobody has answered, oldest first. */
  unanswered(): Promise<JobKey[]>
}

/**
 * Hands long work to whoever does it: this process (`createLocalQueue`) or any of several on one database
 * (`createSharedQueue`). The row is noted first, in a transaction of its own; a job that is lost after that is found
 * again by its row.
 */
export type JobQueue = {
  /** Says how a kind is done; once for each, before `start`. */
  work(kind: JobKind, work: Work): void
  /** Has a noted row worked on, and returns at once. */
  enqueue(kind: JobKind, key: JobKey): void
  /** Takes up what was left unanswered, and what will be; says how much was left. */
  start(): Promise<number>
  /** Takes no more, waits until what runs has come to its end, and gives back what is unanswered. */
  close(): Promise<void>
}

/** Told of what went wrong and is tried again; whoever writes the log knows what of an error may be written down. */
export type TellTrouble = (words: string, details: { kind: JobKind | null; id?: string }, error: unknown) => void

/** Work of which nothing could be saved is tried again after so long. */
const AGAIN_MS = 5_000

/** All work in this process, at once: each kind keeps its own line. For the embedded database, which has one process. */
export function createLocalQueue(options: { tell: TellTrouble; againMs?: number }): JobQueue {
  const works = new Map<JobKind, Work>()
  const running = new Set<Promise<void>>()
  const later = new Set<NodeJS.Timeout>()
  let closed = false

  function enqueue(kind: JobKind, key: JobKey): void {
    if (closed) return
    const done = workOf(works, kind)
      .run(key)
      .catch((error: unknown) => {
        options.tell('work has to be done again: nothing of it was saved', { kind, id: key.id }, error)
        if (closed) return
        const timer = setTimeout(() => {
          later.delete(timer)
          enqueue(kind, key)
        }, options.againMs ?? AGAIN_MS)
        later.add(timer.unref())
      })
      .finally(() => running.delete(done))
    running.add(done)
  }

  return {
    work: (kind, work) => void works.set(kind, work),
    enqueue,
    async start() {
      let left = 0
      for (const [kind, work] of works) {
        const keys = await work.unanswered()
        left += keys.length
        for (const key of keys) enqueue(kind, key)
      }
      return left
    },
    async close() {
      closed = true
      for (const timer of later) clearTimeout(timer)
      await Promise.all(running)
    },
  }
}

/** @throws Error for a kind that nobody said how to do */
export function workOf(works: ReadonlyMap<JobKind, Work>, kind: JobKind): Work {
  const work = works.get(kind)
  if (work === undefined) throw new Error(`nobody said how work of the kind ${kind} is done`)
  return work
}
