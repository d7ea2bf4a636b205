import { createHash } from 'node:crypto'
import type { Database } from '../db/client.ts'
import { inTransaction, type TransactionClient } from '../db/transaction.ts'

/** Failed tries at one door that cost nothing: people mistype. Our choice. */
export const freeTries = 5
/** The wait after the first try beyond those, doubled with each further one, and the longest there is. Our choice. */
export const firstWaitSeconds = 30
export const longestWaitSeconds = 15 * 60
/** Tries are forgotten when none failed for so long. */
const forgottenAfterSeconds = 24 * 60 * 60

/** A door and who stands at it ("pair", an address), as it is kept: hashed. */
export function doorKey(door: string, who: string): string {
  return createHash('sha256')
    .update(JSON.stringify([door, who]))
    .digest('hex')
}

/** How a door slows: tries that cost nothing, then a first wait that doubles up to a longest one, in seconds. */
export type Pace = { freeTries: number; firstWaitSeconds: number; longestWaitSeconds: number }
const usualPace: Pace = { freeTries, firstWaitSeconds, longestWaitSeconds }

/** Seconds to wait after so many failed tries in a row. */
export function waitAfter(failed: number, pace: Pace = usualPace): number {
  const more = failed - pace.freeTries
  return more < 0 ? 0 : Math.min(pace.longestWaitSeconds, pace.firstWaitSeconds * 2 ** Math.min(more, 20))
}

/**
 * Counts a try before it is made, so that many at the same moment count as many. Whoever gets through calls `forgetTries`.
 *
 * @returns 0: go on; else the whole seconds to wait, and then the try is not counted
 */
export async function countTry(prisma: Database['prisma'], key: string, now: Date, pace = usualPace): Promise<number> {
  return inTransaction(prisma, async (transaction) => {
    await transaction.attempt.deleteMany({
      where: { lastAt: { lt: new Date(now.getTime() - forgottenAfterSeconds * 1000) } },
    })
    // adding nothing takes the row's lock: two tries at the same moment are counted one after the other
    const { count, lastAt } = await transaction.attempt.upsert({
      where: { key },
      create: { key, count: 0, lastAt: now },
      update: { count: { increment: 0 } },
    })
    const left = Math.ceil(waitAfter(count, pace) - (now.getTime() - lastAt.getTime()) / 1000)
    if (left > 0) return left
    await transaction.attempt.update({ where: { key }, data: { count: count + 1, lastAt: now } })
    return 0
  })
}

/** After a try that was right, in its transaction. */
export async function forgetTries(prisma: TransactionClient, key: string): Promise<void> {
  await prisma.attempt.deleteMany({ where: { key } })
}

/** Takes one counted try back: it turned out to be none, or was right where others share the key. */
export async function takeTryBack(prisma: TransactionClient, key: string): Promise<void> {
  await prisma.attempt.updateMany({ where: { key, count: { gt: 0 } }, data: { count: { decrement: 1 } } })
}

/** "2 minutes", "1 minute", "40 seconds": for a refusal. */
export function waitInWords(seconds: number): string {
  if (seconds < 60) return seconds === 1 ? '1 second' : `${seconds} seconds`
  const minutes = Math.ceil(seconds / 60)
  return minutes === 1 ? '1 minute' : `${minutes} minutes`
}
