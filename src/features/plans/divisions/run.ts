import type { FastifyBaseLogger, FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import type { Clock } from '../../../clock.ts'
import { checkAllocation, ProblemRefused } from '../../../core/allocation/index.ts'
import { askDivision, NotAccountedFor, type Question, summarise } from '../../../core/division/index.ts'
import { inTransaction } from '../../../db/transaction.ts'
import type { AllocationJob, AllocationJobs } from '../../../jobs/allocation.ts'
import { loggedError } from '../../../web/log.ts'
import { headlineFor } from '../headline.ts'
import { saveAnswer, saveFailure, saveProgress, saveSteps, unansweredDivisions } from './queries.ts'

/** A division that was noted and is to be worked out. */
export type Asked = { coopId: string; id: string; question: Question; stopAsked: boolean }

/** Hands divisions to the jobs and saves what comes back. No transaction is open while the solver thinks. */
export type DivisionRunner = {
  /** Begins, and returns at once; one that is running already is left alone. */
  start(asked: Asked): void
  /** Has the solver give back the best so far. Nothing for one that does not run here. */
  stop(id: string): void
  /** When all that runs now has been saved. */
  settled(): Promise<void>
}

declare module 'fastify' {
  interface FastifyInstance {
    divisions: DivisionRunner
  }
}

/** Puts `app.divisions` on the app. When the app closes, what still runs stays unanswered in the database. */
export const divisionRunner = plugin(
  async (app) => {
    const { prisma, jobs, clock, log, settings } = app
    const runner = makeRunner({ prisma, jobs, clock, log, solveMs: settings.solveSeconds * 1000 })
    app.decorate('divisions', runner)
    app.addHook('onClose', () => runner.close())
  },
  { name: 'division-runner', dependencies: ['dependencies'] },
)

/** Works out again what the last process left unanswered; for the start of the service. Says how many there were. */
export async function resumeDivisions(app: FastifyInstance): Promise<number> {
  const left = await unansweredDivisions(app.prisma)
  for (const { coopId, id, question, stopAsked } of left) app.divisions.start({ coopId, id, question, stopAsked })
  return left.length
}

/** What one more of a limit would be worth is looked for after the answer, half as long, and so long at most. */
const stepsMsAtMost = 10_000
/** Progress is kept this often at most, in the solver's own milliseconds. */
const progressEveryMs = 900

type Setup = {
  prisma: FastifyInstance['prisma']
  jobs: AllocationJobs
  clock: Clock
  log: FastifyBaseLogger
  solveMs: number
}

function makeRunner({ prisma, jobs, clock, log, solveMs }: Setup): DivisionRunner & { close(): Promise<void> } {
  const running = new Map<string, { job: AllocationJob; done: Promise<void> }>()
  let closing = false

  function start(asked: Asked): void {
    if (closing || running.has(asked.id)) return
    const problem = askDivision(asked.question)
    const key = { coopId: asked.coopId, id: asked.id }
    const keepProgress = progressKeeper(key)
    let job: AllocationJob
    try {
      job = jobs.solve(problem, {
        timeLimitMs: solveMs,
        stepsMs: Math.min(stepsMsAtMost, solveMs / 2),
        onProgress: keepProgress.tell,
      })
    } catch (error) {
      // the jobs take nothing more: the next start of the service works it out
      log.warn({ division: asked.id, error: loggedError(error) }, 'a division has to wait for the next start')
      return
    }
    const work = async () => {
      const result = await job.result
      await keepProgress.settled()
      if (closing) return
      const broken = checkAllocation(problem, result)
      if (broken.length > 0) {
        log.error({ division: asked.id, broken: broken.slice(0, 20) }, 'an answer that does not hold was not saved')
        return fail(asked, brokenWords(broken.map(({ rule, detail }) => `${rule}: ${detail}`)))
      }
      const headline = headlineFor(asked.question, summarise(asked.question, problem, result))
      await inTransaction(prisma, (transaction) => saveAnswer(transaction, key, { result, headline }, clock.now()))
      const steps = await job.steps
      if (!closing) await inTransaction(prisma, (transaction) => saveSteps(transaction, key, steps))
    }
    const done = work()
      .catch((error: unknown) => afterFailure(asked, error))
      .finally(() => running.delete(asked.id))
    running.set(asked.id, { job, done })
    if (asked.stopAsked) job.stop()
  }

  /** One write at a time, the newest only. */
  function progressKeeper(key: { coopId: string; id: string }) {
    let written = Number.NEGATIVE_INFINITY
    let writing: Promise<void> | null = null
    return {
      tell(progress: { objective: number; bound: number; elapsedMs: number }) {
        if (closing || writing !== null || progress.elapsedMs - written < progressEveryMs) return
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

  async function afterFailure(asked: Asked, error: unknown): Promise<void> {
    // A service that closes ends its threads: the row stays unanswered, and the next start works it out again.
    if (closing) return
    log.error({ division: asked.id, error: loggedError(error) }, 'a division could not be worked out')
    await fail(asked, failureWords(error))
  }

  async function fail(asked: Asked, words: string): Promise<void> {
    try {
      await saveFailure(prisma, { coopId: asked.coopId, id: asked.id }, words, clock.now())
    } catch (error) {
      log.error({ division: asked.id, error: loggedError(error) }, 'the failure of a division was not kept')
    }
  }

  return {
    start,
    stop: (id) => running.get(id)?.job.stop(),
    async settled() {
      await Promise.all([...running.values()].map(({ done }) => done))
    },
    async close() {
      closing = true
      for (const { job } of running.values()) job.stop()
    },
  }
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
  return 'The work broke off before there was an answer. Work it out again.'
}
