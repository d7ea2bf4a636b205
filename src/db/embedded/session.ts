import { Worker } from 'node:worker_threads'
import { type ConnectionInfo, DriverAdapterError } from '@prisma/driver-adapter-utils'
import { typescriptWorkerOptions } from '../../jobs/worker-options.ts'
import type { Answer, Input, Operation, Output, SentError, ThreadData } from './protocol.ts'

/** One life of the database's thread. Once ended it stays ended, and every call to it is refused. */
export type Session = {
  connectionInfo: ConnectionInfo
  /** The thread is there, as far as is known. */
  alive(): boolean
  /** Rejected with a DriverAdapterError: the database's own refusal, or that the thread ended or did not answer. */
  call<O extends Operation>(operation: O, input: Input<O>): Promise<Output<O>>
  /** Closes the database and waits until the thread is gone; a thread that does not answer is ended. */
  close(): Promise<void>
  /** Ends the thread without closing the database: waiting calls are rejected, what was acknowledged stays. */
  terminate(): Promise<void>
}

export type SessionOptions = ThreadData & {
  /** How long calls may wait while the thread answers nothing at all; then it is ended. Milliseconds. */
  callLimitMs: number
  /** How long the database may take to open, the making of a new one included. Milliseconds. */
  openLimitMs: number
}

/**
 * Starts the thread and opens the database in it.
 *
 * @throws Error when the database does not open, with the reason, or not in time
 */
export function openSession(options: SessionOptions): Promise<Session> {
  const { folder, flush, callLimitMs, openLimitMs } = options
  const worker = new Worker(new URL('./thread.ts', import.meta.url), typescriptWorkerOptions({ folder, flush }))
  const waiting = new Map<number, { resolve: (output: unknown) => void; reject: (error: Error) => void }>()
  const exited = new Promise<void>((resolve) => worker.once('exit', () => resolve()))
  let calls = 0
  let end: Error | undefined
  let watchdog: NodeJS.Timeout | undefined

  return new Promise((resolve, reject) => {
    const openLimit = setTimeout(() => {
      endWith(new Error(`The embedded database in ${folder} did not open within ${openLimitMs / 1000} seconds.`))
    }, openLimitMs)

    worker.on('error', (error) => {
      end ??= new Error(`The embedded database in ${folder} failed: ${error.message}`, { cause: error })
    })
    worker.once('exit', (code) => {
      clearTimeout(openLimit)
      clearTimeout(watchdog)
      end ??= connectionClosed(`the database's thread ended with code ${code}`)
      const refusal = end instanceof DriverAdapterError ? end : connectionClosed(end.message)
      for (const waiter of waiting.values()) waiter.reject(refusal)
      waiting.clear()
      reject(end)
    })
    worker.on('message', (answer: Answer) => {
      if (answer.kind === 'opened') {
        clearTimeout(openLimit)
        resolve({ connectionInfo: answer.connectionInfo, alive: () => end === undefined, call, close, terminate })
        return
      }
      const waiter = waiting.get(answer.id)
      waiting.delete(answer.id)
      watch()
      if (answer.kind === 'done') waiter?.resolve(answer.output)
      else waiter?.reject(fromSent(answer.error))
    })
  })

  function call<O extends Operation>(operation: O, input: Input<O>): Promise<Output<O>> {
    if (end !== undefined) return Promise.reject(connectionClosed(end.message))
    return new Promise<Output<O>>((resolve, reject) => {
      calls += 1
      // The thread answers each operation with its own kind of output (protocol.ts).
      waiting.set(calls, { resolve: (output) => resolve(output as Output<O>), reject })
      if (waiting.size === 1) watch()
      worker.postMessage({ id: calls, operation, input })
    })
  }

  /** The limit counts from the last answer, so that a queue of quick calls is not taken for a stuck thread. */
  function watch(): void {
    clearTimeout(watchdog)
    if (waiting.size === 0) return
    watchdog = setTimeout(() => {
      const originalMessage = `the embedded database did not answer within ${callLimitMs / 1000} seconds and was stopped`
      endWith(new DriverAdapterError({ kind: 'SocketTimeout', originalMessage }))
    }, callLimitMs)
  }

  async function close(): Promise<void> {
    if (end === undefined) {
      // Whatever becomes of the close, the thread's exit decides; an error of it was the thread's end already.
      const closing = call('close', {}).catch(() => undefined)
      end = connectionClosed('the database was closed')
      await closing
      await worker.terminate()
    }
    await exited
  }

  async function terminate(): Promise<void> {
    endWith(connectionClosed('the database was stopped'))
    await exited
  }

  function endWith(reason: Error): void {
    end ??= reason
    void worker.terminate()
  }
}

function connectionClosed(why: string): DriverAdapterError {
  return new DriverAdapterError({ kind: 'ConnectionClosed', originalMessage: why })
}

function fromSent(sent: SentError): Error {
  if (sent.cause !== undefined) return new DriverAdapterError(sent.cause)
  const error = new Error(sent.message)
  error.name = sent.name
  return error
}
