import { DriverAdapterError } from '@prisma/driver-adapter-utils'

/**
 * What pg 8.23 and its pool throw when the server is out of reach, as an error that Prisma and databaseFailure know.
 * @prisma/adapter-pg 7.10.0 translates only four of these, and passes the others on as nameless faults.
 *
 * @returns the error to throw in its stead; the same one when it is something else
 */
export function toConnectionError(error: unknown): unknown {
  if (!(error instanceof Error)) return error
  const originalMessage = error.message
  if ('code' in error && typeof error.code === 'string' && UNREACHABLE.has(error.code)) {
    return new DriverAdapterError({ kind: 'DatabaseNotReachable', originalMessage })
  }
  if (TIMED_OUT.has(originalMessage)) return new DriverAdapterError({ kind: 'SocketTimeout', originalMessage })
  if (CLOSED.has(originalMessage)) return new DriverAdapterError({ kind: 'ConnectionClosed', originalMessage })
  return error
}

/** System errors of sockets and of looking up names (errno(3), getaddrinfo(3)). */
const UNREACHABLE = new Set(['EHOSTUNREACH', 'ENETUNREACH', 'EHOSTDOWN', 'ENETDOWN', 'EPIPE', 'EAI_AGAIN'])

const TIMED_OUT = new Set([
  'Query read timeout',
  'timeout expired',
  'timeout exceeded when trying to connect',
  'Connection terminated due to connection timeout',
])

const CLOSED = new Set([
  'Connection terminated',
  'Connection terminated unexpectedly',
  'Client has encountered a connection error and is not queryable',
  'Client was closed and is not queryable',
  'Cannot use a pool after calling end on the pool',
])
