import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import type { AllocationResult } from '../../../core/allocation/index.ts'
import { askDivision, type Question, summarise } from '../../../core/division/index.ts'
import { inTransaction } from '../../../db/transaction.ts'
import { createTimetableJobs, type TimetableJob } from '../../../jobs/timetable.ts'
import { loggedError } from '../../../web/log.ts'
import { readPlace } from '../../processes/index.ts'
import { findDivision } from '../divisions/queries.ts'
import type { Headline } from '../documents.ts'
import { headlineFor } from '../headline.ts'
import { coopOf, saveTimetableFailure, saveTimetableProgress, saveWorkedOut, unansweredTimetables } from './queries.ts'

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

/** Passes of schedule generation for each division that is tried, at most: about two seconds of a kitchen of two days. */
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

function makeRunner({
  prisma,
  clock,
  log,
  settings,
  newId,
}: FastifyInstance): TimetableRunner & { close(): Promise<void> } {
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
    const tell = ({ round, unitsOver }: { round: number; unitsOver: number }) => {
      saveTimetableProgress(prisma, { coopId, id }, progressWords(round, unitsOver)).catch((error: unknown) =>
        log.warn({ timetable: id, error: loggedError(error) }, 'how far a timetable is was not kept'),
      )
    }
    const divideMs = (settings.solveSeconds * 1000) / 2
    entry.job = jobs.solve({ question, result: answer.result, place, divideMs, maxSchedules }, tell)
    if (entry.stopAsked) entry.job.stop()
    const { worked, division } = await entry.job.answer
    if (closing) return
    const fitted = division === null ? null : { ...division, headline: headlineOf(division) }
    await inTransaction(prisma, (transaction) =>
      saveWorkedOut(transaction, { coopId, id }, { worked, division: fitted }, { now: clock.now(), newId }),
    )
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

function headlineOf({ question, result }: { question: Question; result: AllocationResult }): Headline {
  return headlineFor(question, summarise(question, askDivision(question), result))
}

function progressWords(round: number, unitsOver: number): string {
  if (unitsOver === 0) return 'The clock holds what is divided.'
  const over = `${unitsOver} ${unitsOver === 1 ? 'unit is' : 'units are'} more than the clock holds`
  return round === 0
    ? `${over}: dividing again.`
    : `${over} after dividing again ${round === 1 ? 'once' : `${round} times`}.`
}

const failureWords =
  'The work broke off before there was a timetable. Make it again, and tell the person who hosts the kitchen if it stays.'
