import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import type { AllocationResult } from '../../../core/allocation/index.ts'
import { replanPasses } from '../../../core/day/index.ts'
import { askDivision, type Question, summarise } from '../../../core/division/index.ts'
import { inTransaction } from '../../../db/transaction.ts'
import type { JobKey } from '../../../jobs/queue.ts'
import {
  createTimetableJobs,
  type TimetableJob,
  type TimetableJobs,
  type TimetableTask,
} from '../../../jobs/timetable.ts'
import { loggedError } from '../../../web/log.ts'
import { readPlace } from '../../processes/index.ts'
import { findDivision } from '../divisions/queries.ts'
import type { Headline } from '../documents.ts'
import { headlineFor } from '../headline.ts'
import { createRuns, type Run, type Runner } from '../runs.ts'
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

declare module 'fastify' {
  interface FastifyInstance {
    /** Hands timetables to their threads and saves what comes back. */
    timetables: Runner
  }
}

/** Passes of schedule generation for each schedule, at most: about two seconds of a kitchen of two days. */
const maxSchedules = 2_000

/** Puts `app.timetables` on the app. When the app closes, what still runs stays unanswered and goes back to the queue. */
export const timetableRunner = plugin(
  async (app) => {
    const jobs = createTimetableJobs()
    const runs = makeRuns(app, jobs)
    app.queue.work('timetable', runs.work)
    app.decorate('timetables', runs)
    app.addHook('onClose', () => {
      runs.close()
      return jobs.close()
    })
  },
  { name: 'timetable-runner', dependencies: ['dependencies'] },
)

type AskedTimetable = NonNullable<Awaited<ReturnType<typeof askedTimetable>>>

/** A day has begun in a way that no timetable can go on from. */
class NoWayOn extends Error {
  override name = 'NoWayOn'
}

function makeRuns({ prisma, queue, clock, log, settings, newId }: FastifyInstance, jobs: TimetableJobs) {
  async function workOut({ coopId, id }: JobKey, run: Run<TimetableJob>): Promise<void> {
    const asked = await askedTimetable(prisma, { coopId, id })
    if (asked === null) return
    const tell = ({ round, unitsOver }: { round: number; unitsOver: number }) => {
      saveTimetableProgress(prisma, { coopId, id }, progressWords(round, unitsOver)).catch((error: unknown) =>
        log.warn({ timetable: id, error: loggedError(error) }, 'how far a timetable is was not kept'),
      )
    }
    const task = await taskOf(coopId, asked)
    if (run.isLeftAlone()) return
    const job = run.begin(jobs.solve(task, tell))
    if (asked.stopAsked) job.stop()
    const { worked, division } = await job.answer.catch((error: unknown) => {
      throw task.kind === 'change' && error instanceof RangeError ? new NoWayOn(error.message) : error
    })
    if (run.isLeftAlone()) return
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

  return createRuns<TimetableJob>({
    kind: 'timetable',
    queue,
    log,
    atATime: 1,
    failed: 'a timetable could not be worked out',
    workOut,
    saveFailure: (key, error) =>
      saveTimetableFailure(prisma, key, error instanceof NoWayOn ? beyondWords : failureWords, clock.now()),
    stopIsAsked: (key) => timetableStopIsAsked(prisma, key),
    giveUp: (key) => saveTimetableFailure(prisma, key, givenUpWords, clock.now()),
    unanswered: () => unansweredTimetables(prisma),
  })
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

const beyondWords =
  'There is no timetable that goes on from this: something that was begun needs a person or a machine that is taken or away. Say how long each task really takes, or take back what was settled by hand.'

const givenUpWords =
  'This was begun several times, and the service broke off in the middle each time. Make the plan smaller, and tell the person who hosts the kitchen.'
