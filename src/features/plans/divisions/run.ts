import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import { checkAllocation, ProblemRefused } from '../../../core/allocation/index.ts'
import { askDivision, NotAccountedFor, type Question, summarise } from '../../../core/division/index.ts'
import { inTransaction } from '../../../db/transaction.ts'
import type { AllocationJob } from '../../../jobs/allocation.ts'
import { ThreadHung } from '../../../jobs/patience.ts'
import type { JobKey } from '../../../jobs/queue.ts'
import { loggedError } from '../../../web/log.ts'
import { headlineFor } from '../headline.ts'
import { createRuns, type Run, type Runner } from '../runs.ts'
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

declare module 'fastify' {
  interface FastifyInstance {
    /** Hands divisions to the solver's threads and saves what comes back. */
    divisions: Runner
  }
}

/** Puts `app.divisions` on the app. When the app closes, what still runs stays unanswered and goes back to the queue. */
export const divisionRunner = plugin(
  async (app) => {
    const runs = makeRuns(app)
    app.queue.work('division', runs.work)
    app.decorate('divisions', runs)
    app.addHook('onClose', async () => runs.close())
  },
  { name: 'division-runner', dependencies: ['dependencies'] },
)

/** What one more of a limit would be worth is looked for after the answer, half as long, and so long at most. */
const stepsMsAtMost = 10_000
/** Progress is kept this often at most, in the solver's own milliseconds. */
const progressEveryMs = 900

function makeRuns({ prisma, jobs, queue, clock, log, settings }: FastifyInstance) {
  const solveMs = settings.solveSeconds * 1000

  async function workOut(key: JobKey, run: Run<AllocationJob>): Promise<void> {
    const asked = await askedOf(prisma, key)
    if (asked === null || run.isLeftAlone()) return
    const { question } = asked
    const problem = askDivision(question)
    const keepProgress = progressKeeper(key, run)
    const job = run.begin(
      jobs.solve(problem, {
        timeLimitMs: solveMs,
        stepsMs: Math.min(stepsMsAtMost, solveMs / 2),
        onProgress: keepProgress.tell,
      }),
    )
    if (asked.stopAsked) job.stop()
    const result = await job.result
    await keepProgress.settled()
    if (run.isLeftAlone()) return
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
    if (saved && !run.isLeftAlone()) await inTransaction(prisma, (transaction) => saveSteps(transaction, key, steps))
  }

  /** One write at a time, the newest only. */
  function progressKeeper(key: JobKey, run: Run<AllocationJob>) {
    let written = Number.NEGATIVE_INFINITY
    let writing: Promise<void> | null = null
    return {
      tell(progress: { objective: number; bound: number; elapsedMs: number }) {
        if (run.isLeftAlone() || writing !== null || progress.elapsedMs - written < progressEveryMs) return
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

  return createRuns<AllocationJob>({
    kind: 'division',
    queue,
    log,
    atATime: settings.solverThreads,
    failed: 'a division could not be worked out',
    workOut,
    saveFailure: (key, error) => saveFailure(prisma, key, failureWords(error), clock.now()),
    stopIsAsked: (key) => stopIsAsked(prisma, key),
    giveUp: (key) => saveFailure(prisma, key, givenUpWords, clock.now()),
    unanswered: () => unansweredDivisions(prisma),
  })
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
