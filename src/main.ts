import { mkdir } from 'node:fs/promises'
import type { FastifyInstance } from 'fastify'
import { loadDemonstration } from '../seed/load.ts'
import { buildApp } from './app.ts'
import { systemClock } from './clock.ts'
import { openDatabase } from './db/client.ts'
import { migrateDatabase } from './db/migrate.ts'
import { startDivision } from './features/plans/actions.ts'
import { resumeDivisions } from './features/plans/divisions/run.ts'
import { startTimetable } from './features/plans/timetables/actions.ts'
import { resumeTimetables } from './features/plans/timetables/run.ts'
import { randomId } from './ids.ts'
import { createAllocationJobs } from './jobs/allocation.ts'
import { readSettings, type Settings, SettingsError } from './settings.ts'
import type { ServiceState } from './web/dependencies.ts'
import { loggedError, makeLog } from './web/log.ts'
import { findSteward } from './web/queries.ts'
import { keptSecret } from './web/secret.ts'
import { makeStop } from './web/stopping.ts'

/** Longest that stopping may take, in milliseconds. */
const STOP_LIMIT_MS = 9_000
/** What of it a division that is being worked out gets to end by itself. */
const JOBS_GRACE_MS = 2_000

try {
  await run(readSettings(process.env))
} catch (error) {
  // before there is a service there is no log to read: plain words for whoever starts it
  const words = error instanceof SettingsError ? error.message : error instanceof Error ? error.message : String(error)
  process.stderr.write(`${words}\n`)
  process.exit(error instanceof SettingsError ? 2 : 1)
}

/** The process: settings, database, app, listen; closes on SIGTERM and SIGINT. */
async function run(settings: Settings): Promise<void> {
  const log = makeLog(settings.logLevel)
  const state: ServiceState = { phase: 'starting' }
  await mkdir(settings.dataDir, { recursive: true })
  const secret = await keptSecret(settings)
  const { databaseUrl } = settings
  const database = await openDatabase(
    databaseUrl === null
      ? { dataDir: settings.dataDir }
      : {
          url: databaseUrl,
          onConnectionLost: (error) => log.warn({ error: loggedError(error) }, 'a connection to the database was lost'),
        },
  )
  const applied = await migrateDatabase(database)
  log.info({ database: database.describe(), applied }, 'the database is up to date')
  const demonstration = settings.demo ? await loadDemonstration(database.prisma, systemClock.now(), randomId) : null
  if (demonstration) log.info('the demonstration kitchen was loaded')

  const jobs = createAllocationJobs({ threads: settings.solverThreads, log })
  const app = await buildApp({ settings, secret, database, jobs, clock: systemClock, newId: randomId, log, state })
  const stop = makeStop({
    state,
    limitMs: STOP_LIMIT_MS,
    tell: ({ step, error }) => log.error({ step, error: loggedError(error) }, 'stopping failed'),
    exit: (code) => process.exit(code),
    steps: [
      { name: 'app', stop: () => app.close() },
      { name: 'jobs', stop: () => jobs.close({ graceMs: JOBS_GRACE_MS }) },
      { name: 'database', stop: () => database.close() },
    ],
  })
  process.on('SIGTERM', stop)
  process.on('SIGINT', stop)
  process.on('unhandledRejection', (error) => {
    log.fatal({ error: loggedError(error) }, 'a failure that nobody took care of: stopping')
    void stop()
  })

  await app.listen({ host: settings.host, port: settings.port })
  const address = app.server.address()
  const port = typeof address === 'object' && address !== null ? address.port : settings.port
  log.info({ host: settings.host, port }, 'listening')
  const name = settings.host === '0.0.0.0' || settings.host === '::' ? 'localhost' : settings.host
  process.stderr.write(`Glutworks is at http://${name.includes(':') ? `[${name}]` : name}:${port}/\n`)
  const resumed = await resumeDivisions(app)
  if (resumed > 0) log.info({ divisions: resumed }, 'divisions left unanswered are worked out again')
  const timetables = await resumeTimetables(app)
  if (timetables > 0) log.info({ timetables }, 'timetables left unanswered are worked out again')
  if (demonstration) await workOut(app, demonstration.planId)
  if (state.phase === 'starting') state.phase = 'ready'
}

/** The demonstration is loaded once its plan is worked out; until then the pages answer and the service is not ready. */
async function workOut(app: FastifyInstance, planId: string): Promise<void> {
  const steward = await findSteward(app.prisma)
  if (steward === null) throw new Error('the demonstration has no steward')
  const { number } = await startDivision(app, steward, planId)
  await app.divisions.settled()
  // Its timetable takes longer than a visitor should wait for the first page: it goes on meanwhile.
  await startTimetable(app, steward, planId, number)
}
