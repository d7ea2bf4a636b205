import { isDriverAdapterError } from '@prisma/driver-adapter-utils'
import { Prisma } from './generated/client.ts'

/**
 * What a failure of the database means to the rest of the service; null for everything else, which is a fault of ours
 * and is passed on as it is.
 *
 * - `already-exists`: a unique constraint refused the write; `constraint` is its name, such as `Household_coopId_name_key`
 * - `refers-to-nothing`: a foreign key refused the write; `constraint` is its name where the database said it
 * - `broke-a-rule`: a check refused the write, such as a stock below zero; `constraint` is its name
 * - `not-found`: the record to change or to read with "or throw" is not there
 * - `conflict`: another transaction was in the way and trying again can help
 * - `took-too-long`: a transaction was still open after its time, and was undone
 * - `no-room`: the disk that the database is on is full; nothing was written, and reading goes on
 * - `unreachable`: no answer from the database; whether the write happened is not known
 */
export type DatabaseFailure =
  | { meaning: 'already-exists'; constraint: string | null }
  | { meaning: 'refers-to-nothing'; constraint: string | null }
  | { meaning: 'broke-a-rule'; constraint: string | null }
  | { meaning: 'not-found' }
  | { meaning: 'conflict' }
  | { meaning: 'took-too-long' }
  | { meaning: 'no-room' }
  | { meaning: 'unreachable' }

/** Reads what went wrong from anything that a call of Prisma threw. Same answers for both kinds of database. */
export function databaseFailure(error: unknown): DatabaseFailure | null {
  const code = prismaCode(error)
  const cause = driverCause(error)
  const state = cause?.originalCode
  if (code === 'P2025') return { meaning: 'not-found' }
  if (code === 'P2028') return { meaning: 'took-too-long' }
  if (code === 'P2034' || (state !== undefined && CONFLICT_STATES.has(state))) return { meaning: 'conflict' }
  if (code === 'P2002' || state === '23505') return { meaning: 'already-exists', constraint: constraintName(cause) }
  if (code === 'P2003' || state === '23503') return { meaning: 'refers-to-nothing', constraint: constraintName(cause) }
  if (state === '23514') return { meaning: 'broke-a-rule', constraint: constraintName(cause) }
  if (state === DISK_FULL) return { meaning: 'no-room' }
  const unreachable =
    error instanceof Prisma.PrismaClientInitializationError ||
    (code !== null && UNREACHABLE_CODES.has(code)) ||
    (cause?.kind !== undefined && UNREACHABLE_KINDS.has(cause.kind)) ||
    (state !== undefined && UNREACHABLE_STATES.has(state))
  return unreachable ? { meaning: 'unreachable' } : null
}

/** The write broke a unique constraint, or that one when a name is given. */
export function isUniqueViolation(error: unknown, constraint?: string): boolean {
  const failure = databaseFailure(error)
  return failure?.meaning === 'already-exists' && (constraint === undefined || failure.constraint === constraint)
}

/** The record to change, or to read with "or throw", is not there. */
export function isMissingRecord(error: unknown): boolean {
  return databaseFailure(error)?.meaning === 'not-found'
}

/** The database does not answer: for the person a "try again in a moment", for the operator an alarm. */
export function isUnreachable(error: unknown): boolean {
  return databaseFailure(error)?.meaning === 'unreachable'
}

/** PostgreSQL's serialization_failure and deadlock_detected (manual, appendix A). */
const CONFLICT_STATES = new Set(['40001', '40P01'])
/** PostgreSQL's disk_full. */
const DISK_FULL = '53100'
/** Prisma: cannot reach, reach timed out, operation timed out, connection closed, no connection from the pool in time. */
const UNREACHABLE_CODES = new Set(['P1001', 'P1002', 'P1008', 'P1017', 'P2024', 'P2037'])
const UNREACHABLE_KINDS = new Set(['DatabaseNotReachable', 'ConnectionClosed', 'SocketTimeout', 'TooManyConnections'])
/** PostgreSQL: admin_shutdown, crash_shutdown, cannot_connect_now, query_canceled (by the time limit). */
const UNREACHABLE_STATES = new Set(['57P01', '57P02', '57P03', '57014'])

type DriverCause = { kind?: string; originalCode?: string; originalMessage?: string; constraint?: unknown }

function prismaCode(error: unknown): string | null {
  return error instanceof Prisma.PrismaClientKnownRequestError ? error.code : null
}

function driverCause(error: unknown): DriverCause | null {
  const inner = error instanceof Prisma.PrismaClientKnownRequestError ? error.meta?.['driverAdapterError'] : error
  return inner instanceof Error && isDriverAdapterError(inner) ? inner.cause : null
}

/** The two adapters tell the constraint differently; both carry PostgreSQL's own words, which name it. */
function constraintName(cause: DriverCause | null): string | null {
  const { constraint } = cause ?? {}
  if (typeof constraint === 'object' && constraint !== null && 'index' in constraint) return String(constraint.index)
  return /constraint "([^"]+)"/.exec(cause?.originalMessage ?? '')?.[1] ?? null
}
