import type { FastifyBaseLogger } from 'fastify'
import plugin from 'fastify-plugin'
import type { Clock } from '../clock.ts'
import type { Database } from '../db/client.ts'
import type { NewId } from '../ids.ts'
import type { AllocationJobs } from '../jobs/allocation.ts'
import type { Settings } from '../settings.ts'

/** What the service is made from; tests hand in their own. */
export type Dependencies = {
  settings: Settings
  /** Signs cookies; see secret.ts. */
  secret: string
  database: Pick<Database, 'prisma' | 'kind' | 'checkReady' | 'close'>
  jobs: Jobs
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
    jobs: Jobs
    clock: Clock
    newId: NewId
    settings: Settings
  }
}

/** Puts what features need on the app: `app.prisma` (used inside queries.ts only), `app.jobs`, `app.clock`, `app.newId`. */
export const dependencies = plugin<{ dependencies: Dependencies }>(
  async (app, { dependencies: given }) => {
    app.decorate('prisma', given.database.prisma)
    app.decorate('jobs', given.jobs)
    app.decorate('clock', given.clock)
    app.decorate('newId', given.newId)
    app.decorate('settings', given.settings)
  },
  { name: 'dependencies' },
)
