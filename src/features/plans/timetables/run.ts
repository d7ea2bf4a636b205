import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import type { AllocationResult } from '../../../core/allocation/index.ts'
import { replanPasses } from '../../../core/day/index.ts'
import { askDivision, type Question, summarise } from '../../../core/division/index.ts'
import { databaseFailure } from '../../../db/errors.ts'
import { inTransaction } from '../../../db/transaction.ts'
import type { JobKey, Work } from '../../../jobs/queue.ts'
import { createTimetableJobs, type TimetableJob, type TimetableTask } from '../../../jobs/timetable.ts'
import { loggedError } from '../../../web/log.ts'
import { readPlace } from '../../processes/index.ts'
import { findDivision } from '../divisions/queries.ts'
import type { Headline } from '../documents.ts'
import { headlineFor } from '../headline.ts'
import {
  askedTimetable,
  coopOf,
  findTimetable,
  rootOf,
  saveTimetableFailure,
  saveTimetableProgress,
  saveWorkedOut,
  timetableStopIsAsked,
  unansweredTimetables,
} from './queries.ts'

/** Hands timetables to their threads and saves what comes back. No transaction is open meanwhile. */
export type TimetableRunner = {
  /** Has it worked out, here or in another process, and returns at once. */
  start(noted: JobKey): void
  /** Has its thread give back the best so far. One that runs in another process hears of it by its row. */
  stop(id: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

declare module 'fastify' {
  interface FastifyInstance {
    timetables: TimetableRunner
  }
}

/** Passes of schedule generation for each schedule, at most: about two seconds of a kitchen of two days. */
const maxSchedules = 2_000

/** Puts `app.timetables` on the app. When the app closes, what still runs stays unanswered and goes back to the queue. */
export const timetableRunner = plugin(
  async (app) => {
    const runner = makeRunner(app)
    app.queue.work('timetable', runner.work)
    app.decorate('timetables', runner)
    app.addHook('onClose', () => runner.close())
  },
  { name: 'timetable-runner', dependencies: ['dependencies'] },
)

/** One that is at work; `changes`: it goes on from another. */
type Running = {
  job: TimetableJob | null
  stopAsked: boolean
  abandoned: boolean
  changes: boolean
  done: Promise<void>
}
type AskedTimetable = NonNullable<Awaited<ReturnType<typeof askedTimetable>>>
type Runner = TimetableRunner & { work: Work; close(): Promise<void> }

function makeRunner({ prisma, queue, clock, log, settings, newId }: FastifyInstance): Runner {
  const jobs = createTimetableJobs()
  const running = new Map<string, Running>()
  let closing = false

  function run(key: JobKey): Promise<void> {
    if (closing) return Promise.resolve()
    const at = running.get(key.id)
    if (at !== undefined) return at.done
    const entry = { job: null, stopAsked: false, abandoned: false, changes: false, done: Promise.resolve() }
    running.set(key.id, entry)
    entry.done = workOut(key, entry)
      .catch((error: unknown) => afterFailure(key, entry, error))
      .finally(() => running.delete(key.id))
    return entry.done
  }

  async function workOut({ coopId, id }: JobKey, entry: Running): Promise<void> {
    const asked = await askedTimetable(prisma, { coopId, id })
    if (asked === null) return
    const tell = ({ round, unitsOver }: { round: number; unitsOver: number }) => {
      saveTimetableProgress(prisma, { coopId, id }, progressWords(round, unitsOver)).catch((error: unknown) =>
        log.warn({ timetable: id, error: loggedError(error) }, 'how far a timetable is was not kept'),
      )
    }
    const task = await taskOf(coopId, asked)
    entry.changes = task.kind === 'change'
    if (leftAlone(entry)) return
    entry.job = jobs.solve(task, tell)
    if (asked.stopAsked || entry.stopAsked) entry.job.stop()
    const { worked, division } = await entry.job.answer
    if (leftAlone(entry)) return
    const fitted = division === null ? null : { ...division, headline: headlineOf(division) }
    await inTransaction(prisma, (transaction) =>
      saveWorkedOut(transaction, { coopId, id }, { worked, division: fitted }, { now: clock.now(), newId }),
    )
  }

  async function taskOf(coopId: string, asked: AskedTimetable): Promise<TimetableTask> {
    const { planId, divisionNumber, question: changed } = asked
    const { from, edits, progress } = changed
    if (from !== null) {
      const before = await findTimetable(prisma, { coopId }, planId, from)
      if (before.worked === null) throw new Error('a timetable goes on from one that was not worked out')
      const { plan, rounds, gave } = await rootOf(prisma, { coopId }, before)
      const { schedule } = before.worked
      const passes = progress === null ? maxSchedules : replanPasses
      return { kind: 'change', plan, schedule, edits, progress, maxSchedules: passes, root: { rounds, gave } }
    }
    const { question, answer } = await findDivision(prisma, { coopId }, planId, divisionNumber)
    if (answer === null) throw new Error('a timetable was noted for a division without an answer')
    const place = await readPlace(prisma, await coopOf(prisma, coopId))
    const divideMs = (settings.solveSeconds * 1000) / 2
    return { kind: 'agree', question, result: answer.result, place, divideMs, maxSchedules }
  }

  /** The row is left as it is: the service closes, or another process works on it. */
  function leftAlone({ abandoned }: Running): boolean {
    return closing || abandoned
  }

  async function afterFailure({ coopId, id }: JobKey, entry: Running, error: unknown): Promise<void> {
    // A service that closes ends its threads: the row stays unanswered, and is worked out again.
    if (leftAlone(entry)) return
    // The database was away when the answer was to be saved: that is no failure of the timetable.
    if (databaseFailure(error) !== null) throw error
    log.error({ timetable: id, error: loggedError(error) }, 'a timetable could not be worked out')
    const words = entry.changes && error instanceof RangeError ? beyondWords : failureWords
    await saveTimetableFailure(prisma, { coopId, id }, words, clock.now())
  }

  function stop(id: string): void {
    const entry = running.get(id)
    if (entry === undefined) return
    entry.stopAsked = true
    entry.job?.stop()
  }

  const work: Work = {
    atATime: 1,
    run,
    async heed(key) {
      if (await timetableStopIsAsked(prisma, key)) stop(key.id)
    },
    abandon({ id }) {
      const entry = running.get(id)
      if (entry === undefined) return
      entry.abandoned = true
      stop(id)
    },
    giveUp: (key) => saveTimetableFailure(prisma, key, givenUpWords, clock.now()),
    unanswered: () => unansweredTimetables(prisma),
  }

  return {
    work,
    start: ({ coopId, id }) => queue.enqueue('timetable', { coopId, id }),
    stop,
    async settled() {
      await Promise.allSettled([...running.values()].map(({ done }) => done))
    },
    async close() {
      closing = true
      await jobs.close()
      await Promise.allSettled([...running.values()].map(({ done }) => done))
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

/** A day that has begun in a way that no timetable can go on from. */
const beyondWords =
  'There is no timetable that goes on from this: something that was begun needs a person or a machine that is taken or away. Say how long each task really takes, or take back what was settled by hand.'

const givenUpWords =
  'This was begun several times, and the service broke off in the middle each time. Make the plan smaller, and tell the person who hosts the kitchen.'
