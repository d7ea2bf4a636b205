import { createHash } from 'node:crypto'
import type { TransactionClient } from '../db/transaction.ts'

/** How often a key was counted in its window, and milliseconds until that ends. */
export type Counted = { current: number; ttl: number }

/** Counts keys in windows that begin with a key's first count: one answer for each key, in order. */
export type Counter = {
  count(keys: readonly string[], windowMs: number): Promise<Counted[]>
  /** Forgets windows that have ended. */
  sweep(): Promise<void>
}

/** What is counted and for whom, as it is kept: hashed, so that no address lies in a table. */
export function rateKey(limit: string, who: string): string {
  return createHash('sha256')
    .update(JSON.stringify([limit, who]))
    .digest('base64url')
}

/** For one process: in memory. The process's own steady clock counts, so that a clock that is set does not matter. */
export function localCounter(now: () => number = () => performance.now()): Counter {
  const windows = new Map<string, { count: number; endsAt: number }>()
  return {
    async count(keys, windowMs) {
      const at = now()
      return keys.map((key) => {
        const before = windows.get(key)
        const window = before === undefined || before.endsAt <= at ? { count: 0, endsAt: at + windowMs } : before
        window.count += 1
        windows.set(key, window)
        return { current: window.count, ttl: window.endsAt - at }
      })
    },
    async sweep() {
      for (const [key, { endsAt }] of windows) if (endsAt <= now()) windows.delete(key)
    },
  }
}

/** For several processes on one server: in a table of the database, one round trip for all keys. The server's clock counts. */
export function storedCounter(prisma: Pick<TransactionClient, '$queryRaw' | '$executeRaw'>): Counter {
  return {
    async count(keys, windowMs) {
      // In the order of the keys, so that two who count the same ones do not wait for each other in a circle.
      const rows = await prisma.$queryRaw<{ key: string; count: number; ttl: number }[]>`
        INSERT INTO "RateWindow" AS had ("key", "count", "endsAt")
          SELECT asked, 1, now() + ${windowMs}::float8 * interval '1 millisecond'
          FROM unnest(${[...keys]}::text[]) AS asked ORDER BY asked
        ON CONFLICT ("key") DO UPDATE SET
          "count" = CASE WHEN had."endsAt" <= now() THEN 1 ELSE had."count" + 1 END,
          "endsAt" = CASE WHEN had."endsAt" <= now() THEN excluded."endsAt" ELSE had."endsAt" END
        RETURNING "key", "count", (extract(epoch FROM "endsAt" - now()) * 1000)::float8 AS "ttl"`
      const byKey = new Map(rows.map(({ key, count, ttl }) => [key, { current: count, ttl }]))
      return keys.map((key) => {
        const counted = byKey.get(key)
        if (counted === undefined) throw new Error('a key was sent to be counted and was not')
        return counted
      })
    },
    async sweep() {
      await prisma.$executeRaw`DELETE FROM "RateWindow" WHERE "endsAt" < now()`
    },
  }
}
