import type { PGlite } from '@electric-sql/pglite'
import type { IsolationLevel, SqlDriverAdapter, Transaction } from '@prisma/driver-adapter-utils'
import { PrismaPGlite } from 'pglite-prisma-adapter'

/**
 * Prisma's adapter for PGlite (pglite-prisma-adapter 0.7.2) with three of its faults mended. tests/db/adapter.test.ts
 * shows each fault in the adapter as published beside the same case here.
 *
 * - A COMMIT that fails (a deferred constraint, a full disk) was reported as a success; here it is an error.
 * - A script was not waited for, so that a broken migration counted as applied; here its error is thrown.
 * - The isolation level was set before the transaction began, without effect; here it is the first statement inside.
 */
export async function connectMendedAdapter(client: PGlite): Promise<SqlDriverAdapter> {
  const watched = watchTransactions(client)
  const adapter = await new PrismaPGlite(watched.client).connect()
  const toDriverError = driverErrorOf(adapter)

  return {
    provider: adapter.provider,
    adapterName: adapter.adapterName,
    queryRaw: (query) => adapter.queryRaw(query),
    executeRaw: (query) => adapter.executeRaw(query),
    executeScript: async (script) => {
      await client.exec(script).catch(toDriverError)
    },
    startTransaction: async (isolationLevel) => {
      // The adapter calls the client's transaction() before it first waits, so the outcome taken is this one's.
      const starting = adapter.startTransaction()
      const outcome = watched.takeOutcome()
      const transaction = mendTransaction(await starting, outcome, toDriverError)
      if (isolationLevel !== undefined) await setIsolationLevel(transaction, isolationLevel)
      return transaction
    },
    getConnectionInfo: () => adapter.getConnectionInfo?.() ?? { supportsRelationJoins: true },
    dispose: () => adapter.dispose(),
  }
}

/** Always throws: a database's refusal as a DriverAdapterError, anything else as it is. */
type ToDriverError = (error: unknown) => never

type WatchedClient = { client: PGlite; takeOutcome(): Promise<unknown> }

/** The same client, whose transactions' outcomes (rejected when the COMMIT failed) can be asked for. */
function watchTransactions(client: PGlite): WatchedClient {
  let latest: Promise<unknown> | undefined
  const transaction: PGlite['transaction'] = (work) => {
    const outcome = client.transaction(work)
    // Whoever commits looks at the outcome; a rollback does not need it, and it must not count as unhandled then.
    outcome.catch(() => undefined)
    latest = outcome
    return outcome
  }
  const proxy = new Proxy(client, {
    get(target, key) {
      if (key === 'transaction') return transaction
      const value: unknown = Reflect.get(target, key, target)
      return typeof value === 'function' ? value.bind(target) : value
    },
  })
  return {
    client: proxy,
    takeOutcome: () => {
      if (latest === undefined)
        throw new Error('The adapter for PGlite began no transaction: its internals have changed.')
      const outcome = latest
      latest = undefined
      return outcome
    },
  }
}

/** The adapter's own translation of PGlite's errors, which it does not publish. */
function driverErrorOf(adapter: SqlDriverAdapter): ToDriverError {
  const { onError } = adapter as unknown as { onError?: (error: unknown) => never }
  if (typeof onError !== 'function') throw new Error('The adapter for PGlite has changed: it translates no errors.')
  return (error) => onError.call(adapter, error)
}

function mendTransaction(raw: Transaction, outcome: Promise<unknown>, toDriverError: ToDriverError): Transaction {
  return {
    provider: raw.provider,
    adapterName: raw.adapterName,
    options: raw.options,
    queryRaw: (query) => raw.queryRaw(query),
    executeRaw: (query) => raw.executeRaw(query),
    commit: async () => {
      await raw.commit()
      await outcome.catch(toDriverError)
    },
    rollback: () => raw.rollback(),
  }
}

async function setIsolationLevel(transaction: Transaction, level: IsolationLevel): Promise<void> {
  try {
    await transaction.executeRaw({ sql: `SET TRANSACTION ISOLATION LEVEL ${level}`, args: [], argTypes: [] })
  } catch (error) {
    await transaction.rollback()
    throw error
  }
}
