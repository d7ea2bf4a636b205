import { mkdirSync } from 'node:fs'
import { join, resolve } from 'node:path'
import {
  DriverAdapterError,
  type SqlDriverAdapter,
  type SqlMigrationAwareDriverAdapterFactory,
  type SqlQueryable,
  type Transaction,
} from '@prisma/driver-adapter-utils'
import { refuseCommitAfterFailure } from '../aborted-transaction.ts'
import { lockFolder } from './folder-lock.ts'
import { openSession, type Session } from './session.ts'

export type EmbeddedOptions = {
  /** Folder of the service's data; made when missing. The database is in `database` below it, the lock beside that. */
  dataDir: string
  /** See SessionOptions; 15 seconds when not given, three times what a transaction may last. */
  callLimitMs?: number
  /** See SessionOptions; 60 seconds when not given. */
  openLimitMs?: number
  /** See openDurablePGlite; true when not given. */
  flush?: boolean
}

/** The embedded PostgreSQL in its thread, as Prisma sees it. */
export type EmbeddedDatabase = {
  factory: SqlMigrationAwareDriverAdapterFactory
  /** How often the disk was flushed since the thread began. */
  flushes(): Promise<number>
  /**
   * A copy of the whole data folder as a gzipped tar archive, consistent at one moment, for a backup. Queries wait for
   * the reading of the files (well under a second for a small co-op). PGlite's `loadDataDir` reads it back.
   */
  dump(): Promise<Uint8Array>
  /** Ends the thread as a crash would; the next call opens the database again. */
  crash(): Promise<void>
  /** Closes the database and gives the folder free. */
  close(): Promise<void>
}

/**
 * Opens the embedded database and locks its folder for this process.
 *
 * A thread that ends or stops answering takes only the calls then waiting with it: they are rejected, and the next call
 * opens the database again, which replays what was acknowledged.
 *
 * @throws FolderLockError when another process has the folder; Error when the database does not open
 */
export async function openEmbeddedDatabase(options: EmbeddedOptions): Promise<EmbeddedDatabase> {
  const dataDir = resolve(options.dataDir)
  mkdirSync(dataDir, { recursive: true, mode: 0o700 })
  const lock = await lockFolder(dataDir)
  const sessions = superviseSessions(() =>
    openSession({
      folder: join(dataDir, 'database'),
      flush: options.flush ?? true,
      callLimitMs: options.callLimitMs ?? 15_000,
      openLimitMs: options.openLimitMs ?? 60_000,
    }),
  )
  try {
    await sessions.current()
  } catch (error) {
    await lock.release()
    throw error
  }
  return {
    factory: createFactory(sessions),
    flushes: async () => (await sessions.current()).call('flushes', {}),
    dump: async () => (await sessions.current()).call('dump', {}),
    crash: async () => (await sessions.current()).terminate(),
    close: async () => {
      await sessions.close()
      await lock.release()
    },
  }
}

type Sessions = {
  /** The session in force; opens another when the last one has ended. */
  current(): Promise<Session>
  close(): Promise<void>
}

function superviseSessions(open: () => Promise<Session>): Sessions {
  let session: Session | undefined
  let opening: Promise<Session> | undefined
  let closed = false

  async function reopen(): Promise<Session> {
    try {
      // The old thread must be gone before another one opens the same files.
      await session?.close()
      session = await open()
      return session
    } finally {
      opening = undefined
    }
  }

  return {
    current: async () => {
      if (closed) throw new DriverAdapterError({ kind: 'ConnectionClosed', originalMessage: 'the database was closed' })
      if (opening === undefined && session?.alive()) return session
      opening ??= reopen()
      return opening
    },
    close: async () => {
      closed = true
      await opening?.catch(() => undefined)
      await session?.close()
    },
  }
}

const PROVIDER = { provider: 'postgres', adapterName: 'embedded-postgres' } as const

function createFactory(sessions: Sessions): SqlMigrationAwareDriverAdapterFactory {
  return {
    ...PROVIDER,
    connect: async () => createAdapter(sessions, await sessions.current()),
    connectToShadowDb: async () => {
      throw new Error('The embedded database has no second database to try migrations on.')
    },
  }
}

function createAdapter(sessions: Sessions, first: Session): SqlDriverAdapter {
  return {
    ...PROVIDER,
    queryRaw: async (query) => (await sessions.current()).call('queryRaw', { query }),
    executeRaw: async (query) => (await sessions.current()).call('executeRaw', { query }),
    executeScript: async (script) => (await sessions.current()).call('executeScript', { script }),
    startTransaction: async (isolationLevel) => {
      const session = await sessions.current()
      const begun = await session.call('begin', isolationLevel === undefined ? {} : { isolationLevel })
      return refuseCommitAfterFailure(createTransaction(session, begun))
    },
    getConnectionInfo: () => first.connectionInfo,
    // The database outlives the client's connection: close() of the whole ends it.
    dispose: async () => undefined,
  }
}

/** Bound to the session it began in: when that ends, so does the transaction, and it is never continued in the next. */
function createTransaction(session: Session, transaction: number): Transaction {
  const queries: SqlQueryable = {
    ...PROVIDER,
    queryRaw: (query) => session.call('queryRaw', { query, transaction }),
    executeRaw: (query) => session.call('executeRaw', { query, transaction }),
  }
  return {
    ...queries,
    options: { usePhantomQuery: true },
    commit: () => session.call('commit', { transaction }),
    rollback: () => session.call('rollback', { transaction }),
  }
}
