import { setTimeout as sleep } from 'node:timers/promises'
import { databaseFailure } from './errors.ts'
import type { Prisma, PrismaClient } from './generated/client.ts'

/** What a transaction's work is given: the client without the means to open another transaction or to disconnect. */
export type TransactionClient = Prisma.TransactionClient
/** What a JSON column takes. */
export type JsonValue = Prisma.InputJsonValue

/**
 * How long a transaction may stay open, in milliseconds; then it is undone and its next call fails with P2028. Short on
 * purpose: the embedded database has one session, in which everybody waits for an open transaction. Nothing slow belongs
 * inside, least of all a solver.
 */
export const TRANSACTION_LIMIT_MS = 5_000

/** How long to wait for a transaction to begin, in milliseconds: as long as one before it may take, and a little. */
export const TRANSACTION_WAIT_MS = TRANSACTION_LIMIT_MS + 2_000

/** The same for what is written in bulk, a table of thousands of lines: seldom, and worth that the others wait. */
export const BULK_LIMIT_MS = 20_000

export type TransactionOptions = {
  /** How long it may stay open, in milliseconds; `TRANSACTION_LIMIT_MS` when not given. */
  limitMs?: number
  /** How often the work is done at most; 5 when not given. */
  attempts?: number
  isolationLevel?: Prisma.TransactionIsolationLevel
}

/**
 * Does the work in one transaction: all of it or nothing. When another transaction was in the way (serialization failure
 * or deadlock) it is undone and done again after a short wait, so the work must have no effect outside the database.
 *
 * @returns what the work returned
 * @throws whatever the work throws; the last conflict when all attempts met one
 */
export async function inTransaction<T>(
  prisma: PrismaClient,
  work: (transaction: TransactionClient) => Promise<T>,
  options: TransactionOptions = {},
): Promise<T> {
  const { attempts = 5, isolationLevel, limitMs } = options
  const given = {
    ...(isolationLevel === undefined ? {} : { isolationLevel }),
    ...(limitMs === undefined ? {} : { timeout: limitMs }),
  }
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await prisma.$transaction(work, given)
    } catch (error) {
      if (attempt >= attempts || databaseFailure(error)?.meaning !== 'conflict') throw error
      await sleep(retryDelayMs(attempt))
    }
  }
}

/** Doubles from 10 ms and is spread, so that those who collided do not meet again. */
function retryDelayMs(attempt: number): number {
  return 10 * 2 ** (attempt - 1) * (0.5 + Math.random())
}
