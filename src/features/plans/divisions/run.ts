import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import { checkAllocation, ProblemRefused } from '../../../core/allocation/index.ts'
import { askDivision, NotAccountedFor, type Question, summarise } from '../../../core/division/index.ts'
import { databaseFailure } from '../../../db/errors.ts'
import { inTransaction } from '../../../db/transaction.ts'
import type { AllocationJob } from '../../../jobs/allocation.ts'
import { ThreadHung } from '../../../jobs/patience.ts'
import type { JobKey, Work } from '../../../jobs/queue.ts'
import { loggedError } from '../../../web/log.ts'
import { headlineFor } from '../headline.ts'
import {
  askedOf,
  saveAnswer,
  saveFailure,
  saveProgress,
  saveSteps,
  stopIsAsked,
  unansweredDivisions,
} from './queries.ts'

/** A division that was noted and is to be worked out. */
export type Asked = JobKey & { question: Question; stopAsked: boolean }

/** Hands divisions to the jobs and saves what comes back. No transaction is open while the solver thinks. */
export type DivisionRunner = {
  /** Has it worked out, here or in another process, and returns at once. */
  start(noted: JobKey): void
  /** Has the solver give back the best so far. One that runs in another process hears of it by its row. */
  stop(id: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

declare module 'fastify' {
  interface FastifyInstance {
    divisions: DivisionRunner
  }
}

/** Puts `app.divisions` on the app. When the app closes, what still runs stays unanswered and goes back to the queue. */
export const divisionRunner = plugin(
  async (app) => {
    const runner = makeRunner(app)
    app.queue.work('division', runner.work)
    app.decorate('divisions', runner)
    app.addHook('onClose', () => runner.close())
  },
  { name: 'division-runner', dependencies: ['dependencies'] },
)

/** What one more of a limit would be worth is looked for after the answer, half as long, and so long at most. */
const stepsMsAtMost = 10_000
/** Progress is kept this often at most, in the solver's own milliseconds. */
const progressEveryMs = 900

type Running = { job: AllocationJob | null; stopAsked: boolean; abandoned: boolean; done: Promise<void> }

type Runner = DivisionRunner & { work: Work; close(): Promise<void> }

function makeRunner({ prisma, jobs, queue, clock, log, settings }: FastifyInstance): Runner {
  const running = new Map<string, Running>()
  const solveMs = settings.solveSeconds * 1000
  const closing = settleable()

  function run(key: JobKey): Promise<void> {
    if (closing.is) return Promise.resolve()
    const at = running.get(key.id)
    if (at !== undefined) return at.done
    const entry: Running = { job: null, stopAsked: false, abandoned: false, done: Promise.resolve() }
    running.set(key.id, entry)
    const done = workOut(key, entry)
      .catch((error: unknown) => afterFailure(key, entry, error))
      .finally(() => running.delete(key.id))
    // a service that closes does not wait for a solver that is slow to stop
    entry.done = Promise.race([done, closing.promise])
    return entry.done
  }

  async function workOut(key: JobKey, entry: Running): Promise<void> {
    const asked = await askedOf(prisma, key)
    if (asked === null || leftAlone(entry)) return
    const { question } = asked
    const problem = askDivision(question)
    const keepProgress = progressKeeper(key)
    const job = jobs.solve(problem, {
      timeLimitMs: solveMs,
      stepsMs: Math.min(stepsMsAtMost, solveMs / 2),
      onProgress: keepProgress.tell,
    })
    entry.job = job
    if (asked.stopAsked || entry.stopAsked) job.stop()
    const result = await job.result
    await keepProgress.settled()
    if (leftAlone(entry)) return
    const broken = checkAllocation(problem, result)
    if (broken.length > 0) {
      log.error({ division: key.id, broken: broken.slice(0, 20) }, 'an answer that does not hold was not saved')
      const words = brokenWords(broken.map(({ rule, detail }) => `${rule}: ${detail}`))
      return saveFailure(prisma, key, words, clock.now())
    }
    const headline = headlineFor(question, summarise(question, problem, result))
    const answer = { result, headline }
    const saved = await inTransaction(prisma, (transaction) => saveAnswer(transaction, key, answer, clock.now()))
    const steps = await job.steps
    // what one more would be worth belongs to this answer, and to no other that was saved meanwhile
    if (saved && !closing.is) await inTransaction(prisma, (transaction) => saveSteps(transaction, key, steps))
  }

  /** The row is left as it is: the service closes, or another process works on it. */
  function leftAlone({ abandoned }: Running): boolean {
    return closing.is || abandoned
  }

  /** One write at a time, the newest only. */
  function progressKeeper(key: { coopId: string; id: string }) {
    let written = Number.NEGATIVE_INFINITY
    let writing: Promise<void> | null = null
    return {
      tell(progress: { objective: number; bound: number; elapsedMs: number }) {
        if (closing.is || writing !== null || progress.elapsedMs - written < progressEveryMs) return
        written = progress.elapsedMs
        writing = saveProgress(prisma, key, progress)
          .catch((error: unknown) => log.warn({ division: key.id, error: loggedError(error) }, 'progress was not kept'))
          .finally(() => {
            writing = null
          })
      },
      settled: async () => writing,
    }
  }

  async function afterFailure(key: JobKey, entry: Running, error: unknown): Promise<void> {
    // A service that closes ends its threads: the row stays unanswered, and is worked out again.
    if (leftAlone(entry)) return
    // The database was away when the answer was to be saved: that is no failure of the division.
    if (databaseFailure(error) !== null) throw error
    log.error({ division: key.id, error: loggedError(error) }, 'a division could not be worked out')
    await saveFailure(prisma, key, failureWords(error), clock.now())
  }

  function stop(id: string): void {
    const entry = running.get(id)
    if (entry === undefined) return
    entry.stopAsked = true
    entry.job?.stop()
  }

  const work: Work = {
    atATime: settings.solverThreads,
    run,
    async heed(key) {
      if (await stopIsAsked(prisma, key)) stop(key.id)
    },
    abandon({ id }) {
      const entry = running.get(id)
      if (entry === undefined) return
      entry.abandoned = true
      stop(id)
    },
    giveUp: (key) => saveFailure(prisma, key, givenUpWords, clock.now()),
    unanswered: () => unansweredDivisions(prisma),
  }

  return {
    work,
    start: (noted) => queue.enqueue('division', { coopId: noted.coopId, id: noted.id }),
    stop,
    async settled() {
      await Promise.allSettled([...running.values()].map(({ done }) => done))
    },
    async close() {
      for (const { job } of running.values()) job?.stop()
      closing.settle()
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

/** What stands on the page of an answer that was refused. */
function brokenWords(broken: string[]): string {
  const first = broken.slice(0, 3).join('; ')
  return `The answer does not hold and was not kept (${first}). The fault is ours: work it out again, and tell the person who hosts the kitchen if it stays.`
}

function failureWords(error: unknown): string {
  if (error instanceof ProblemRefused) {
    const first = error.refusals.slice(0, 3).map(({ where, detail }) => `${where} ${detail}`)
    return `The question cannot be worked out: ${first.join('; ')}. Change that and work it out again.`
  }
  if (error instanceof NotAccountedFor) {
    return `The answer does not add up and was not kept (${error.message}). The fault is ours: work it out again.`
  }
  if (error instanceof ThreadHung) {
    return 'The work gave no answer long after its time, and was ended. Work it out again, and tell the person who hosts the kitchen if it stays.'
  }
  return 'The work broke off before there was an answer. Work it out again.'
}

const givenUpWords =
  'This was begun several times, and the service broke off in the middle each time. Make the plan smaller, and tell the person who hosts the kitchen.'
