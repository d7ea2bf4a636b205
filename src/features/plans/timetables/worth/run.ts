import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import { databaseFailure } from '../../../../db/errors.ts'
import type { JobKey, Work } from '../../../../jobs/queue.ts'
import { createWorthJobs, type WorthJob } from '../../../../jobs/worth.ts'
import { loggedError } from '../../../../web/log.ts'
import { readPlace } from '../../../processes/index.ts'
import { findDivision } from '../../divisions/queries.ts'
import { coopOf } from '../queries.ts'
import { beginning } from './begin.ts'
import {
  type AskedWorth,
  askedWorth,
  findWorth,
  saveTries,
  saveWorth,
  saveWorthFailure,
  unansweredWorths,
} from './queries.ts'

/** Hands timetables to the threads that try helps for them, and saves what each try reached. */
export type WorthRunner = {
  /** Has helps tried, or goes on after what has been, here or in another process, and returns at once. */
  start(noted: Pick<AskedWorth, 'coopId' | 'timetableId'>): void
  /** Ends the thread of a timetable. One that runs in another process hears of it by its row. */
  stop(timetableId: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

declare module 'fastify' {
  interface FastifyInstance {
    worths: WorthRunner
  }
}

/** Passes of schedule generation for each division that is tried, at most: as for a timetable. */
const maxSchedules = 2_000

/** Puts `app.worths` on the app. When the app closes, what still runs stays unanswered and goes back to the queue. */
export const worthRunner = plugin(
  async (app) => {
    const runner = makeRunner(app)
    app.queue.work('worth', runner.work)
    app.decorate('worths', runner)
    app.addHook('onClose', () => runner.close())
  },
  { name: 'worth-runner', dependencies: ['dependencies'] },
)

/** `job` null: still read from the database. */
type Run = { timetableId: string; job: WorthJob | null; stopped: boolean; done: Promise<void> }
type Runner = WorthRunner & { work: Work; close(): Promise<void> }

function makeRunner({ prisma, queue, clock, log, settings }: FastifyInstance): Runner {
  const jobs = createWorthJobs()
  const runs = new Set<Run>()
  let closing = false

  function run(key: JobKey): Promise<void> {
    if (closing) return Promise.resolve()
    // One that was stopped a moment ago may still be ending: what is asked anew waits behind it.
    const at = [...runs].find((one) => one.timetableId === key.id && !one.stopped)
    if (at !== undefined) return at.done
    const fresh: Run = { timetableId: key.id, job: null, stopped: false, done: Promise.resolve() }
    runs.add(fresh)
    fresh.done = workOut(key, fresh)
      .catch((error: unknown) => afterFailure(key, fresh, error))
      .finally(() => runs.delete(fresh))
    return fresh.done
  }

  async function workOut(key: JobKey, at: Run): Promise<void> {
    const asked = await askedWorth(prisma, key)
    if (asked === null) return
    const { coopId, planId, number } = asked
    const { timetable, worth } = await findWorth(prisma, { coopId }, planId, number)
    const { question, answer: division } = await findDivision(prisma, { coopId }, planId, timetable.divisionNumber)
    const place = await readPlace(prisma, await coopOf(prisma, coopId))
    if (worth === null || timetable.worked === null || division === null) {
      throw new Error('help was asked for at a timetable that is not worked out')
    }
    const answer = worth.answer ?? beginning(question, division.result, timetable.worked)
    await saveTries(prisma, asked, answer)
    let saving = Promise.resolve()
    const { before, candidates } = answer
    const task = { question, before, candidates, known: [...answer.tries], place }
    if (at.stopped || closing) return
    at.job = jobs.work({ ...task, divideMs: (settings.solveSeconds * 1000) / 2, maxSchedules }, (tried) => {
      answer.tries.push(tried)
      saving = saving
        .then(() => saveTries(prisma, asked, answer))
        .catch((error: unknown) =>
          log.warn({ timetable: asked.timetableId, error: loggedError(error) }, 'what a help reached was not kept'),
        )
    })
    const ended = await at.job.ended
    await saving
    if (ended === 'done' && !at.stopped && !closing) await saveWorth(prisma, asked, answer, clock.now())
  }

  async function afterFailure({ coopId, id: timetableId }: JobKey, at: Run, error: unknown): Promise<void> {
    // A service that closes ends its threads: the row stays unanswered, and is gone on with.
    // One that was stopped has its end, and may have been asked for anew.
    if (closing || at.stopped) return
    // The database was away when it was to be saved: that is no failure of what was tried.
    if (databaseFailure(error) !== null) throw error
    log.error({ timetable: timetableId, error: loggedError(error) }, 'what would help could not be worked out')
    await saveWorthFailure(prisma, { coopId, timetableId }, failureWords, clock.now())
  }

  function stop(timetableId: string): void {
    for (const one of runs) {
      if (one.timetableId !== timetableId) continue
      one.stopped = true
      one.job?.stop()
    }
  }

  const work: Work = {
    atATime: 1,
    run,
    async heed(key) {
      if ((await askedWorth(prisma, key)) === null) stop(key.id)
    },
    abandon: ({ id }) => stop(id),
    giveUp: ({ coopId, id: timetableId }) =>
      saveWorthFailure(prisma, { coopId, timetableId }, givenUpWords, clock.now()),
    unanswered: () => unansweredWorths(prisma),
  }

  return {
    work,
    start: ({ coopId, timetableId }) => queue.enqueue('worth', { coopId, id: timetableId }),
    stop,
    async settled() {
      await Promise.allSettled([...runs].map(({ done }) => done))
    },
    async close() {
      closing = true
      await jobs.close()
      await Promise.allSettled([...runs].map(({ done }) => done))
    },
  }
}

const failureWords =
  'The work broke off. What was tried before is kept: try the rest, and tell the person who hosts the kitchen if it stays.'

const givenUpWords =
  'This was begun several times, and the service broke off in the middle each time. What was tried before is kept: tell the person who hosts the kitchen.'
