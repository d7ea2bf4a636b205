import type { MigratableDatabase } from '../db/migrate.ts'
import { writeBesideOthers } from '../db/session.ts'

/**
 * Has one process do what is done once a day, of all that are at it; answers null where another does it or did it.
 *
 * @param day ISO date
 */
export type OncePerDay = <T>(day: string, work: () => Promise<T>) => Promise<T | null>

/** Any number that no other advisory lock has. */
const BACKING_UP = 640_002

/**
 * The daily backup's turn. On a server whoever has an advisory lock has it, for as long as the work takes; the lock is a
 * transaction's, so that it works through poolers and goes with a process that is killed, whose turn another then takes.
 * That it was done is noted in `JobHold` for that day, in the same transaction: a failure leaves the day to others, and
 * processes that put their backups in different folders make one between them all the same. The embedded database belongs
 * to one process.
 */
export function dailyBackupTurn(database: MigratableDatabase): OncePerDay {
  if (database.kind === 'embedded') return (_day, work) => work()
  return (day, work) =>
    writeBesideOthers(database, async (session) => {
      // it waits in its transaction while the backup is made over another connection
      await session.run('SET LOCAL idle_in_transaction_session_timeout = 0')
      const [mine] = await session.texts(`SELECT pg_try_advisory_xact_lock(${BACKING_UP})::text`)
      if (mine !== 'true') return null
      const values = ['', 'daily-backup', day]
      const done = await session.texts(
        `SELECT 1 FROM "JobHold" WHERE "coopId" = $1 AND "kind" = $2 AND "id" = $3`,
        values,
      )
      if (done.length > 0) return null
      const result = await work()
      // swept with other holds a day after it ran out
      await session.run(
        `INSERT INTO "JobHold" ("coopId", "kind", "id", "holder", "until", "tries")
        VALUES ($1, $2, $3, '', now() + interval '1 day', 1)`,
        values,
      )
      return result
    })
}
