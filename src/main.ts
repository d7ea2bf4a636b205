import { mkdir } from 'node:fs/promises'
import { setTimeout as sleep } from 'node:timers/promises'
import type { FastifyInstance } from 'fastify'
import { loadDemonstration } from '../seed/load.ts'
import { buildApp } from './app.ts'
import { systemClock } from './clock.ts'
import { type Database, openDatabase } from './db/client.ts'
import { databaseFailure } from './db/errors.ts'
import { migrateDatabase } from './db/migrate.ts'
import { openServerSql } from './db/server-database.ts'
import { offerInWords, offerSetUp } from './features/accounts/set-up/offer.ts'
import { startDivision } from './features/plans/actions.ts'
import { findDivision } from './features/plans/divisions/queries.ts'
import { startTimetable } from './features/plans/timetables/actions.ts'
import { randomId } from './ids.ts'
import { type AllocationJobs, createAllocationJobs } from './jobs/allocation.ts'
import { createLocalQueue } from './jobs/queue.ts'
import { createSharedQueue } from './jobs/shared-queue.ts'
import { backupBeforeMigrating } from './keeping/before-migrating.ts'
import { startKeeping } from './keeping/running.ts'
import { readSettings, type Settings, SettingsError } from './settings.ts'
import { type ServiceState, tellTrouble } from './web/dependencies.ts'
import { loggedError, makeLog } from './web/log.ts'
import { keptSecret } from './web/secret.ts'
import { findSteward } from './web/sessions/index.ts'
import { makeStop } from './web/stopping.ts'

/** Longest that stopping may take, in milliseconds. */
const STOP_LIMIT_MS = 9_000
/** What of it a division that is being worked out gets to end by itself. */
const JOBS_GRACE_MS = 2_000
/** How often the demonstration's division is looked at while it is worked out. */
const LOOK_AGAIN_MS = 200
/** How often the demonstration's division is asked for where the database fails. */
const TRIES_AT_START = 5

/** Ends a start that somebody stopped meanwhile: no failure. */
class StoppedMeanwhile extends Error {}

try {
  await run(readSettings(process.env))
} catch (error) {
  // before there is a service there is no log to read: plain words for whoever starts it
  tellInWords(error)
  process.exit(error instanceof SettingsError ? 2 : 1)
}

/** What is open so far: all that stopping has to close. */
type Open = {
  app?: FastifyInstance
  jobs?: AllocationJobs
  server?: ReturnType<typeof openServerSql>
  keeping?: Awaited<ReturnType<typeof startKeeping>>
  database?: Database
}

/** What every part of the start needs. */
type Starting = { settings: Settings; log: ReturnType<typeof makeLog>; state: ServiceState; open: Open }

/** The process: starts the service; closes on SIGTERM and SIGINT, also while it starts. */
async function run(settings: Settings): Promise<void> {
  const log = makeLog(settings.logLevel)
  const state: ServiceState = { phase: 'starting' }
  const open: Open = {}
  let started: Promise<void> = Promise.resolve()
  const stop = makeStop({
    state,
    limitMs: STOP_LIMIT_MS,
    tell: ({ step, error }) => log.error({ step, error: loggedError(error) }, 'stopping failed'),
    exit: (code) => process.exit(code),
    steps: [
      // what is being opened is waited for and closed with the rest; how it went is told below
      { name: 'start', stop: () => started.catch(() => undefined) },
      { name: 'app', stop: async () => open.app?.close() },
      { name: 'jobs', stop: async () => open.jobs?.close({ graceMs: JOBS_GRACE_MS }) },
      { name: 'queue', stop: async () => open.server?.close() },
      { name: 'backups', stop: async () => open.keeping?.close() },
      { name: 'database', stop: async () => open.database?.close() },
    ],
  })
  process.on('SIGTERM', stop.asked)
  process.on('SIGINT', stop.asked)
  const failed = (error: unknown) => {
    log.fatal({ error: loggedError(error) }, 'a failure that nobody took care of: stopping')
    void stop.failed()
  }
  process.on('unhandledRejection', failed)
  process.on('uncaughtException', failed)

  started = start({ settings, log, state, open })
  try {
    await started
  } catch (error) {
    if (error instanceof StoppedMeanwhile) return
    tellInWords(error)
    await stop.failed()
  }
}

/** Settings, database, app, listen. Between its steps it looks whether it was stopped. */
async function start({ settings, log, state, open }: Starting): Promise<void> {
  await mkdir(settings.dataDir, { recursive: true })
  const secret = await keptSecret(settings)
  const { databaseUrl } = settings
  const onConnectionLost = (error: Error) =>
    log.warn({ error: loggedError(error) }, 'a connection to the database was lost')
  goOn(state)
  const database = await openDatabase(
    databaseUrl === null ? { dataDir: settings.dataDir } : { url: databaseUrl, onConnectionLost },
  )
  open.database = database
  goOn(state)
  const kept = await backupBeforeMigrating(database, settings.dataDir, systemClock.now())
  if (kept !== null) log.info({ file: kept.file, rows: kept.rows }, 'a backup was made before the database is changed')
  goOn(state)
  const applied = await migrateDatabase(database)
  log.info({ database: database.describe(), applied }, 'the database is up to date')
  goOn(state)
  const demonstration = settings.demo ? await loadDemonstration(database.prisma, systemClock.now(), randomId) : null
  if (demonstration) log.info('the demonstration kitchen was loaded')

  goOn(state)
  const jobs = createAllocationJobs({ threads: settings.solverThreads, log })
  open.jobs = jobs
  const server = databaseUrl === null ? null : openServerSql({ url: databaseUrl, onConnectionLost })
  if (server !== null) open.server = server
  const tell = tellTrouble(log)
  const queue =
    server === null ? createLocalQueue({ tell }) : createSharedQueue({ sql: server.sql, newId: randomId, tell })
  const app = await buildApp({
    settings,
    secret,
    database,
    jobs,
    queue,
    clock: systemClock,
    newId: randomId,
    log,
    state,
  })
  open.app = app
  goOn(state)
  open.keeping = await startKeeping({ settings, database, clock: systemClock, log })

  goOn(state)
  await app.listen({ host: settings.host, port: settings.port })
  const address = app.server.address()
  const port = typeof address === 'object' && address !== null ? address.port : settings.port
  log.info({ host: settings.host, port }, 'listening')
  const name = settings.host === '0.0.0.0' || settings.host === '::' ? 'localhost' : settings.host
  const here = `http://${name.includes(':') ? `[${name}]` : name}:${port}/`
  process.stderr.write(`Glutworks is at ${here}\n`)
  goOn(state)
  const offer = await offerSetUp(database.prisma, settings, systemClock.now())
  if (offer) {
    const words = offerInWords(offer, settings.publicAddress?.href ?? here)
    log.info(words)
    process.stderr.write(`${words}\n`)
  }
  goOn(state)
  const left = await queue.start()
  if (left > 0) log.info({ left }, 'what was left unanswered is worked out again')
  goOn(state)
  if (demonstration) await workOut(app, state, demonstration.planId)
  goOn(state)
  state.phase = 'ready'
}

/** @throws StoppedMeanwhile once the process is to end */
function goOn(state: ServiceState): void {
  if (state.phase === 'closing') throw new StoppedMeanwhile()
}

function tellInWords(error: unknown): void {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`)
}

/** The demonstration is loaded once its plan is worked out; until then the pages answer and the service is not ready. */
async function workOut(app: FastifyInstance, state: ServiceState, planId: string): Promise<void> {
  const steward = await findSteward(app.prisma)
  if (steward === null) throw new Error('the demonstration has no steward')
  const { number } = await patiently(state, () => startDivision(app, steward, planId))
  await untilAnswered(app, state, { coopId: steward.coopId, planId, number })
  // Its timetable takes longer than a visitor should wait for the first page: it goes on meanwhile.
  await startTimetable(app, steward, planId, number)
}

/** A machine that is busy with its start may take longer over a transaction than it is given: that ends no service. */
async function patiently<T>(state: ServiceState, work: () => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries++) {
    goOn(state)
    try {
      return await work()
    } catch (error) {
      if (tries >= TRIES_AT_START || databaseFailure(error) === null) throw error
      await sleep(tries * 1000)
    }
  }
}

/** The division may be worked out by another process: its row tells. */
async function untilAnswered(
  app: FastifyInstance,
  service: ServiceState,
  { coopId, planId, number }: { coopId: string; planId: string; number: number },
): Promise<void> {
  for (;;) {
    goOn(service)
    const { state } = await findDivision(app.prisma, { coopId }, planId, number)
    if (state === 'done' || state === 'failed') return
    await sleep(LOOK_AGAIN_MS)
  }
}
