import { setTimeout as sleep } from 'node:timers/promises'
import PgBoss from 'pg-boss'
import { createHolds, type Hold, type Sql } from './holds.ts'
import { type JobKey, type JobKind, type JobQueue, type TellTrouble, type Work, workOf } from './queue.ts'

export type SharedQueueOptions = {
  /** The server, over connections of the queue's own: what holds work must not wait behind pages. */
  sql: Sql
  newId: () => string
  tell: TellTrouble
  /** A hold that is not renewed runs out after so long: what a killed process had is free then. 15 when not given. */
  holdSeconds?: number
  /** How often rows are looked for that nobody answers and nobody has. 5,000 when not given. */
  sweepMs?: number
}

/** pg-boss's own tables are in a schema of this name. Nothing in them is missed when they are gone: rows lead the way. */
const SCHEMA = 'jobs'
/** How often a job from another process is looked for. One from this process is taken at once. */
const POLL_MS = 1_000
/** How often a hold is renewed, and heed is paid to a stop that was asked elsewhere. */
const BEAT_MS = 1_000
/** A row that was begun so often without coming to an end (it took its process with it each time) is given up. */
const TRIES_AT_MOST = 5
/** Longer than any work takes. Only for what pg-boss shows: a killed process's job is free by its hold long before. */
const EXPIRE_SECONDS = 6 * 60 * 60
/** How often the queue's tables are tried to be made: of two processes at it one was seen to fail. */
const MAKING_TRIES = 5
/** So many of the oldest rows are put in line again by one sweep. */
const SWEPT_AT_MOST = 100

/**
 * Work shared among all processes on one PostgreSQL server, each of which works on as much as it has threads for.
 *
 * pg-boss hands a job to one process. That a process lives is told by a hold on the row (jobs/holds), renewed each
 * second; every few seconds each process looks for rows that are unanswered and held by nobody, and puts them in line:
 * what a killed process had, what was noted and never put in line, what was put in line while the server was away. A row
 * is in line once at most (policy `short`), and worked on once at a time; should a process that was only slow finish as
 * well, the first answer counts, since answers are saved only to rows that have none.
 *
 * @throws Error from `start` when pg-boss's schema can be neither found nor made
 */
export function createSharedQueue({ sql, newId, tell, ...times }: SharedQueueOptions): JobQueue {
  const boss = new PgBoss({ db: { executeSql: (text, values) => sql(text, values) }, schema: SCHEMA, schedule: false })
  boss.on('error', (error) => tell('the queue is in trouble', { kind: null }, error))
  const holds = createHolds(sql, times.holdSeconds ?? 15)
  const works = new Map<JobKind, Work>()
  const closing = new AbortController()
  const loops: Promise<void>[] = []
  const wakers = new Map<JobKind, Set<() => void>>()
  let started = false
  let closed: Promise<void> | null = null

  function enqueue(kind: JobKind, key: JobKey): void {
    put(kind, key)
      .then(() => {
        for (const wake of wakers.get(kind) ?? []) wake()
      })
      .catch((error: unknown) => tell('work was not put in line: the next sweep does', { kind, id: key.id }, error))
  }

  /** Nothing for a row that stands in line already. */
  async function put(kind: JobKind, { coopId, id }: JobKey): Promise<void> {
    await boss.send(kind, { coopId, id }, { singletonKey: `${coopId}/${id}` })
  }

  async function workOnOneAfterTheOther(kind: JobKind): Promise<void> {
    const work = workOf(works, kind)
    while (!closing.signal.aborted) {
      // pg-boss answers with nothing where the server is away: this goes on asking
      const [job] = await boss.fetch<JobKey>(kind, { batchSize: 1 })
      if (job === undefined) {
        await wokenOr(kind, POLL_MS)
        continue
      }
      const { coopId, id } = job.data
      try {
        await attempt(kind, work, { coopId, id })
        await boss.complete(kind, job.id)
      } catch (error) {
        tell('work is left to the next sweep', { kind, id }, error)
      }
    }
  }

  async function attempt(kind: JobKind, work: Work, key: JobKey): Promise<void> {
    const hold = await holds.take(kind, key, newId())
    if (hold === null) return
    if (hold.tries > TRIES_AT_MOST) {
      await work.giveUp(key)
      return hold.end()
    }
    const ended = new AbortController()
    const beating = beat(kind, work, key, hold, ended.signal)
    let saved = true
    try {
      await work.run(key)
    } catch (error) {
      saved = false
      tell('work has to be done again: nothing of it was saved', { kind, id: key.id }, error)
    }
    ended.abort()
    await beating
    const interrupted = closing.signal.aborted
    if (saved && !interrupted) return hold.end()
    await hold.giveBack(!interrupted)
    if (interrupted) await put(kind, key)
  }

  /** Until the work has ended; a server that is away meanwhile is waited for. */
  async function beat(kind: JobKind, work: Work, key: JobKey, hold: Hold, ended: AbortSignal): Promise<void> {
    while (await slept(BEAT_MS, ended)) {
      try {
        if (await hold.renew()) await work.heed(key)
        else work.abandon(key)
      } catch (error) {
        tell('a hold was not renewed', { kind, id: key.id }, error)
      }
    }
  }

  async function sweepAgainAndAgain(): Promise<void> {
    while (await slept(times.sweepMs ?? 5_000, closing.signal)) {
      try {
        await sweep()
      } catch (error) {
        tell('unanswered work was not looked for', { kind: null }, error)
      }
    }
  }

  async function sweep(): Promise<number> {
    let found = 0
    for (const [kind, work] of works) {
      const left = await holds.free(kind, await work.unanswered())
      found += left.length
      for (const key of left.slice(0, SWEPT_AT_MOST)) await put(kind, key)
    }
    await holds.sweep()
    return found
  }

  function wokenOr(kind: JobKind, ms: number): Promise<void> {
    return new Promise((resolve) => {
      const waiting = wakers.get(kind) ?? new Set()
      wakers.set(kind, waiting)
      const go = () => {
        clearTimeout(timer)
        waiting.delete(go)
        closing.signal.removeEventListener('abort', go)
        resolve()
      }
      const timer = setTimeout(go, ms)
      waiting.add(go)
      closing.signal.addEventListener('abort', go)
      if (closing.signal.aborted) go()
    })
  }

  /** Of several processes that make the tables at once one may be refused by the other's: then they are there, or soon. */
  async function makeTables(): Promise<void> {
    let first: unknown
    for (let tries = 1; ; tries++) {
      try {
        await boss.start()
        for (const kind of works.keys()) {
          await boss.createQueue(kind, {
            name: kind,
            policy: 'short',
            retryLimit: 0,
            expireInSeconds: EXPIRE_SECONDS,
            retentionDays: 1,
          })
        }
        return
      } catch (error) {
        // pg-boss begins its start once only: what it said first says most
        first ??= error
        if (tries >= MAKING_TRIES) throw first
        await sleep(tries * 100 * (1 + Math.random()))
      }
    }
  }

  async function end(): Promise<void> {
    closing.abort()
    await Promise.all(loops)
    if (started) await boss.stop({ graceful: false, close: false })
  }

  return {
    work: (kind, work) => void works.set(kind, work),
    enqueue,
    async start() {
      await makeTables()
      started = true
      const left = await sweep()
      for (const [kind, { atATime }] of works) {
        for (let slot = 0; slot < atATime; slot++) loops.push(workOnOneAfterTheOther(kind))
      }
      loops.push(sweepAgainAndAgain())
      return left
    },
    close() {
      closed ??= end()
      return closed
    },
  }
}

/** False when it was cut short. */
async function slept(ms: number, cut: AbortSignal): Promise<boolean> {
  try {
    await sleep(ms, undefined, { signal: cut })
    return true
  } catch (error) {
    if (cut.aborted) return false
    throw error
  }
}
