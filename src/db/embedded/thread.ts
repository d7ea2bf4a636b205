import { parentPort, workerData } from 'node:worker_threads'
import { isDriverAdapterError, type SqlQueryable, type Transaction } from '@prisma/driver-adapter-utils'
import { openDurablePGlite } from './durable-pglite.ts'
import { connectMendedAdapter } from './mended-adapter.ts'
import type { Answer, Input, Operation, Output, Request, SentError, ThreadData } from './protocol.ts'

// The embedded database lives in this thread: a slow query then holds up the database, not the service's event loop.
// A database that does not open ends the thread with that error, which the opener reports.

const port = parentPort
if (port === null) throw new Error('This file runs as a worker thread only.')

const { folder, flush } = workerData as ThreadData
const { client, flushes } = await openDurablePGlite(folder, { flush })
const adapter = await connectMendedAdapter(client)
const transactions = new Map<number, Transaction>()
let begun = 0

const handlers: { [O in Operation]: (input: Input<O>) => Promise<Output<O>> } = {
  queryRaw: async ({ query, transaction }) => target(transaction).queryRaw(query),
  executeRaw: async ({ query, transaction }) => target(transaction).executeRaw(query),
  executeScript: async ({ script }) => {
    await adapter.executeScript(script)
    return undefined
  },
  begin: async ({ isolationLevel }) => {
    const transaction = await adapter.startTransaction(isolationLevel)
    begun += 1
    transactions.set(begun, transaction)
    return begun
  },
  commit: async ({ transaction }) => {
    await take(transaction).commit()
    return undefined
  },
  rollback: async ({ transaction }) => {
    await take(transaction).rollback()
    return undefined
  },
  flushes: async () => flushes(),
  dump: async () => new Uint8Array(await (await client.dumpDataDir('gzip')).arrayBuffer()),
  close: async () => {
    await client.close()
    return undefined
  },
}

port.on('message', async (request: Request) => {
  try {
    answer({ kind: 'done', id: request.id, output: await run(request) })
  } catch (error) {
    answer({ kind: 'failed', id: request.id, error: toSent(error) })
    // A trap in the WebAssembly leaves PGlite unusable; ending the thread lets the next call open it anew.
    if (error instanceof Error && error.name === 'RuntimeError') process.exit(1)
  }
  if (request.operation === 'close') port.close()
})
answer({ kind: 'opened', connectionInfo: adapter.getConnectionInfo?.() ?? { supportsRelationJoins: true } })

function run(request: Request): Promise<unknown> {
  // The type says that input and handler belong together; the compiler cannot follow that through the index.
  const handler = handlers[request.operation] as (input: Request['input']) => Promise<unknown>
  return handler(request.input)
}

function target(transaction: number | undefined): SqlQueryable {
  return transaction === undefined ? adapter : find(transaction)
}

function find(id: number): Transaction {
  const transaction = transactions.get(id)
  if (transaction === undefined) throw new Error(`There is no open transaction ${id}.`)
  return transaction
}

function take(id: number): Transaction {
  const transaction = find(id)
  transactions.delete(id)
  return transaction
}

function answer(message: Answer): void {
  port?.postMessage(message)
}

function toSent(error: unknown): SentError {
  if (isDriverAdapterError(error)) return { name: error.name, message: error.message, cause: error.cause }
  if (error instanceof Error) return { name: error.name, message: error.message }
  return { name: 'Error', message: String(error) }
}
