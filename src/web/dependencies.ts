import type { FastifyBaseLogger } from 'fastify'
import plugin from 'fastify-plugin'
import type { Clock } from '../clock.ts'
import type { Database } from '../db/client.ts'
import type { NewId } from '../ids.ts'
import type { AllocationJobs } from '../jobs/allocation.ts'
import { createLocalQueue, type JobQueue, type TellTrouble } from '../jobs/queue.ts'
import type { Settings } from '../settings.ts'
import { loggedError } from './log.ts'

/** What the service is made from; tests hand in their own. */
export type Dependencies = {
  settings: Settings
  /** Signs cookies; see secret.ts. */
  secret: string
  database: Pick<Database, 'prisma' | 'kind' | 'checkReady' | 'close' | 'withMigrationConnection'>
  jobs: Jobs
  /** Long work shared with other processes; where none is given, this process does all of it. */
  queue?: JobQueue
  clock: Clock
  newId: NewId
  log: FastifyBaseLogger
  /** Changed by the process as it starts and stops; read by GET /ready. */
  state: ServiceState
}

export type Jobs = AllocationJobs
export type ServiceState = { phase: 'starting' | 'ready' | 'closing' }

declare module 'fastify' {
  interface FastifyInstance {
    prisma: Database['prisma']
    /** Reads or writes whole tables in one long transaction: see db/session.ts. */
    longTransactions: Pick<Database, 'kind' | 'withMigrationConnection'>
    jobs: Jobs
    queue: JobQueue
    clock: Clock
    newId: NewId
    settings: Settings
    /** On a server several processes may be at work. */
    databaseKind: Database['kind']
  }
}

/** Puts what features need on the app: `app.prisma` (used inside queries.ts only), `app.jobs`, `app.queue`, `app.clock`, `app.newId`. */
export const dependencies = plugin<{ dependencies: Dependencies }>(
  async (app, { dependencies: given }) => {
    app.decorate('prisma', given.database.prisma)
    app.decorate('longTransactions', given.database)
    app.decorate('jobs', given.jobs)
    app.decorate('clock', given.clock)
    app.decorate('newId', given.newId)
    app.decorate('settings', given.settings)
    app.decorate('databaseKind', given.database.kind)
    const queue = given.queue ?? createLocalQueue({ tell: tellTrouble(given.log) })
    app.decorate('queue', queue)
    // Nothing more is taken from the moment on that the app begins to close; what runs gives way when its runner closes.
    let closed: Promise<void> | null = null
    app.addHook('preClose', async () => {
      closed = queue.close()
      // a failure is told below, when the runners have closed
      closed.catch(() => undefined)
    })
    app.addHook('onClose', async () => closed)
  },
  { name: 'dependencies' },
)

/** Writes into the log what went wrong with long work. */
export function tellTrouble(log: FastifyBaseLogger): TellTrouble {
  return (words, details, error) => log.warn({ ...details, error: loggedError(error) }, words)
}
