import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import { createTimetableJobs, type TimetableJob } from '../../../jobs/timetable.ts'
import { loggedError } from '../../../web/log.ts'
import { readPlace } from '../../processes/index.ts'
import { findDivision } from '../divisions/queries.ts'
import { coopOf, saveBegun, saveTimetableFailure, saveWorkedOut, unansweredTimetables } from './queries.ts'

/** A timetable that was noted and is to be worked out. */
export type AskedTimetable = { coopId: string; id: string; planId: string; divisionNumber: number; stopAsked: boolean }

/** Hands timetables to their threads and saves what comes back. No transaction is open meanwhile. */
export type TimetableRunner = {
  /** Begins, and returns at once. */
  start(asked: AskedTimetable): void
  /** Has its thread give back the best so far. Nothing for one that does not run here. */
  stop(id: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

declare module 'fastify' {
  interface FastifyInstance {
    timetables: TimetableRunner
  }
}

/** Passes of schedule generation for one timetable at most: about two seconds of a kitchen of two days. */
const maxSchedules = 2_000

/** Puts `app.timetables` on the app. When the app closes, what still runs stays unanswered in the database. */
export const timetableRunner = plugin(
  async (app) => {
    const runner = makeRunner(app)
    app.decorate('timetables', runner)
    app.addHook('onClose', () => runner.close())
  },
  { name: 'timetable-runner', dependencies: ['dependencies'] },
)

/** Works out again what the last process left unanswered; for the start of the service. Says how many there were. */
export async function resumeTimetables(app: FastifyInstance): Promise<number> {
  const left = await unansweredTimetables(app.prisma)
  for (const asked of left) app.timetables.start(asked)
  return left.length
}

function makeRunner({ prisma, clock, log, settings }: FastifyInstance): TimetableRunner & { close(): Promise<void> } {
  const jobs = createTimetableJobs()
  const running = new Map<string, { job: TimetableJob | null; stopAsked: boolean; done: Promise<void> }>()
  let closing = false

  function start(asked: AskedTimetable): void {
    if (closing || running.has(asked.id)) return
    const entry = { job: null as TimetableJob | null, stopAsked: asked.stopAsked, done: Promise.resolve() }
    running.set(asked.id, entry)
    entry.done = work(asked, entry)
      .catch((error: unknown) => afterFailure(asked, error))
      .finally(() => running.delete(asked.id))
  }

  async function work(asked: AskedTimetable, entry: { job: TimetableJob | null; stopAsked: boolean }): Promise<void> {
    const { coopId, id, planId, divisionNumber } = asked
    const { question, answer } = await findDivision(prisma, { coopId }, planId, divisionNumber)
    if (answer === null) throw new Error('a timetable was noted for a division without an answer')
    const place = await readPlace(prisma, await coopOf(prisma, coopId))
    const begun = () => {
      saveBegun(prisma, { coopId, id }).catch((error: unknown) =>
        log.warn({ timetable: id, error: loggedError(error) }, 'that a timetable has begun was not kept'),
      )
    }
    const task = { question, result: answer.result, place, timeLimitMs: settings.solveSeconds * 1000, maxSchedules }
    entry.job = jobs.solve(task, begun)
    if (entry.stopAsked) entry.job.stop()
    const worked = await entry.job.worked
    if (!closing) await saveWorkedOut(prisma, { coopId, id }, worked, clock.now())
  }

  async function afterFailure({ coopId, id }: AskedTimetable, error: unknown): Promise<void> {
    // A service that closes ends its threads: the row stays unanswered, and the next start works it out again.
    if (closing) return
    log.error({ timetable: id, error: loggedError(error) }, 'a timetable could not be worked out')
    try {
      await saveTimetableFailure(prisma, { coopId, id }, failureWords, clock.now())
    } catch (failed) {
      log.error({ timetable: id, error: loggedError(failed) }, 'the failure of a timetable was not kept')
    }
  }

  return {
    start,
    stop(id) {
      const entry = running.get(id)
      if (!entry) return
      entry.stopAsked = true
      entry.job?.stop()
    },
    async settled() {
      await Promise.all([...running.values()].map(({ done }) => done))
    },
    async close() {
      closing = true
      await jobs.close()
      await Promise.all([...running.values()].map(({ done }) => done))
    },
  }
}

const failureWords =
  'The work broke off before there was a timetable. Make it again, and tell the person who hosts the kitchen if it stays.'
